#pragma once

#include <span>
#include <string>
#include <vector>

#include "runnel/schedule/timer.hpp"
#include "runnel/units/finding.hpp"

namespace runnel {

/// What a person types for one valve: days, start times and one run length for all of them.
struct Programme {
  int valve;
  DayPattern days;
  std::vector<WallTime> starts;  ///< in order of time; empty = this valve stays shut
  std::chrono::minutes run{0};
};

/// Everything in the programmes that the timer or the watering hours do not allow: too many starts,
/// a length out of range or off the step, a run outside its window, more valves open than allowed
/// or too short a pause between two (looked at minute by minute over the days after which all
/// patterns repeat, at least 14, at most four years). Soaks between cycles are not known here.
/// Shares no code with pack.
[[nodiscard]] std::vector<Finding> violations(std::span<const Programme> programmes,
                                              const WateringHours& hours, const Timer& timer,
                                              Date from);

}  // namespace runnel

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
/// on a day (looked at over 14 days from `from`, minute by minute, and on every weekday for
/// patterns that drift). Shares no code with pack.
[[nodiscard]] std::vector<Finding> violations(std::span<const Programme> programmes,
                                              const WateringHours& hours, const Timer& timer,
                                              Date from);

}  // namespace runnel

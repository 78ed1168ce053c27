#pragma once

#include <span>
#include <string>
#include <vector>

#include "runnel/schedule/constraints.hpp"
#include "runnel/units/finding.hpp"

namespace runnel {

/// How long one valve runs in a programme.
struct Run {
  int valve;
  /// As typed, minutes: one for all starts, or where the timer takes one each [starts].
  std::vector<int> typed_min;
  friend bool operator==(const Run&, const Run&) = default;
};

/// What a person types: days, start times and the length of each valve's run. A valve of its own
/// has one; valves that share a programme run one after the other from each start, in the order in
/// which they stand here.
struct Programme {
  DayPattern days;
  std::vector<WallTime> starts;  ///< in order of time; empty = these valves stay shut
  std::vector<Run> runs;
};

/// When one valve is open, on each day that the pattern has.
struct ValveTimes {
  /// One opening of the valve on such a day.
  struct Opening {
    WallTime start;
    std::chrono::minutes length;
    friend bool operator==(const Opening&, const Opening&) = default;
  };
  int valve;
  DayPattern days;
  std::vector<Opening> openings;  ///< in order of time; empty = shut
  /// How long it is open on each of its days.
  [[nodiscard]] std::chrono::minutes a_day() const;
};
/// The valve's among them; nullptr without.
[[nodiscard]] const ValveTimes* find_times(std::span<const ValveTimes> times, int valve);
/// What the programmes make a valve do; shut when it is in none. A timer's interval is spelt out.
[[nodiscard]] ValveTimes times_of(int valve, std::span<const Programme> programmes,
                                  const Timer& timer);

/// Everything in the programmes that the timer, the watering hours or the rules do not allow:
/// days it cannot be told; too many starts, or such as stand at none of its intervals; a start
/// before the runs ahead of it are over; a length out of range, off the step or none of its
/// choices; one length or several where it takes the other; too many programmes, or a valve out of
/// order in one; a run outside its valve's hours; a day of the week from `from` on which a valve
/// must stay shut (later weeks are not looked at for that); too many minutes or litres a day or in
/// seven days running; more valves open than allowed or than the supply feeds, or too short a pause
/// between two (minute by minute over the days after which all patterns repeat, at least 14, at
/// most four years). A run past midnight counts to the day in whose hours it starts. Soaks between
/// cycles are not known here. Shares no code with the search.
[[nodiscard]] std::vector<Finding> violations(std::span<const Programme> programmes,
                                              const Constraints& constraints, Date from);

}  // namespace runnel

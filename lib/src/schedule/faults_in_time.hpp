#pragma once

#include <span>

#include "faults.hpp"
#include "runnel/schedule/programme.hpp"

namespace runnel {

/// What the check finds on days and in minutes: days on which a valve must stay shut, minutes and
/// litres a day and in seven days running, valves open together, their flows, pauses between them.
/// A run past midnight counts to the day in whose watering hours it starts.
void check_in_time(std::span<const ValveTimes> valves, const Constraints& constraints, Date from,
                   Faults& faults);

/// Whether the pattern ever has two days running.
[[nodiscard]] bool has_neighbouring_days(const DayPattern& pattern, Date from);

}  // namespace runnel

#pragma once

#include <optional>

#include "runnel/schedule/constraints.hpp"
#include "runnel/schedule/programme.hpp"

namespace runnel {

/// The most days that a pattern waters in any seven running, however far ahead.
[[nodiscard]] int most_days_in_seven(const DayPattern& days);

/// The minutes that a valve may run on each day of a pattern, whole; nothing: no limit.
[[nodiscard]] std::optional<int> most_minutes_a_day(const ValveRules& rules,
                                                    const DayPattern& days);
[[nodiscard]] bool keeps_minutes(const ValveRules& rules, const ValveTimes& times);

}  // namespace runnel

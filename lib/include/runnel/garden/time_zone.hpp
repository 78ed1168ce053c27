#pragma once

#include <chrono>
#include <optional>
#include <string_view>

#include "runnel/units/calendar.hpp"

namespace runnel {

/// Time zones of the system's tz database, by IANA name.
[[nodiscard]] bool is_time_zone(std::string_view name);
/// The zone's standard offset in that year: the smaller of its January and July offsets (the database calls Dublin's winter
/// "save", so its own notion of standard time is not used). East positive.
[[nodiscard]] std::chrono::minutes standard_utc_offset(std::string_view name, int year);
/// The offset in force at noon of that day.
[[nodiscard]] std::chrono::minutes utc_offset_at_noon(std::string_view name, Date date);
/// The first day from `from` on, of `days` days, on which the zone's clocks change.
[[nodiscard]] std::optional<Date> clock_change(std::string_view name, Date from, int days);

}  // namespace runnel

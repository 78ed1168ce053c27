#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/calendar.hpp"

namespace runnel {

// Time zones of the system's tz database, by IANA name ("Europe/Lisbon"). The functions other than
// is_time_zone and nearest_time_zone throw std::invalid_argument when there is no such zone.
// Years after 2037 have no summer time: the database's files end there.

/// Whether the system's database has a zone or link of that name.
[[nodiscard]] bool is_time_zone(std::string_view name);
/// The name that was probably meant: "Lisbon" or "Europe/Lisbona" for "Europe/Lisbon".
[[nodiscard]] std::optional<std::string> nearest_time_zone(std::string_view name);

/// The zone's standard offset in that year: the smaller of its January and July offsets (the
/// database calls Dublin's winter "save", so its own notion of standard time is not used). East
/// positive.
[[nodiscard]] std::chrono::minutes standard_utc_offset(std::string_view name, int year);
/// The offset in force at noon of that day.
[[nodiscard]] std::chrono::minutes utc_offset_at_noon(std::string_view name, Date date);
/// The first day from `from` on, of `days` days, on which the zone's clocks change.
[[nodiscard]] std::optional<Date> clock_change(std::string_view name, Date from, int days);

/// A stretch of the clock [from, to) that a change leaves out or brings twice.
struct ClockChange {
  Date date{};  ///< on which the stretch begins
  WallTime from{}, to{};
  bool left_out = false;  ///< else it comes twice
};
/// The change between noon of the day before and noon of that day, as `clock_change` finds it.
[[nodiscard]] std::optional<ClockChange> clock_change_on(std::string_view name, Date date);

/// What a zone's clocks keep to until the next change.
struct UtcOffset {
  std::chrono::local_seconds begins;    ///< by the clock as it stood before; 1970 at the earliest
  std::chrono::seconds before, offset;  ///< east positive
  bool summer;                          ///< ahead of that year's standard offset
  std::string abbreviation;             ///< "WEST", "+03"
};
/// Those in force from the first day to the last, in order of time.
[[nodiscard]] std::vector<UtcOffset> utc_offsets(std::string_view name, Date from, Date until);

}  // namespace runnel

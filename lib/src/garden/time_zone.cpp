#include "runnel/garden/time_zone.hpp"

#include <date/tz.h>

#include <algorithm>
#include <chrono>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/calendar.hpp"
#include "runnel/units/nearest.hpp"
#include "runnel/units/number.hpp"

namespace runnel {
namespace {

/// @return nullptr when there is none, or no database at all.
const date::time_zone* find_zone(std::string_view name) {
  try {
    return date::locate_zone(std::string(name));
  } catch (const std::runtime_error&) {
    return nullptr;
  }
}

const date::time_zone& zone_named(std::string_view name) {
  const date::time_zone* const zone = find_zone(name);
  if (zone == nullptr) throw std::invalid_argument("no time zone " + std::string(name));
  return *zone;
}

std::chrono::minutes offset_at_noon(const date::time_zone& zone, Date day) {
  // Where noon was skipped or came twice, the reading before the change.
  const date::local_seconds noon{day.time_since_epoch() + std::chrono::hours(12)};
  return std::chrono::floor<std::chrono::minutes>(zone.get_info(noon).first.offset);
}

std::string_view last_part(std::string_view name) {
  const std::size_t slash = name.rfind('/');
  return slash == std::string_view::npos ? name : name.substr(slash + 1);
}

/// As people write a city: "New York" for "New_York".
std::string with_underscores(std::string_view name) {
  std::string result = lower(name);
  std::replace(result.begin(), result.end(), ' ', '_');
  return result;
}

}  // namespace

bool is_time_zone(std::string_view name) { return find_zone(name) != nullptr; }

std::optional<std::string> nearest_time_zone(std::string_view name) {
  std::vector<std::string_view> names;
  try {
    for (const date::time_zone& zone : date::get_tzdb().zones) names.emplace_back(zone.name());
  } catch (const std::runtime_error&) {
    return std::nullopt;
  }
  const std::string wanted = with_underscores(name);
  for (const std::string_view known : names) {
    if (lower(known) == wanted || lower(last_part(known)) == wanted) return std::string(known);
  }
  const auto guess = nearest(wanted, names);
  if (!guess) return std::nullopt;
  return std::string(*guess);
}

std::chrono::minutes standard_utc_offset(std::string_view name, int year) {
  const date::time_zone& zone = zone_named(name);
  const std::chrono::year y(year);
  return std::min(offset_at_noon(zone, Date(y / std::chrono::January / 1)),
                  offset_at_noon(zone, Date(y / std::chrono::July / 1)));
}

std::chrono::minutes utc_offset_at_noon(std::string_view name, Date date) {
  return offset_at_noon(zone_named(name), date);
}

std::optional<Date> clock_change(std::string_view name, Date from, int days) {
  const date::time_zone& zone = zone_named(name);
  std::chrono::minutes before = offset_at_noon(zone, from - std::chrono::days(1));
  for (int i = 0; i < days; ++i) {
    const Date day = from + std::chrono::days(i);
    const std::chrono::minutes offset = offset_at_noon(zone, day);
    if (offset != before) return day;
    before = offset;
  }
  return std::nullopt;
}

std::optional<ClockChange> clock_change_on(std::string_view name, Date date) {
  const date::time_zone& zone = zone_named(name);
  const date::local_seconds noon{date.time_since_epoch() + std::chrono::hours(12)};
  date::sys_info before = zone.get_info(noon - std::chrono::hours(24)).first;
  const date::sys_info at_noon = zone.get_info(noon).first;
  if (before.offset == at_noon.offset) return std::nullopt;
  date::sys_info after = zone.get_info(before.end);
  while (after.offset == before.offset) {  // a change of the zone's letters alone
    before = after;
    after = zone.get_info(before.end);
  }
  const auto by_clock = [&before](std::chrono::seconds offset) {
    return std::chrono::floor<WallTime>(before.end.time_since_epoch() + offset);
  };
  const WallTime from = by_clock(std::min(before.offset, after.offset));
  const WallTime to = by_clock(std::max(before.offset, after.offset));
  const auto day = std::chrono::floor<std::chrono::days>(from);
  return ClockChange{.date = Date(day),
                     .from = from - day,
                     .to = to - day,
                     .left_out = after.offset > before.offset};
}

std::vector<UtcOffset> utc_offsets(std::string_view name, Date from, Date until) {
  const date::time_zone& zone = zone_named(name);
  // A day more at each end: a zone's midnight is up to a day off UTC's.
  const date::sys_seconds first{(from - std::chrono::days(1)).time_since_epoch()};
  const date::sys_seconds last{(until + std::chrono::days(2)).time_since_epoch()};
  std::vector<UtcOffset> offsets;
  for (date::sys_info info = zone.get_info(first);; info = zone.get_info(info.end)) {
    UtcOffset& offset = offsets.emplace_back();
    offset.offset = offset.before = info.offset;
    if (info.begin.time_since_epoch() > std::chrono::seconds(0)) {
      offset.before = zone.get_info(info.begin - std::chrono::seconds(1)).offset;
      offset.begins = std::chrono::local_seconds(info.begin.time_since_epoch() + offset.before);
    }
    const int year = year_of(std::chrono::floor<std::chrono::days>(offset.begins));
    offset.summer = info.offset > standard_utc_offset(name, year);
    offset.abbreviation = info.abbrev;
    if (info.end >= last) return offsets;
  }
}

}  // namespace runnel

#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace runnel {

/// A day of the site's own calendar, no time zone attached.
using Date = std::chrono::local_days;
/// Minutes since local midnight of the day on which the watering hours start; passes 24 h when they
/// cross midnight.
using WallTime = std::chrono::minutes;

/// "2027-06-15" only: four, two and two digits, a day that exists. @return nothing otherwise.
[[nodiscard]] std::optional<Date> parse_date(std::string_view text);
/// "2027-06-15".
[[nodiscard]] std::string iso_date(Date date);
/// "Mon 15 Jun".
[[nodiscard]] std::string short_date(Date date);

/// 1 to 366.
[[nodiscard]] int day_of_year(Date date);
/// The year as written, of the Gregorian calendar.
[[nodiscard]] int year_of(Date date);
/// 1 to 12.
[[nodiscard]] unsigned month_of(Date date);
/// 1 to 31.
[[nodiscard]] unsigned day_of_month(Date date);

/// 0 = Monday ... 6 = Sunday, as ISO 8601 counts.
[[nodiscard]] int weekday_index(Date date);
/// "Mon" ... "Sun".
[[nodiscard]] std::string_view weekday_name(int index);
/// From "mon", "Monday" and the like. @return 0-6, or nothing.
[[nodiscard]] std::optional<int> parse_weekday(std::string_view text);

/// "04:30", "24:00" allowed as an end. @return minutes since midnight, or nothing.
[[nodiscard]] std::optional<WallTime> parse_clock(std::string_view text);
/// "04:30"; a time past midnight is shown as the clock shows it ("00:30" for 24 h 30).
[[nodiscard]] std::string clock(WallTime time);

}  // namespace runnel

#include "runnel/units/calendar.hpp"

#include <array>
#include <chrono>
#include <cstddef>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

#include "runnel/units/number.hpp"

namespace runnel {
namespace {

constexpr std::array<std::string_view, 7> weekday_names = {"Mon", "Tue", "Wed", "Thu",
                                                           "Fri", "Sat", "Sun"};
constexpr std::array<std::string_view, 7> long_weekday_names = {
    "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"};
constexpr std::array<std::string_view, 12> month_names = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                          "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

std::chrono::year_month_day civil(Date date) { return std::chrono::year_month_day(date); }

/// Exactly these digits, no sign and no blank. @return -1 otherwise.
int digits(std::string_view text) {
  int value = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return -1;
    value = 10 * value + (c - '0');
  }
  return text.empty() ? -1 : value;
}

std::string padded(int value, std::size_t width) {
  std::string text = std::to_string(value);
  if (text.size() < width) text.insert(0, width - text.size(), '0');
  return text;
}

}  // namespace

std::optional<Date> parse_date(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const int year = digits(text.substr(0, 4));
  const int month = digits(text.substr(5, 2));
  const int day = digits(text.substr(8, 2));
  if (year < 0 || month < 0 || day < 0) return std::nullopt;
  const std::chrono::year_month_day ymd{std::chrono::year(year),
                                        std::chrono::month(static_cast<unsigned>(month)),
                                        std::chrono::day(static_cast<unsigned>(day))};
  if (!ymd.ok()) return std::nullopt;
  return Date(ymd);
}

std::string iso_date(Date date) {
  const auto ymd = civil(date);
  return padded(static_cast<int>(ymd.year()), 4) + "-" +
         padded(static_cast<int>(static_cast<unsigned>(ymd.month())), 2) + "-" +
         padded(static_cast<int>(static_cast<unsigned>(ymd.day())), 2);
}

std::string short_date(Date date) {
  std::string text(weekday_name(weekday_index(date)));
  text += ' ';
  text += std::to_string(day_of_month(date));
  text += ' ';
  text += month_names[month_of(date) - 1];
  return text;
}

int day_of_year(Date date) {
  const Date first(civil(date).year() / std::chrono::January / 1);
  return static_cast<int>((date - first).count()) + 1;
}

int year_of(Date date) { return static_cast<int>(civil(date).year()); }

unsigned month_of(Date date) { return static_cast<unsigned>(civil(date).month()); }

unsigned day_of_month(Date date) { return static_cast<unsigned>(civil(date).day()); }

int weekday_index(Date date) {
  return static_cast<int>(std::chrono::weekday(date).iso_encoding()) - 1;
}

std::string_view weekday_name(int index) {
  if (index < 0 || index > 6) throw std::invalid_argument("weekday_name: index must be 0-6");
  return weekday_names[static_cast<std::size_t>(index)];
}

std::optional<int> parse_weekday(std::string_view text) {
  if (text.size() > long_weekday_names[2].size()) return std::nullopt;
  const std::string word = lower(text);
  if (word.size() < 3) return std::nullopt;
  for (std::size_t i = 0; i < long_weekday_names.size(); ++i) {
    // "tues" and "thurs" are usual too: any beginning of the name of three letters or more.
    if (long_weekday_names[i].starts_with(word)) return static_cast<int>(i);
  }
  return std::nullopt;
}

std::optional<WallTime> parse_clock(std::string_view text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string_view::npos || colon < 1 || colon > 2) return std::nullopt;
  if (text.size() != colon + 3) return std::nullopt;
  const int hour = digits(text.substr(0, colon));
  const int minute = digits(text.substr(colon + 1));
  if (hour < 0 || minute < 0 || minute > 59) return std::nullopt;
  const int total = 60 * hour + minute;
  if (total > 24 * 60) return std::nullopt;
  return WallTime(total);
}

std::string clock(WallTime time) {
  constexpr WallTime day = std::chrono::hours(24);
  const WallTime::rep minutes = ((time % day + day) % day).count();
  return padded(static_cast<int>(minutes / 60), 2) + ":" +
         padded(static_cast<int>(minutes % 60), 2);
}

}  // namespace runnel

#pragma once

#include <bitset>
#include <chrono>
#include <string>
#include <variant>
#include <vector>

#include "runnel/units/calendar.hpp"

namespace runnel {

/// What the timer can be told. Defaults: a small household timer (common practice, no source).
struct Timer {
  int valves = 6;
  int starts_per_valve = 4;
  int minutes_step = 1;
  int minutes_least = 1;
  int minutes_most = 240;
  bool weekdays = true;   ///< chosen days of the week
  int every_n_days = 0;   ///< longest interval of "every n days"; 0 = not offered
  bool odd_even = false;  ///< odd or even dates
  int together = 1;       ///< valves that may be open at once
  int pause_minutes = 0;  ///< between one valve and the next
  /// The only lengths a run can be set to, rising; empty: least to most, in steps.
  std::vector<int> minutes_choices = {};
  int percentage = 100;           ///< the timer makes every length typed longer or shorter by it
  bool length_per_start = false;  ///< each start time has a length of its own
  /// One start time a day and an interval of so many hours, each a divisor of 24; empty: all start
  /// times are free.
  std::vector<int> repeat_hours = {};
  /// So many sets of days and start times, shared by all valves, which run one after the other in
  /// the order of their numbers, each for a length of its own; 0: every valve has days and starts
  /// of its own.
  int programmes = 0;
};

/// A length as typed, and what it makes the valve run.
struct RunLength {
  int typed_min;
  std::chrono::minutes runs;  ///< typed x percentage, to the nearest whole minute
};
/// All lengths the timer takes, rising, each once; those that come to nothing left out. No more
/// than a day.
[[nodiscard]] std::vector<RunLength> run_lengths(const Timer& timer);

/// Chosen days of the week.
struct Weekdays {
  std::bitset<7> on;  ///< 0 = Monday
  friend bool operator==(const Weekdays&, const Weekdays&) = default;
};
/// n = 1 is every day.
struct EveryN {
  int n;
  Date first;
  friend bool operator==(const EveryN&, const EveryN&) = default;
};
/// Odd or even dates of the month.
struct DateParity {
  bool odd;
  friend bool operator==(const DateParity&, const DateParity&) = default;
};
/// How a timer is told the days.
using DayPattern = std::variant<Weekdays, EveryN, DateParity>;

/// Whether that date is one of its days; before an interval's first date too.
[[nodiscard]] bool waters_on(const DayPattern& days, Date date);
/// The same days from `from` on, counted from the first of them where they are counted.
[[nodiscard]] DayPattern as_of(const DayPattern& days, Date from);
/// "every day", "Mon Thu", "every 3 days from Tue 14 Jul", "odd dates".
[[nodiscard]] std::string to_text(const DayPattern& days);
/// Whether two patterns can ever fall on one day, however far ahead: exact. What drifts through the
/// weekdays ("every n days", odd or even dates) meets every one of them.
[[nodiscard]] bool can_meet(const DayPattern& a, const DayPattern& b);

/// All patterns the timer can express that water at least once in a week, in a fixed order; those
/// of intervals start within their first n days from `from`.
[[nodiscard]] std::vector<DayPattern> day_patterns(const Timer& timer, Date from);

/// A stretch of the day in which watering is allowed. [opens, closes)
struct Window {
  WallTime opens, closes;  ///< equal: closed, where a valve may use none of the garden's window
  bool after_et =
      false;  ///< begins after solar noon: a bed's watering is then credited after that day's ET
};
/// In order of time, not overlapping, each cut at solar noon.
using WateringHours = std::vector<Window>;

}  // namespace runnel

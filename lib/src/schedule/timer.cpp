#include "runnel/schedule/timer.hpp"

#include <bit>
#include <cmath>
#include <numeric>

namespace runnel {
namespace {

using std::chrono::days;
using std::chrono::minutes;

// The remainder that is never negative, for dates before a pattern's first day.
int phase_of(Date date, int n) {
  const auto since_epoch = date.time_since_epoch().count();
  return static_cast<int>(((since_epoch % n) + n) % n);
}

bool on_date(const Weekdays& weekdays, Date date) {
  return weekdays.on.test(static_cast<std::size_t>(weekday_index(date)));
}
bool on_date(const EveryN& every, Date date) {
  return every.n > 0 && phase_of(date, every.n) == phase_of(every.first, every.n);
}
bool on_date(const DateParity& parity, Date date) {
  return (day_of_month(date) % 2 == 1) == parity.odd;
}

std::string text_of(const Weekdays& weekdays) {
  if (weekdays.on.all()) return "every day";
  if (weekdays.on.none()) return "never";
  std::string text;
  for (int day = 0; day < 7; ++day) {
    if (!weekdays.on.test(static_cast<std::size_t>(day))) continue;
    if (!text.empty()) text += ' ';
    text += weekday_name(day);
  }
  return text;
}
std::string text_of(const EveryN& every) {
  if (every.n == 1) return "every day";
  return "every " + std::to_string(every.n) + " days from " + short_date(every.first);
}
std::string text_of(const DateParity& parity) { return parity.odd ? "odd dates" : "even dates"; }

bool meet(const Weekdays& a, const Weekdays& b) { return (a.on & b.on).any(); }
// Chinese remainder theorem: two beats meet unless their phases differ by the common factor.
bool meet(const EveryN& a, const EveryN& b) {
  if (a.n < 1 || b.n < 1) return false;
  const int common = std::gcd(a.n, b.n);
  return phase_of(a.first, common) == phase_of(b.first, common);
}
bool meet(const EveryN& every, const Weekdays& weekdays) {
  if (every.n < 1) return false;
  return every.n % 7 == 0 ? on_date(weekdays, every.first) : weekdays.on.any();
}
bool meet(const Weekdays& weekdays, const EveryN& every) { return meet(every, weekdays); }
bool meet(const DateParity& a, const DateParity& b) { return a.odd == b.odd; }
// The months' 31sts shift odd and even dates against every beat.
bool meet(const DateParity&, const EveryN& every) { return every.n >= 1; }
bool meet(const EveryN& every, const DateParity&) { return every.n >= 1; }
bool meet(const DateParity&, const Weekdays& weekdays) { return weekdays.on.any(); }
bool meet(const Weekdays& weekdays, const DateParity&) { return weekdays.on.any(); }

void add_weekday_sets(std::vector<DayPattern>& patterns) {
  for (int number_of_days = 1; number_of_days <= 7; ++number_of_days) {
    for (unsigned mask = 1; mask < 128; ++mask) {
      if (std::popcount(mask) == number_of_days) patterns.emplace_back(Weekdays{mask});
    }
  }
}

void add_intervals(std::vector<DayPattern>& patterns, const Timer& timer, Date from) {
  // Seven chosen weekdays are every day already.
  for (int n = timer.weekdays ? 2 : 1; n <= timer.every_n_days; ++n) {
    // With n > 7 the later phases do not water in the first week.
    for (int phase = 0; phase < n && phase < 7; ++phase) {
      patterns.emplace_back(EveryN{.n = n, .first = from + days(phase)});
    }
  }
}

}  // namespace

std::vector<RunLength> run_lengths(const Timer& timer) {
  std::vector<int> typed_min = timer.minutes_choices;
  if (typed_min.empty()) {
    const int step = std::max(timer.minutes_step, 1);
    const int least = (std::max(timer.minutes_least, 1) + step - 1) / step * step;
    for (int typed = least; typed <= timer.minutes_most; typed += step) typed_min.push_back(typed);
  }
  std::vector<RunLength> lengths;
  for (const int typed : typed_min) {
    const minutes runs{std::lround(typed * timer.percentage / 100.0)};
    const minutes longest_so_far = lengths.empty() ? minutes{0} : lengths.back().runs;
    if (runs > longest_so_far && runs <= days{1})
      lengths.push_back({.typed_min = typed, .runs = runs});
  }
  return lengths;
}

bool waters_on(const DayPattern& pattern, Date date) {
  return std::visit([date](const auto& of_kind) { return on_date(of_kind, date); }, pattern);
}

DayPattern as_of(const DayPattern& pattern, Date from) {
  const auto* every = std::get_if<EveryN>(&pattern);
  if (every == nullptr || every->n < 1) return pattern;
  const int ahead = phase_of(every->first, every->n) - phase_of(from, every->n);
  return EveryN{.n = every->n, .first = from + days{ahead < 0 ? ahead + every->n : ahead}};
}

std::string to_text(const DayPattern& pattern) {
  return std::visit([](const auto& of_kind) { return text_of(of_kind); }, pattern);
}

bool can_meet(const DayPattern& a, const DayPattern& b) {
  return std::visit([](const auto& of_a, const auto& of_b) { return meet(of_a, of_b); }, a, b);
}

std::vector<DayPattern> day_patterns(const Timer& timer, Date from) {
  std::vector<DayPattern> patterns;
  if (timer.weekdays) add_weekday_sets(patterns);
  add_intervals(patterns, timer, from);
  if (timer.odd_even) {
    patterns.emplace_back(DateParity{.odd = true});
    patterns.emplace_back(DateParity{.odd = false});
  }
  return patterns;
}

}  // namespace runnel

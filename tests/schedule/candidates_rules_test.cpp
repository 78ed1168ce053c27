// Candidates against the rules they must keep to, each checked anew from dates and minutes, and the
// cheapest against all patterns, spreads and lengths tried one by one.
#include <doctest/doctest.h>

#include <cmath>
#include <numeric>
#include <random>
#include <set>

#include "plain_bed.hpp"
#include "run_limits.hpp"
#include "spread.hpp"

namespace runnel {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

constexpr int days_looked_at = 450;  // more than the 70 after which intervals of 10 days and weeks
                                     // repeat, and all the months' ends

Window window(int opens_h, int closes_h) {
  return {.opens = hours{opens_h}, .closes = hours{closes_h}, .after_et = opens_h >= 12};
}

/// Waters on that many days from monday, from the calendar alone.
bool waters(const DayPattern& pattern, int day) {
  const std::chrono::sys_days date{(monday + std::chrono::days{day}).time_since_epoch()};
  if (const auto* weekdays = std::get_if<Weekdays>(&pattern))
    return weekdays->on[std::chrono::weekday{date}.iso_encoding() - 1];
  if (const auto* every = std::get_if<EveryN>(&pattern)) {
    const auto since = date.time_since_epoch().count() - every->first.time_since_epoch().count();
    return std::abs(since) % every->n == 0;
  }
  const unsigned in_month = static_cast<unsigned>(std::chrono::year_month_day{date}.day());
  return (in_month % 2 == 1) == std::get<DateParity>(pattern).odd;
}

bool forbidden(const ValveRules& rules, int day) {
  const std::chrono::sys_days date{(monday + std::chrono::days{day}).time_since_epoch()};
  if (!rules.weekdays[std::chrono::weekday{date}.iso_encoding() - 1]) return true;
  const unsigned in_month = static_cast<unsigned>(std::chrono::year_month_day{date}.day());
  if (rules.odd_dates && (in_month % 2 == 1) != *rules.odd_dates) return true;
  return day < 7 && std::count(rules.shut_on.begin(), rules.shut_on.end(),
                               monday + std::chrono::days{day}) > 0;
}

bool keeps_for(const ValveRules& rules, const DayPattern& pattern, int days) {
  for (int day = 0; day < days; ++day)
    if (waters(pattern, day) && forbidden(rules, day)) return false;
  return true;
}

/// The most watering days of any seven running.
int most_in_seven(const DayPattern& pattern) {
  int most = 0;
  for (int first = 0; first + 7 <= days_looked_at; ++first) {
    int days = 0;
    for (int day = first; day < first + 7; ++day) days += waters(pattern, day) ? 1 : 0;
    most = std::max(most, days);
  }
  return most;
}

std::set<minutes> lengths_of(const Timer& timer) {
  std::set<minutes> lengths;
  for (int typed = timer.minutes_least; typed <= timer.minutes_most; ++typed) {
    const bool choice =
        std::count(timer.minutes_choices.begin(), timer.minutes_choices.end(), typed) > 0;
    if (timer.minutes_choices.empty() ? typed % timer.minutes_step == 0 : choice)
      lengths.insert(minutes{std::lround(typed * timer.percentage / 100.0)});
  }
  return lengths;
}

/// Whether some first start lets every run of the interval fall whole into a window, with just as
/// many in each as the candidate says.
bool reachable(const Candidate& candidate, const WateringHours& watering_hours) {
  const minutes run = run_of(candidate);
  for (minutes first{0}; first < candidate.repeat; ++first) {
    std::vector<int> cycles_in(watering_hours.size(), 0);
    for (minutes start = first; start < hours{24}; start += candidate.repeat)
      for (std::size_t w = 0; w < watering_hours.size(); ++w)
        if (start >= watering_hours[w].opens && start + run <= watering_hours[w].closes)
          ++cycles_in[w];
    if (cycles_in == candidate.cycles_in) return true;
  }
  return false;
}

void check_lengths(const Candidate& candidate, const WateringHours& watering_hours,
                   const Timer& timer) {
  const std::set<minutes> lengths = lengths_of(timer);
  std::set<minutes> used;
  for (std::size_t w = 0; w < watering_hours.size(); ++w) {
    const int cycles = candidate.cycles_in[w];
    const minutes run = candidate.run_in[w];
    if (cycles == 0) {
      CHECK(run.count() == 0);
      continue;
    }
    CHECK(lengths.contains(run));
    used.insert(run);
    const minutes room = watering_hours[w].closes - watering_hours[w].opens;
    CHECK(run <= room);
    if (candidate.repeat.count() == 0) CHECK(cycles * run + (cycles - 1) * candidate.soak <= room);
  }
  if (!timer.length_per_start) CHECK(used.size() == 1);
}

void check_starts(const Candidate& candidate, const WateringHours& watering_hours,
                  const Timer& timer) {
  const int starts = std::accumulate(candidate.cycles_in.begin(), candidate.cycles_in.end(), 0);
  if (candidate.repeat.count() == 0) {
    CHECK(starts <= (timer.repeat_hours.empty() ? timer.starts_per_valve : 1));
    return;
  }
  CHECK(std::count(timer.repeat_hours.begin(), timer.repeat_hours.end(),
                   candidate.repeat.count()) == 1);
  CHECK(starts * candidate.repeat == hours{24});
  CHECK(run_of(candidate) + candidate.soak <= candidate.repeat);
  CHECK(reachable(candidate, watering_hours));
}

void check_minutes(const Candidate& candidate, const ValveRules& rules) {
  minutes a_day{0};
  for (std::size_t w = 0; w < candidate.run_in.size(); ++w)
    a_day += candidate.cycles_in[w] * candidate.run_in[w];
  if (rules.most_minutes_a_day) CHECK(a_day.count() <= *rules.most_minutes_a_day);
  if (rules.most_minutes_a_week)
    CHECK(a_day.count() * most_in_seven(candidate.days) <= *rules.most_minutes_a_week);
}

/// Draws without a library's own distributions, so that every machine draws the same.
class Draw {
 public:
  explicit Draw(unsigned start) : random_(start) {}
  int up_to(int most) { return static_cast<int>(random_() % static_cast<unsigned>(most + 1)); }
  bool one_in(int n) { return up_to(n - 1) == 0; }

 private:
  std::mt19937 random_;
};

Timer drawn_timer(Draw& draw) {
  Timer timer{.starts_per_valve = 1 + draw.up_to(3), .minutes_step = 1 + draw.up_to(4)};
  timer.weekdays = !draw.one_in(3);
  timer.odd_even = draw.one_in(2);
  timer.every_n_days = timer.weekdays ? draw.up_to(1) * draw.up_to(10) : 1 + draw.up_to(9);
  if (draw.one_in(4)) timer.minutes_choices = {5, 10, 20, 45};
  if (draw.one_in(3)) timer.percentage = 50 + draw.up_to(100);
  if (draw.one_in(4))
    timer.repeat_hours = {2, 4, 6, 8, 12, 24};
  else
    timer.length_per_start = draw.one_in(3);
  return timer;
}

ValveRules drawn_rules(Draw& draw) {
  ValveRules rules;
  if (draw.one_in(2)) rules.hours.push_back(window(0, 5));
  rules.hours.push_back(window(6, 6 + draw.up_to(6)));
  rules.hours.push_back(window(13, 13));  // closed
  rules.hours.push_back(window(17, 18 + draw.up_to(6)));
  if (draw.one_in(2)) rules.weekdays = static_cast<unsigned>(1 + draw.up_to(126));
  if (draw.one_in(3)) rules.odd_dates = draw.one_in(2);
  while (draw.one_in(3)) rules.shut_on.push_back(monday + std::chrono::days{draw.up_to(8)});
  if (draw.one_in(2)) rules.most_minutes_a_day = 5 + draw.up_to(40);
  if (draw.one_in(2)) rules.most_minutes_a_week = 20 + draw.up_to(150);
  return rules;
}

ZoneTask drawn_bed(Draw& draw) {
  ZoneTask task =
      bed(40.0 + draw.up_to(80), draw.up_to(15),
          Column::Constant(horizon_days, 2.0 + 0.5 * draw.up_to(8)), Column::Zero(horizon_days));
  if (draw.one_in(3)) {  // runs off after 12 minutes, soaks twice as long as it ran
    task.intake = {.basic_rate = Rate::mm_per_hour(20.0), .surface_storage = Depth::mm(8.0)};
  }
  task.overhead = draw.one_in(2);
  return task;
}

std::vector<Candidate> of(const ZoneTask& task, const ValveRules& rules, const Timer& timer) {
  return candidates(std::span(&task, 1), rules, timer, monday, {});
}

minutes water_of(const Candidate& candidate) { return run_of(candidate); }

}  // namespace

TEST_SUITE("candidates and rules") {
  TEST_CASE("every candidate of random timers and rules keeps to them") {
    Draw draw(5);
    int limited = 0;
    int this_week = 0;
    int intervals = 0;
    for (int i = 0; i < 60; ++i) {
      CAPTURE(i);
      const Timer timer = drawn_timer(draw);
      const ValveRules rules = drawn_rules(draw);
      const ZoneTask task = drawn_bed(draw);
      bool some_keep_always = false;
      for (const DayPattern& days : day_patterns(timer, monday))
        some_keep_always = some_keep_always || keeps_for(rules, days, days_looked_at);
      const auto all = of(task, rules, timer);
      CHECK(std::is_sorted(all.begin(), all.end(),
                           [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; }));
      CHECK(all.size() < 450);
      int dry = 0;
      for (const Candidate& candidate : all) {
        if (water_of(candidate).count() == 0) {
          ++dry;
          continue;
        }
        CHECK(keeps_for(rules, candidate.days, some_keep_always ? days_looked_at : 7));
        check_lengths(candidate, rules.hours, timer);
        check_starts(candidate, rules.hours, timer);
        check_minutes(candidate, rules);
        if (!some_keep_always) ++this_week;
        if (candidate.repeat.count() > 0) ++intervals;
        if (rules.most_minutes_a_day || rules.most_minutes_a_week) ++limited;
      }
      CHECK(dry == 1);
    }
    CHECK(limited > 100);
    CHECK(this_week > 10);
    CHECK(intervals > 20);
  }

  TEST_CASE("the most watering days in seven") {
    const Timer timer{.every_n_days = 10, .odd_even = true};
    const auto patterns = day_patterns(timer, monday);
    for (const DayPattern& days : patterns) CHECK(most_days_in_seven(days) == most_in_seven(days));
    CHECK(patterns.size() == 127 + 2 + 3 + 4 + 5 + 6 + 4 * 7 + 2);
  }
}

}  // namespace runnel

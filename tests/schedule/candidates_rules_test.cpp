// Candidates against the rules they must keep to, each checked anew from dates and minutes, and the
// cheapest against all patterns, spreads and lengths tried one by one.
#include <doctest/doctest.h>

#include <cmath>
#include <numeric>
#include <optional>
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

/// A morning and an evening whose windows end at 10 and at 20 h.
WateringHours two_windows() { return {window(6, 10), window(18, 20)}; }

/// A programme's outcome for a bed, from dates alone: the evening's water comes after the day's ET.
Outcome outcome_of(const ZoneTask& task, const Candidate& candidate) {
  Waterings given{.et_share_before = {0.0, 1.0}, .net_mm = Eigen::ArrayXXd::Zero(2, horizon_days)};
  for (int day = 0; day < horizon_days; ++day)
    for (int w = 0; w < 2; ++w)
      if (waters(candidate.days, day))
        given.net_mm(w, day) = static_cast<double>(
            candidate.cycles_in[static_cast<std::size_t>(w)] *
            candidate.run_in[static_cast<std::size_t>(w)].count());  // 1 mm a minute
  return balance(task.root_zone, task.start, task.model, task.horizon, given);
}

struct Done {
  double harm_mm, short_mm;
};
Done done(const ZoneTask& task, const Candidate& candidate) {
  const Outcome outcome = outcome_of(task, candidate);
  const double most_end_mm = std::max(task.start.depletion_mm, 0.5 * mean_limit_mm(task));
  return {.harm_mm =
              (outcome.beyond_mm + outcome.unmet_mm)[0] * (outcome.days_beyond[0] > 0 ? 1.0 : 0.0),
          .short_mm = std::max(0.0, outcome.end_mm.mean() - most_end_mm)};
}

/// The candidate with each length that room and minutes allow, shortest first.
std::vector<Candidate> allowed_lengths(Candidate candidate, const ValveRules& rules,
                                       const Timer& timer) {
  const int starts = candidate.cycles_in[0] + candidate.cycles_in[1];
  const int in_seven = most_in_seven(candidate.days);
  std::vector<Candidate> allowed;
  for (const minutes run : lengths_of(timer)) {
    const auto a_day = starts * run.count();
    bool fits = a_day <= rules.most_minutes_a_day.value_or(1440) &&
                a_day * in_seven <= rules.most_minutes_a_week.value_or(10080);
    for (std::size_t w = 0; w < 2; ++w) {
      candidate.run_in[w] = candidate.cycles_in[w] > 0 ? run : minutes{0};
      const minutes room = rules.hours[w].closes - rules.hours[w].opens;
      fits = fits && candidate.cycles_in[w] * candidate.run_in[w] <= room;
    }
    if (fits) allowed.push_back(candidate);
  }
  return allowed;
}

/// The first that does as well as the last.
std::size_t shortest_as_good(const ZoneTask& task, const std::vector<Candidate>& lengths) {
  const Done at_most = done(task, lengths.back());
  const auto found = std::find_if(lengths.begin(), lengths.end(), [&](const Candidate& one) {
    const Done now = done(task, one);
    return now.harm_mm <= at_most.harm_mm + 1e-3 && now.short_mm <= at_most.short_mm + 1e-3;
  });
  return static_cast<std::size_t>(found - lengths.begin());
}

Candidate priced(const ZoneTask& task, const Candidate& candidate, const ValveRules& rules,
                 const Timer& timer) {
  return with_runs(std::span(&task, 1), candidate, candidate.run_in, rules, timer, monday, {});
}

/// @param enough whether a length shorter than the longest makes a second cycle in the same window
/// needless: with every whole minute to choose from it would only cut the run in two.
Cost cheapest_by_trying_all(const ZoneTask& task, const ValveRules& rules, const Timer& timer,
                            bool enough) {
  const std::vector<std::vector<int>> ways{{1, 0}, {2, 0}, {0, 1}, {0, 2}, {1, 1}};
  Candidate candidate{
      .days = Weekdays{}, .cycles_in = {0, 0}, .run_in = {minutes{0}, minutes{0}}, .cost = {}};
  Cost least = priced(task, candidate, rules, timer).cost;
  for (const DayPattern& days : day_patterns(timer, monday)) {
    if (!keeps_for(rules, days, days_looked_at)) continue;
    candidate.days = days;
    bool once_was_enough = false;
    for (const std::vector<int>& cycles_in : ways) {
      const bool twice = *std::max_element(cycles_in.begin(), cycles_in.end()) == 2;
      if (twice && enough && once_was_enough) continue;
      candidate.cycles_in = cycles_in;
      const std::vector<Candidate> lengths = allowed_lengths(candidate, rules, timer);
      once_was_enough = false;
      if (lengths.empty()) continue;
      const std::size_t best = shortest_as_good(task, lengths);
      once_was_enough = best + 1 < lengths.size();
      least = std::min(least, priced(task, lengths[best], rules, timer).cost);
    }
  }
  return least;
}

/// Easily available 16.7 mm, of which 30 % (5 mm) may be used; 7.2 mm a day from 6 to 18 h.
ZoneTask hot_pots() {
  ZoneTask task =
      bed(5.0 / 0.3, 1.0, Column::Constant(horizon_days, 7.2), Column::Zero(horizon_days));
  task.root_zone = {.p = 0.3, .adjust_p = false, .aim_ks = 1.0, .surplus = Surplus::at_once};
  task.et_share_before = [](WallTime t) {
    return std::clamp((static_cast<double>(t.count()) / 60.0 - 6.0) / 12.0, 0.0, 1.0);
  };
  return task;
}

const Candidate& first_with(const std::vector<Candidate>& all, const std::vector<int>& cycles_in) {
  return *std::find_if(all.begin(), all.end(),
                       [&](const Candidate& one) { return one.cycles_in == cycles_in; });
}

bool in_evening(const Candidate& candidate) { return candidate.cycles_in[1] > 0; }

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
        if (run_of(candidate).count() == 0) {
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

  TEST_CASE("the cheapest is the cheapest of all patterns, spreads and lengths") {
    Draw draw(17);
    int harmed = 0;
    for (int i = 0; i < 40; ++i) {
      CAPTURE(i);
      Timer timer{.starts_per_valve = 2, .minutes_most = 45, .weekdays = draw.one_in(2)};
      timer.every_n_days = timer.weekdays ? 0 : 5;
      timer.odd_even = !timer.weekdays;
      if (draw.one_in(3)) timer.minutes_choices = {5, 12, 40};
      if (draw.one_in(3)) timer.percentage = 80 + draw.up_to(50);
      ValveRules rules{.hours = two_windows()};
      if (draw.one_in(3)) rules.hours[0].closes = rules.hours[0].opens;
      if (timer.weekdays) rules.weekdays = static_cast<unsigned>(1 + draw.up_to(126));
      if (draw.one_in(2)) rules.most_minutes_a_day = 6 + draw.up_to(20);
      if (draw.one_in(2)) rules.most_minutes_a_week = 15 + draw.up_to(40);
      ZoneTask task = bed(20.0 + draw.up_to(60), draw.up_to(10),
                          Column::Constant(horizon_days, 3.0 + 0.5 * draw.up_to(10)),
                          Column::Zero(horizon_days));
      task.overhead = draw.one_in(2);
      const Cost found = of(task, rules, timer).front().cost;
      const Cost tried = cheapest_by_trying_all(task, rules, timer, timer.minutes_choices.empty());
      CHECK(found.harm_um == tried.harm_um);
      CHECK(found.price_cl == tried.price_cl);
      if (found.harm_um > 0) ++harmed;
    }
    CHECK(harmed > 3);
    CHECK(harmed < 37);
  }

  TEST_CASE("a list of lengths and a percentage") {
    Timer timer{.starts_per_valve = 1, .minutes_choices = {5, 10, 20}, .percentage = 120};
    const ZoneTask task =
        bed(90.0, 20.0, Column::Constant(horizon_days, 5.0), Column::Zero(horizon_days));
    std::set<int> runs;
    for (const Candidate& candidate : of(task, {.hours = two_windows()}, timer))
      if (run_of(candidate).count() > 0) runs.insert(static_cast<int>(run_of(candidate).count()));
    CHECK(runs == std::set<int>{6, 12, 24});
  }

  TEST_CASE("two short runs where the list has no run between a short and a long one") {
    // 20 mm are to be had as 2 x 12 or as 60 minutes, which drains and is not yet the longest.
    const Timer timer{.starts_per_valve = 2, .minutes_choices = {5, 12, 60, 90}};
    const ZoneTask task =
        bed(50.0, 5.0, Column::Constant(horizon_days, 5.0), Column::Zero(horizon_days));
    const ValveRules rules{.hours = {window(4, 10)}, .weekdays = 0b0010001};  // Mon Fri
    const auto all = of(task, rules, timer);
    CHECK(all.front().cycles_in == std::vector<int>{2});
    CHECK(run_of(all.front()).count() == 12);
  }

  TEST_CASE("without an allowed day there is no watering") {
    ValveRules rules{.hours = two_windows(), .weekdays = 0};
    const ZoneTask task =
        bed(60.0, 20.0, Column::Constant(horizon_days, 5.0), Column::Zero(horizon_days));
    const auto all = of(task, rules, {});
    REQUIRE(all.size() == 1);
    CHECK(all.front().cost.harm_um > 0);
    CHECK(run_of(all.front()).count() == 0);
    rules.weekdays = std::bitset<7>{0x7F};
    for (Window& one : rules.hours) one.closes = one.opens;
    CHECK(of(task, rules, {}).size() == 1);
  }

  TEST_CASE("where only odd dates are allowed a timer of weekdays keeps to this week's") {
    // The week from Monday 13 July 2026: 13, 15, 17 and 19 are odd.
    const ValveRules rules{.hours = two_windows(), .odd_dates = true};
    const ZoneTask task =
        bed(60.0, 20.0, Column::Constant(horizon_days, 5.0), Column::Zero(horizon_days));
    const auto by_weekday = of(task, rules, {});
    CHECK(by_weekday.size() > 10);
    for (const Candidate& candidate : by_weekday)
      if (run_of(candidate).count() > 0)
        CHECK((std::get<Weekdays>(candidate.days).on & ~std::bitset<7>{0b1010101}).none());
    for (const Candidate& candidate : of(task, rules, {.odd_even = true}))
      if (run_of(candidate).count() > 0)
        CHECK(candidate.days == DayPattern{DateParity{.odd = true}});
  }

  TEST_CASE("closed windows take none of the ways to spread cycles") {
    const WateringHours open = two_windows();
    WateringHours with_closed;
    for (int h = 0; h < 6; ++h) with_closed.push_back(window(h, h));
    with_closed.insert(with_closed.end(), open.begin(), open.end());
    const Timer timer;
    const auto all = spreads(with_closed, timer);
    CHECK(all.size() == 14);  // of 4 starts in 2 windows: 2 + 3 + 4 + 5
    CHECK(all.size() == spreads(open, timer).size());
    for (const Spread& spread : all)
      CHECK(std::count(spread.cycles_in.begin(), spread.cycles_in.begin() + 6, 0) == 6);
  }

  TEST_CASE("an interval has just the cycles that some first start brings about") {
    const Timer twice{.repeat_hours = {12}};
    // 6 to 10 h and 18 to 20 h: a start at 6 h repeats at 18 h, and two hours are left.
    const auto all = spreads(two_windows(), twice);
    REQUIRE(all.size() == 3);
    CHECK(all[0].cycles_in == std::vector<int>{1, 0});
    CHECK(all[1].cycles_in == std::vector<int>{0, 1});
    CHECK(all[2].cycles_in == std::vector<int>{1, 1});
    CHECK(all[2].repeat == hours{12});
    CHECK(all[2].longest == minutes{120});
    CHECK(spreads(two_windows(), {.repeat_hours = {8}}).size() == 2);  // once alone: 6, 14, 22 h
    // Round the day in two halves each interval has one way, whatever the first start.
    const auto round = spreads({window(0, 12), window(12, 24)}, {.repeat_hours = {2, 3, 6, 24}});
    std::vector<std::vector<int>> cycles;
    for (const Spread& spread : round) cycles.push_back(spread.cycles_in);
    CHECK(cycles == std::vector<std::vector<int>>{{1, 0}, {0, 1}, {2, 2}, {4, 4}, {6, 6}});
  }

  TEST_CASE("a run by an interval is no longer than its windows and its soak leave room for") {
    ZoneTask task =
        bed(60.0, 20.0, Column::Constant(horizon_days, 6.0), Column::Zero(horizon_days));
    const auto longest_by_interval = [&task](const WateringHours& open, const Timer& timer) {
      minutes longest{0};
      for (const Candidate& candidate : of(task, {.hours = open}, timer))
        if (candidate.repeat.count() > 0) longest = std::max(longest, run_of(candidate));
      return longest;
    };
    const WateringHours short_evening{
        window(6, 10), {.opens = hours{18}, .closes = minutes{18 * 60 + 10}, .after_et = true}};
    CHECK(longest_by_interval(short_evening, {.repeat_hours = {12}}).count() == 10);
    // Water comes at 60 mm/h and goes at 5: 20 minutes, then 11 times as long. Within two hours 10
    // minutes and their 110 are all there is room for; once a week needs more.
    task.intake = {.basic_rate = Rate::mm_per_hour(5.0), .surface_storage = Depth::mm(55.0 / 3.0)};
    const WateringHours round{window(0, 12), window(12, 24)};
    task.horizon.et_mm.setConstant(20.0);
    task.model.taw_mm.setConstant(200.0);
    CHECK(longest_by_interval(round, {.repeat_hours = {2}}).count() == 10);
  }

  TEST_CASE("pots by an interval: a watering every six hours keeps what a single one cannot") {
    ValveRules rules{.hours = {window(0, 12), window(12, 24)}};
    const ZoneTask task = hot_pots();
    CHECK(of(task, rules, {.starts_per_valve = 1}).front().cost.harm_um > 0);
    const auto all = of(task, rules, {.starts_per_valve = 1, .repeat_hours = {4, 6}});
    CHECK(all.front().cost.harm_um == 0);
    CHECK(all.front().repeat.count() > 0);
  }

  TEST_CASE("a length for each start") {
    // Half a mm a minute. Twice 12 minutes bring 12 mm a day, where 7.2 go: before the evening's
    // watering 4.8 mm of the 5 that may, before the morning's 2.4 and what the evening has left.
    // With 5 minutes (2.5 mm) that is 4.7 mm, with 2 it would be 6.2; a morning of 5 leaves more
    // than the 0.2 mm that the day can do with.
    ZoneTask task = hot_pots();
    task.delivery.flow = Flow::litres_per_hour(300.0);
    Timer timer{.starts_per_valve = 2, .minutes_choices = {2, 5, 12}};
    const ValveRules rules{.hours = two_windows()};
    const Candidate alike = first_with(of(task, rules, timer), {1, 1});
    CHECK(alike.run_in == std::vector<minutes>{minutes{12}, minutes{12}});
    timer.length_per_start = true;
    const Candidate own = first_with(of(task, rules, timer), {1, 1});
    CHECK(own.run_in == std::vector<minutes>{minutes{12}, minutes{5}});
    CHECK(own.cost < alike.cost);
  }

  TEST_CASE("leaves are not sprayed in the evening where the morning does") {
    Draw draw(29);
    int evenings = 0;
    int of_many = 0;
    for (int i = 0; i < 60; ++i) {
      CAPTURE(i);
      ZoneTask task = drawn_bed(draw);
      task.overhead = false;
      const ValveRules rules{.hours = two_windows()};
      const Timer timer{.starts_per_valve = 1 + draw.up_to(2)};
      const auto dripped = of(task, rules, timer);
      if (in_evening(dripped.front())) ++evenings;
      task.overhead = true;
      const auto sprayed = of(task, rules, timer);
      const bool morning_does = std::any_of(
          sprayed.begin(), sprayed.end(),
          [](const Candidate& one) { return one.cost.harm_um == 0 && !in_evening(one); });
      if (!morning_does) continue;
      ++of_many;
      CHECK_FALSE(in_evening(sprayed.front()));
    }
    MESSAGE(evenings << " of " << of_many);
    CHECK(evenings > 5);
    CHECK(of_many > 30);
  }

  TEST_CASE("leaves are sprayed in the evening rather than harmed") {
    ZoneTask task = bed(60.0, 5.0, Column::Constant(horizon_days, 6.0), Column::Zero(horizon_days));
    task.overhead = true;
    ValveRules rules{.hours = two_windows()};
    rules.hours[0].closes = rules.hours[0].opens + minutes{3};  // half of a day's use
    const auto all = of(task, rules, {});
    CHECK(all.front().cost.harm_um == 0);
    CHECK(in_evening(all.front()));
  }

  TEST_CASE("an evening costs the weekly need") {
    // 5 mm a day on 10 m2: 350 L a week.
    ZoneTask task =
        bed(90.0, 20.0, Column::Constant(horizon_days, 5.0), Column::Zero(horizon_days));
    const ValveRules rules{.hours = two_windows()};
    const Timer timer{.starts_per_valve = 3};
    Candidate candidate{.days = Weekdays{std::bitset<7>{0b1001001}},
                        .cycles_in = {0, 1},
                        .run_in = {minutes{0}, minutes{12}},
                        .cost = {}};
    const auto extra_cl = [&] {
      task.overhead = false;
      const Cost dripped = priced(task, candidate, rules, timer).cost;
      task.overhead = true;
      return priced(task, candidate, rules, timer).cost.price_cl - dripped.price_cl;
    };
    CHECK(extra_cl() == 35'000);
    candidate.cycles_in = {1, 1};
    candidate.run_in = {minutes{9}, minutes{3}};
    CHECK(extra_cl() == 8'750);  // a quarter of the minutes
    candidate.cycles_in = {2, 0};
    candidate.run_in = {minutes{9}, minutes{0}};
    CHECK(extra_cl() == 0);
  }

  TEST_CASE("lesser shares of a few unlike kinds are offered") {
    const ZoneTask task =
        bed(90.0, 20.0, Column::Constant(horizon_days, 5.0), Column::Zero(horizon_days));
    const auto all = of(task, {.hours = two_windows()}, {});
    CHECK(all.size() < 450);
    const Candidate& whole = all.front();
    REQUIRE(whole.cost.harm_um == 0);
    std::set<std::size_t> kinds;
    for (const Candidate& candidate : all)
      if (candidate.cost.harm_um > 0 && run_of(candidate).count() > 0)
        kinds.insert(std::get<Weekdays>(candidate.days).on.count());
    CHECK(kinds.size() >= 2);
    for (int tenths = 1; tenths < 10; ++tenths) {
      const minutes part{run_of(whole).count() * tenths / 10};
      CAPTURE(tenths);
      CHECK(std::any_of(all.begin(), all.end(), [&](const Candidate& one) {
        return one.days == whole.days && one.cycles_in == whole.cycles_in && run_of(one) == part;
      }));
    }
  }
}

}  // namespace runnel

// The fewest minutes for a zone, against a closed form and a linear search; properties that must
// hold for any zone.
#include "runnel/schedule/candidates.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "plain_bed.hpp"
#include "runnel/schedule/plan.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

/// A pot zone: 1 mm a minute over its canopy, drains at once.
ZoneTask pots(double taw_mm, double et_mm) {
  ZoneTask task =
      bed(taw_mm, 0.15 * taw_mm, Column::Constant(horizon_days, et_mm), Column::Zero(horizon_days));
  task.name = "pots";
  task.root_zone = {.p = 0.3, .adjust_p = false, .aim_ks = 1.0, .surplus = Surplus::at_once};
  task.et_share_before = [](WallTime t) {
    return std::clamp((static_cast<double>(t.count()) / 60.0 - 6.0) / 12.0, 0.0, 1.0);
  };
  return task;
}

Timer weekday_timer() {
  Timer timer;
  timer.minutes_most = 600;
  return timer;
}

/// Least depth of each watering, mm, with which depletion never passes the limit: for every stretch
/// of days that ends on t, what the stretch uses beyond rain and the room there is, over the
/// waterings in it. Holds while nothing drains; a stretch that begins later than day 1 begins at
/// field capacity at best.
double closed_form_mm(const ZoneTask& task, const DayPattern& days) {
  const double limit_mm = 0.5 * task.model.taw_mm[0];
  double least = 0.0;
  for (int t = 0; t < horizon_days; ++t) {
    double use = 0.0;
    int waterings = 0;
    for (int s = t; s >= 0; --s) {
      const Date date = monday + std::chrono::days{s};
      if (waters_on(days, date)) ++waterings;
      use -= task.horizon.rain_mm(0, s);
      if (s < t) use += task.horizon.et_mm(0, s);
      const double from = s == 0 ? task.start.depletion_mm : 0.0;
      const double over = from + use - limit_mm;
      if (over <= 1e-9) continue;
      if (waterings == 0) return std::numeric_limits<double>::infinity();
      least = std::max(least, over / waterings);
    }
  }
  return least;
}

bool within(const ZoneTask& task, const DayPattern& days, minutes run) {
  const std::vector<WallTime> starts{WallTime{4 * 60}};
  const Waterings given = waterings_of(task, times_at(days, starts, run), morning, monday);
  return balance(task.root_zone, task.start, task.model, task.horizon, given).days_beyond[0] == 0;
}

}  // namespace

TEST_SUITE("candidates") {
  TEST_CASE("the closed form is a lower bound, and exact where nothing drains") {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> et(1.0, 8.0);
    std::uniform_real_distribution<double> share(0.0, 1.0);
    int exact = 0;
    for (int i = 0; i < 400; ++i) {
      Column et_mm(horizon_days);
      Column rain_mm = Column::Zero(horizon_days);
      for (double& value : et_mm) value = et(random);
      const double taw_mm = 40.0 + 120.0 * share(random);
      const ZoneTask task = bed(taw_mm, 0.5 * taw_mm * share(random), et_mm, rain_mm);
      const unsigned mask = 1U + static_cast<unsigned>(126.0 * share(random));
      const DayPattern days = Weekdays{std::bitset<7>(mask)};
      const double least_mm = closed_form_mm(task, days);
      if (!std::isfinite(least_mm)) {
        CHECK_FALSE(within(task, days, minutes{600}));
        continue;
      }
      const int least_min = static_cast<int>(std::ceil(least_mm - 1e-9));  // 1 mm a minute
      if (least_min > 0) CHECK_FALSE(within(task, days, minutes{least_min - 1}));
      if (within(task, days, minutes{least_min})) ++exact;
    }
    CHECK(exact > 150);
  }

  TEST_CASE("each candidate has the fewest minutes that will do") {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> et(1.0, 7.0);
    for (int i = 0; i < 20; ++i) {
      Column et_mm(horizon_days);
      for (double& value : et_mm) value = et(random);
      const ZoneTask task = bed(90.0, 20.0, et_mm, Column::Zero(horizon_days));
      const double most_end_mm = std::max(20.0, 0.5 * mean_limit_mm(task));
      const auto all =
          candidates(std::span(&task, 1), {.hours = morning}, weekday_timer(), monday, {});
      int looked_at = 0;
      for (const Candidate& candidate : all) {
        if (candidate.cost.harm_um > 0 || run_of(candidate).count() == 0 || looked_at++ > 25)
          continue;
        const std::vector<WallTime> starts{WallTime{4 * 60}};
        const auto good = [&](minutes run) {
          const Outcome outcome =
              balance(task.root_zone, task.start, task.model, task.horizon,
                      waterings_of(task, times_at(candidate.days, starts, run), morning, monday));
          return outcome.days_beyond[0] == 0 && outcome.end_mm[0] <= most_end_mm + 1e-3;
        };
        if (!good(run_of(candidate)))
          continue;  // unharmed, but drier at the end than asked: priced, not refused
        int least = 1;
        while (!good(minutes{least})) ++least;
        CHECK(run_of(candidate).count() == least);
      }
      CHECK(looked_at > 0);
      CHECK(std::is_sorted(all.begin(), all.end(),
                           [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; }));
    }
  }

  TEST_CASE("a week of rain needs no watering") {
    const ZoneTask task =
        bed(80.0, 20.0, Column::Constant(horizon_days, 3.0), Column::Constant(horizon_days, 8.0));
    const auto all =
        candidates(std::span(&task, 1), {.hours = morning}, weekday_timer(), monday, {});
    CHECK(all.size() == 1);
    CHECK(run_of(all.front()).count() == 0);
  }

  TEST_CASE("a ground that takes in little gets cycles and soaks") {
    ZoneTask task =
        bed(130.0, 30.0, Column::Constant(horizon_days, 5.0), Column::Zero(horizon_days));
    task.intake = {.basic_rate = Rate::mm_per_hour(10.0),
                   .surface_storage = Depth::mm(5.0)};  // rate 60: 6 minutes at most
    Timer timer = weekday_timer();
    timer.starts_per_valve = 8;
    const auto all = candidates(std::span(&task, 1), {.hours = morning}, timer, monday, {});
    for (const Candidate& candidate : all) {
      CHECK(run_of(candidate) <= minutes{6});
      if (run_of(candidate).count() > 0)
        CHECK(candidate.soak == 5 * run_of(candidate));  // run x (60 - 10) / 10
    }
    CHECK(all.front().cost.harm_um == 0);
  }

  TEST_CASE("pots that hold less than a day's use are watered more than once a day") {
    // 7 mm a day; easily available 9.4 mm, of which 30 %: the 2 L pot with a 25 cm canopy.
    WateringHours hours = morning;
    hours.push_back({.opens = WallTime{14 * 60}, .closes = WallTime{16 * 60}, .after_et = true});
    hours.push_back({.opens = WallTime{19 * 60}, .closes = WallTime{21 * 60}, .after_et = true});
    const ZoneTask small = pots(9.4, 7.0);
    const auto few =
        candidates(std::span(&small, 1), {.hours = hours}, weekday_timer(), monday, {});
    int cycles = 0;
    for (const int in_window : few.front().cycles_in) cycles += in_window;
    CHECK(cycles >= 2);
    // 32.5 mm: the 40 L tub with a 60 cm canopy.
    const ZoneTask tub = pots(32.5, 7.0);
    const auto more =
        candidates(std::span(&tub, 1), {.hours = morning}, weekday_timer(), monday, {});
    CHECK(more.front().cost.harm_um == 0);
  }

  TEST_CASE("allowed futures") {
    CHECK(allowed_beyond(1, 0.10) == 0);
    CHECK(allowed_beyond(18, 0.10) == 0);
    CHECK(allowed_beyond(19, 0.10) == 1);
    CHECK(allowed_beyond(64, 0.10) == 5);
  }
}

TEST_SUITE("plan") {
  TEST_CASE(
      "a zone that cannot be kept moist is watered as far as that helps, and the plan says so") {
    const ZoneTask task = pots(4.0, 8.0);  // 1.2 mm to spare, 8 mm a day, one watering window
    const Plan plan =
        plan_week(std::span(&task, 1), {.hours = morning, .timer = weekday_timer()}, monday, {});
    CHECK_FALSE(plan.unharmed());
    REQUIRE(shortfalls(plan).size() == 1);
    const std::string text = to_text(shortfalls(plan)[0]);
    CHECK(text.find(task.name) != std::string::npos);
    CHECK(text.find(task.name, text.find(task.name) + 1) == std::string::npos);  // named once
    CHECK(plan.zones[0].days_beyond > 0);
    // Each watering fills the pots and no more: at most what they hold, a day's use and the start.
    CHECK(plan.zones[0].gross_mm <= 7.0 * 3.0 * 8.0);
    CHECK(plan.zones[0].waterings >= 7);
  }

  TEST_CASE("the water of the week adds up") {
    const ZoneTask task =
        bed(90.0, 20.0, Column::Constant(horizon_days, 5.0), Column::Zero(horizon_days));
    const Plan plan =
        plan_week(std::span(&task, 1), {.hours = morning, .timer = weekday_timer()}, monday, {});
    const ZonePlan& zone = plan.zones[0];
    CHECK(plan.unharmed());
    CHECK(zone.demand_mm == near(35.0, 1e-9));
    const double net_mm = zone.waterings_mm.net_mm.leftCols(7).sum();
    CHECK(zone.end_depletion_mm ==
          near(zone.start_depletion_mm - net_mm + zone.demand_mm + zone.drained_mm, 1e-9));
    CHECK(zone.gross_litres == near(zone.gross_mm * 10.0, 1e-9));
  }

  TEST_CASE("forty zones have a programme without a conflict") {
    std::vector<ZoneTask> tasks;
    for (int i = 0; i < 40; ++i) {
      tasks.push_back(bed(90.0, 10.0 + 0.5 * i, Column::Constant(horizon_days, 3.0 + 0.1 * i),
                          Column::Zero(horizon_days)));
      tasks.back().name = "zone " + std::to_string(i + 1);
      tasks.back().valve = i + 1;
    }
    Timer timer = weekday_timer();
    timer.valves = 40;
    const Plan plan = plan_week(tasks, {.hours = morning, .timer = timer}, monday, {});
    CHECK(plan.programmes.size() == 40);
    CHECK(violations(plan.programmes, {.hours = morning, .timer = timer}, monday).empty());
    CHECK(plan.unharmed());
  }
}

}  // namespace runnel

// What a change on the timer is, and what it must earn. The counts follow from the definition of a
// setting; no outside source.
#include "runnel/schedule/changes.hpp"

#include <doctest/doctest.h>

#include "plain_bed.hpp"
#include "runnel/schedule/plan.hpp"

namespace runnel {
namespace {

using std::chrono::days;
using std::chrono::minutes;

const DayPattern mondays = Weekdays{1};

Column dry() { return Column::Zero(horizon_days); }
Column et(double mm_d) { return Column::Constant(horizon_days, mm_d); }

Plan planned(const ZoneTask& task, std::span<const ValveTimes> in_force, bool by_hand = false) {
  const Constraints constraints{.hours = morning, .timer = {}};
  return plan_week(std::span(&task, 1), constraints, monday, {.risk = 0.10, .by_hand = by_hand},
                   in_force);
}

}  // namespace

TEST_SUITE("settings changed") {
  TEST_CASE("settings changed - days, each start and the minutes count one each") {
    const WallTime four{240};
    const WallTime five{300};
    const WallTime six{360};
    const ValveTimes before = times_at(mondays, {four, five}, minutes{20});
    CHECK(settings_changed(before, before) == 0);
    CHECK(settings_changed(before, times_at(Weekdays{2}, {four, five}, minutes{20})) == 1);
    CHECK(settings_changed(before, times_at(mondays, {four, five}, minutes{21})) == 1);
    CHECK(settings_changed(before, times_at(mondays, {four}, minutes{20})) == 1);
    CHECK(settings_changed(before, times_at(mondays, {four, six}, minutes{20})) == 1);
    CHECK(settings_changed(before, times_at(mondays, {four, five, six}, minutes{20})) == 1);
    CHECK(settings_changed(before, times_at(Weekdays{2}, {six}, minutes{9})) == 4);
    const ValveTimes shut = times_at(mondays, {}, minutes{0});
    CHECK(settings_changed(before, shut) == 2);
    CHECK(settings_changed(shut, before) == 4);
    ValveTimes unlike = before;
    unlike.openings[1].length = minutes{5};
    CHECK(settings_changed(before, unlike) == 1);
    CHECK(same_days(EveryN{3, monday}, EveryN{3, monday + days{6}}));
    CHECK_FALSE(same_days(EveryN{3, monday}, EveryN{3, monday + days{1}}));
  }

  TEST_CASE("settings changed - what is in force and does stays, its start with it") {
    const ZoneTask task = bed(60.0, 15.0, et(3.0), dry());
    const Plan from_scratch = planned(task, {});
    REQUIRE(from_scratch.unharmed());
    ValveTimes in_force = from_scratch.valves.front();
    in_force.openings.front().start += minutes{37};
    const Plan kept = planned(task, std::span(&in_force, 1), true);
    CHECK(settings_changed(in_force, kept.valves.front()) == 0);
    CHECK(kept.by_hand.empty());
  }

  TEST_CASE("settings changed - a dry start is mended by the fewest minutes by hand") {
    // 3 mm a day, and 3 mm brought each day, the only days that the timer has: 36 mm dry in the
    // morning stays so, 33 after the watering, and 30 may be lacking before the day's ET. 3 minutes
    // of 1 mm mend that; longer runs day by day would drain.
    const ValveTimes in_force = times_at(EveryN{1, monday}, {WallTime{300}}, minutes{3});
    const ZoneTask task = bed(60.0, 36.0, et(3.0), dry());
    Constraints constraints{.hours = morning, .timer = {}};
    constraints.timer.weekdays = false;
    constraints.timer.every_n_days = 1;
    const Plan plan = plan_week(std::span(&task, 1), constraints, monday,
                                {.risk = 0.10, .by_hand = true}, std::span(&in_force, 1));
    CHECK(plan.unharmed());
    REQUIRE(plan.by_hand.size() == 1);
    CHECK(plan.by_hand.front().minutes == 3);
    CHECK(settings_changed(in_force, plan.valves.front()) == 0);

    // It is made on the evening before, or early on the day: not where either is forbidden.
    for (const std::size_t forbidden : {6U, 0U}) {  // Sunday, Monday
      constraints.rules[task.valve] = {.hours = morning, .weekdays = std::bitset<7>{0x7F}};
      constraints.rules[task.valve].weekdays.reset(forbidden);
      CHECK(plan_week(std::span(&task, 1), constraints, monday, {.risk = 0.10, .by_hand = true},
                      std::span(&in_force, 1))
                .by_hand.empty());
    }
    constraints.rules.clear();

    // One of five minutes that is decided already stays, and none comes to it.
    const HandRun decided{.valve = task.valve, .minutes = 5};
    const Plan after =
        plan_week(std::span(&task, 1), constraints, monday, {.risk = 0.10, .by_hand = true},
                  std::span(&in_force, 1), std::span(&decided, 1));
    CHECK(after.unharmed());
    REQUIRE(after.by_hand.size() == 1);
    CHECK(after.by_hand.front().minutes == 5);
    CHECK(settings_changed(in_force, after.valves.front()) == 0);
    // 36 - 5 - 3 mm in the morning, 3 mm of ET.
    CHECK(after.zones.front().expected_mm[0] == doctest::Approx(31.0));
  }

  TEST_CASE("settings changed - what breaks a rule in a later week of an absence does not stay") {
    // Mon Wed Fri are the 13th, 15th and 17th, and the 20th, 22nd and 24th a week later.
    const ValveTimes in_force = times_at(Weekdays{0b0010101}, {WallTime{300}}, minutes{7});
    const ZoneTask task = bed(60.0, 15.0, et(3.0), dry());
    Constraints constraints{.hours = morning, .timer = {}};
    constraints.timer.every_n_days = 2;
    constraints.rules[task.valve] = {.hours = morning, .odd_dates = true};
    const auto waters_on_even_dates = [&](int away_days) {
      const Plan plan = plan_week(std::span(&task, 1), constraints, monday,
                                  {.risk = 0.10, .away_days = away_days}, std::span(&in_force, 1));
      REQUIRE_FALSE(plan.valves.front().openings.empty());
      for (int d = 0; d < horizon_days; ++d)
        if (d % 2 == 1 && waters_on(plan.valves.front().days, monday + days{d})) return true;
      return false;
    };
    CHECK(waters_on_even_dates(0));  // for a week it may: the next plan comes before the 20th
    CHECK_FALSE(waters_on_even_dates(horizon_days));
  }
}

}  // namespace runnel

// Whole plans for timers whose valves share a few programmes.
#include <doctest/doctest.h>

#include "plain_bed.hpp"
#include "runnel/schedule/plan.hpp"

namespace runnel {
namespace {

const WateringHours two_windows = {
    {.opens = WallTime{4 * 60}, .closes = WallTime{9 * 60}, .after_et = false},
    {.opens = WallTime{20 * 60}, .closes = WallTime{22 * 60}, .after_et = true}};

Timer shared_timer(int programmes) {
  Timer timer;
  timer.programmes = programmes;
  timer.every_n_days = 7;
  timer.pause_minutes = 1;
  return timer;
}

Column dry_days(double et_mm_d) { return Column::Constant(horizon_days, et_mm_d); }

ZoneTask bed_on(int valve, double et_mm_d) {
  ZoneTask task = bed(90.0, 20.0, dry_days(et_mm_d), dry_days(0.0));
  task.valve = valve;
  task.name = "bed " + std::to_string(valve);
  return task;
}

/// A quarter of the water that the beds' ground takes in: runs of a few minutes, soaks between.
ZoneTask clay_on(int valve) {
  ZoneTask task = bed_on(valve, 4.0);
  task.intake = {.basic_rate = Rate::mm_per_hour(10.0), .surface_storage = Depth::mm(10.0)};
  return task;
}

ZoneTask pots_on(int valve) {
  ZoneTask task = bed_on(valve, 6.0);
  task.root_zone.surplus = Surplus::at_once;
  task.root_zone.p = 0.3;
  task.model.taw_mm = dry_days(30.0);
  task.start = {.depletion_mm = 2.0};
  task.et_share_before = [](WallTime time) { return time.count() < 12 * 60 ? 0.0 : 1.0; };
  return task;
}

Plan plan_of(const std::vector<ZoneTask>& tasks, const Timer& timer,
             const WateringHours& hours = two_windows) {
  return plan_week(tasks, {.hours = hours, .timer = timer}, monday, {});
}

std::vector<Programme> watering(const Plan& plan) {
  std::vector<Programme> programmes = plan.programmes;
  std::erase_if(programmes, [](const Programme& one) { return one.starts.empty(); });
  return programmes;
}

}  // namespace

TEST_CASE("shared plan - beds of unlike need run one after the other, each for its own length") {
  const std::vector<ZoneTask> tasks = {bed_on(1, 5.0), bed_on(2, 3.0), bed_on(4, 4.0)};
  const Plan plan = plan_of(tasks, shared_timer(1));
  CHECK(plan.unharmed());
  const std::vector<Programme> programmes = watering(plan);
  REQUIRE(programmes.size() == 1);
  const std::vector<Run>& runs = programmes[0].runs;
  REQUIRE(runs.size() == 3);
  CHECK(runs[0].valve == 1);
  CHECK(runs[1].valve == 2);
  CHECK(runs[2].valve == 4);
  CHECK(runs[0].typed_min[0] > runs[2].typed_min[0]);
  CHECK(runs[2].typed_min[0] > runs[1].typed_min[0]);
  // A minute's pause between one valve and the next.
  const auto opening = [&](std::size_t v) { return plan.valves[v].openings[0]; };
  CHECK(opening(1).start == opening(0).start + opening(0).length + std::chrono::minutes{1});
  CHECK(opening(2).start == opening(1).start + opening(1).length + std::chrono::minutes{1});
  CHECK(opening(0).length == std::chrono::minutes{runs[0].typed_min[0]});
}

TEST_CASE("shared plan - a bed shares the cycles that another's ground needs") {
  const Plan plan = plan_of({clay_on(1), bed_on(2, 3.0)}, shared_timer(1));
  CHECK(plan.unharmed());
  const std::vector<Programme> programmes = watering(plan);
  REQUIRE(programmes.size() == 1);
  CHECK(programmes[0].runs.size() == 2);
  CHECK(programmes[0].starts.size() > 1);
}

TEST_CASE("shared plan - pots make a bed water daily, unless it has a programme of its own") {
  const std::vector<ZoneTask> tasks = {pots_on(1), bed_on(2, 3.0), bed_on(3, 3.0)};
  const Plan one = plan_of(tasks, shared_timer(1));
  const Plan two = plan_of(tasks, shared_timer(2));
  CHECK(one.unharmed());
  CHECK(two.unharmed());
  REQUIRE(watering(one).size() == 1);
  CHECK(to_text(watering(one)[0].days) == "every day");
  REQUIRE(watering(two).size() == 2);
  CHECK(watering(two)[1].runs.size() == 2);
  CHECK(two.zones[1].watering_days < 7);
  CHECK(two.cost < one.cost);
}

TEST_CASE("shared plan - as many programmes as valves cost what valves of their own do") {
  const std::vector<ZoneTask> tasks = {pots_on(1), bed_on(2, 3.0), clay_on(3)};
  const Plan shared = plan_of(tasks, shared_timer(3));
  const Plan apart = plan_of(tasks, shared_timer(0));
  CHECK(shared.cost.harm_um == apart.cost.harm_um);
  // A valve that shares may also take windows that one of its own is spared.
  CHECK(shared.cost <= apart.cost);
}

TEST_CASE("shared plan - hours too short for all: shorter runs rather than a dry bed") {
  const WateringHours short_hours = {
      {.opens = WallTime{4 * 60}, .closes = WallTime{4 * 60 + 8}, .after_et = false}};
  const Plan plan =
      plan_of({bed_on(1, 5.0), bed_on(2, 5.0), bed_on(3, 5.0)}, shared_timer(1), short_hours);
  CHECK_FALSE(plan.unharmed());
  CHECK(shortfalls(plan).size() > 0);
  const std::vector<Programme> programmes = watering(plan);
  REQUIRE(programmes.size() == 1);
  CHECK(programmes[0].runs.size() == 3);
}

}  // namespace runnel

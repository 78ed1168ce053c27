// A week's programme from zone tasks: gardens of several sizes, and one zone under many futures.
// What a task holds is invented and of the size of a garden's: 4-7 mm a day, beds and pots.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>

#include "runnel/schedule/plan.hpp"

namespace runnel {
namespace {

const Date monday = std::chrono::local_days{std::chrono::year{2026} / 7 / 13};

WateringHours two_windows() {
  return {{.opens = WallTime{270}, .closes = WallTime{480}, .after_et = false},
          {.opens = WallTime{1230}, .closes = WallTime{1350}, .after_et = true}};
}

Timer household_timer(int valves) {
  Timer timer;
  timer.valves = valves;
  timer.every_n_days = 8;  // 127 sets of weekdays and 35 intervals with their first days
  timer.odd_even = true;
  return timer;
}

double share_before(WallTime time) {
  return std::clamp((static_cast<double>(time.count()) / 60.0 - 6.5) / 13.0, 0.0, 1.0);
}

/// Every tenth zone is pots, every third a bed on ground that takes in little: forty of them fill
/// the hours to about 85 %.
ZoneTask zone(int number, Eigen::Index members, std::mt19937& random) {
  const auto unit = [&random] { return static_cast<double>(random() % 1000U) / 1000.0; };
  const bool is_pots = number % 10 == 2;
  const double taw_mm = is_pots ? 28.0 : 60.0 + 40.0 * unit();
  Lanes et_mm(members, horizon_days);
  Lanes rain_mm = Lanes::Zero(members, horizon_days);
  for (Eigen::Index day = 0; day < horizon_days; ++day)
    for (Eigen::Index member = 0; member < members; ++member) {
      et_mm(member, day) = 4.0 + 3.0 * unit();
      if (members > 1 && random() % 10U == 0) rain_mm(member, day) = 10.0 * unit();
    }
  return {.name = "zone " + std::to_string(number + 1),
          .valve = number + 1,
          .root_zone = {.p = is_pots ? 0.3 : 0.5,
                        .adjust_p = false,
                        .aim_ks = 1.0,
                        .surplus = is_pots ? Surplus::at_once : Surplus::end_of_day},
          .start = {.depletion_mm = (is_pots ? 0.15 : 0.25) * taw_mm},
          .model = {.kc = Column::Constant(horizon_days, is_pots ? 1.0 : 0.5),
                    .taw_mm = Column::Constant(horizon_days, taw_mm)},
          .horizon = {.et_mm = et_mm, .rain_mm = rain_mm},
          .delivery = {.flow = Flow::litres_per_hour(is_pots ? 36.0 : 700.0),
                       .area = Area::m2(is_pots ? 1.43 : 20.0),
                       .multiplier = 1.1,
                       .leaching_share = is_pots ? 0.1 : 0.0},
          .intake = {.basic_rate = Rate::mm_per_hour(number % 3 == 1 ? 9.0 : 50.0),
                     .surface_storage = Depth::mm(5.0)},
          .et_share_before = share_before};
}

std::vector<ZoneTask> garden(int zones, Eigen::Index members) {
  std::mt19937 random(3);
  std::vector<ZoneTask> tasks;
  for (int i = 0; i < zones; ++i) tasks.push_back(zone(i, members, random));
  return tasks;
}

void plan_a_week(benchmark::State& state) {
  const auto zones = static_cast<int>(state.range(0));
  const std::vector<ZoneTask> tasks = garden(zones, state.range(1));
  Plan plan;
  for (auto _ : state) {
    plan = plan_week(tasks, two_windows(), household_timer(zones), monday, {});
    benchmark::DoNotOptimize(plan);
  }
  state.counters["proven"] = plan.proven ? 1.0 : 0.0;
  state.counters["harm_mm"] = static_cast<double>(plan.cost.harm_um) / 1000.0;
  state.counters["above_bound_l"] =
      static_cast<double>(plan.cost.price_cl - plan.bound.price_cl) / 100.0;
}
BENCHMARK(plan_a_week)
    ->ArgNames({"zones", "futures"})
    ->Args({3, 1})
    ->Args({6, 1})
    ->Args({12, 1})
    ->Args({40, 1})
    ->Args({3, 64})
    ->Args({12, 64})
    ->Unit(benchmark::kMillisecond);

/// The balance alone, 64 futures of two weeks: bit 0 of the kind a surface that evaporates, bit 1 a
/// dry part.
void balance_of_lanes(benchmark::State& state) {
  std::mt19937 random(3);
  ZoneTask task = zone(0, 64, random);
  if ((state.range(0) & 1) != 0) {
    task.root_zone.surface = SoilSurface{.rew_mm = 8.0, .tew_mm = 17.5, .fw = 0.35};
    task.model.kc_max = Column::Constant(horizon_days, 1.2);
    task.model.cover = Column::Constant(horizon_days, 0.4);
  }
  if ((state.range(0) & 2) != 0) task.root_zone.wetted_share = 0.4;
  Waterings given{.et_share_before = {0.0}, .net_mm = Eigen::ArrayXXd::Zero(1, horizon_days)};
  for (Eigen::Index day = 0; day < horizon_days; day += 3) given.net_mm(0, day) = 10.0;
  for (auto _ : state)
    benchmark::DoNotOptimize(
        balance(task.root_zone, task.start, task.model, task.horizon, given).end_mm.data());
  state.SetItemsProcessed(state.iterations() * 64 * horizon_days);
}
BENCHMARK(balance_of_lanes)->ArgName("kind")->DenseRange(0, 3);

void choose_minutes(benchmark::State& state) {
  const std::vector<ZoneTask> tasks = garden(3, state.range(1));
  const std::span<const ZoneTask> one(&tasks[static_cast<std::size_t>(state.range(0))], 1);
  std::size_t found = 0;
  for (auto _ : state)
    found = candidates(one, two_windows(), household_timer(3), monday, {}).size();
  state.counters["candidates"] = static_cast<double>(found);
}
BENCHMARK(choose_minutes)
    ->ArgNames({"kind", "futures"})
    ->ArgsProduct({{0, 1, 2}, {1, 64}})
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace runnel

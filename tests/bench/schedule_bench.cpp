// A week's programme from zone tasks: gardens of several sizes, and one zone under many futures.
#include <benchmark/benchmark.h>

#include "invented_garden.hpp"
#include "runnel/schedule/plan.hpp"

namespace runnel::bench {
namespace {

void plan_a_week(benchmark::State& state) {
  const auto zones = static_cast<int>(state.range(0));
  const std::vector<ZoneTask> tasks = garden(zones, state.range(1));
  Plan plan;
  for (auto _ : state) {
    plan = plan_week(tasks, {.hours = two_windows(), .timer = household_timer(zones)}, monday, {});
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
    found = candidates(one, {.hours = two_windows()}, household_timer(3), monday, {}).size();
  state.counters["candidates"] = static_cast<double>(found);
}
BENCHMARK(choose_minutes)
    ->ArgNames({"kind", "futures"})
    ->ArgsProduct({{0, 1, 2}, {1, 64}})
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace runnel::bench

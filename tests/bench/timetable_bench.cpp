// How far one timetable for all valves lies above what is known to be the least, by number of
// valves, over gardens with real candidates; and how long the search takes.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <ctime>
#include <map>

#include "invented_garden.hpp"
#include "runnel/schedule/timetable.hpp"

namespace runnel::bench {
namespace {

/// A week to pack.
struct Task {
  std::vector<int> valves;
  std::vector<std::vector<Candidate>> lists;  // [valves]
  WateringHours hours;
  Timer timer;
  double area_m2;  // of all zones
};

Task task_of(std::span<const ZoneTask> zones, const WateringHours& hours) {
  const Timer timer = household_timer(static_cast<int>(zones.size()));
  Task task{.valves = {}, .lists = {}, .hours = hours, .timer = timer, .area_m2 = 0.0};
  for (const ZoneTask& zone : zones) {
    task.valves.push_back(zone.valve);
    task.area_m2 += zone.delivery.area.m2();
    task.lists.push_back(candidates(std::span(&zone, 1), {.hours = hours}, timer, monday, {}));
  }
  return task;
}

/// The share of the hours that the cheapest of each valve would fill, mean of the days.
double load(const Task& task) {
  double used = 0.0;
  for (const auto& list : task.lists) {
    int days_on = 0;
    for (int day = 0; day < horizon_days; ++day)
      days_on += waters_on(list.front().days, monday + std::chrono::days{day}) ? 1 : 0;
    int cycles = 0;
    for (const int in_window : list.front().cycles_in) cycles += in_window;
    used +=
        static_cast<double>(cycles * list.front().run_in.at(0).count()) * days_on / horizon_days;
  }
  double open = 0.0;
  for (const Window& window : task.hours)
    open += static_cast<double>((window.closes - window.opens).count());
  return used / open;
}

WateringHours cut(WateringHours hours, double share) {
  for (Window& window : hours) {
    const auto length = static_cast<double>((window.closes - window.opens).count());
    window.closes =
        window.opens + std::chrono::minutes{std::max(1, static_cast<int>(length * share))};
  }
  return hours;
}

/// Gardens whose hours are as they are (0), or cut until the cheapest fill that share of them, %.
const std::vector<Task>& tasks(int valves, int filled_pct) {
  static std::map<std::pair<int, int>, std::vector<Task>> known;
  std::vector<Task>& list = known[{valves, filled_pct}];
  if (!list.empty()) return list;
  for (unsigned seed = 1; seed <= 10; ++seed) {
    const std::vector<ZoneTask> zones =
        garden(valves, 1, 100 * static_cast<unsigned>(valves) + seed);
    Task whole = task_of(zones, two_windows());
    if (filled_pct > 0)
      whole = task_of(zones, cut(two_windows(), 100.0 * load(whole) / filled_pct));
    list.push_back(std::move(whole));
  }
  return list;
}

void gap_to_bound(benchmark::State& state) {
  std::vector<const Task*> all;
  if (state.range(1) == 0) {
    for (const Task& task : tasks(static_cast<int>(state.range(0)), 0)) all.push_back(&task);
  } else {
    for (const int filled_pct : {50, 70, 90, 110}) {
      for (const Task& task : tasks(static_cast<int>(state.range(0)), filled_pct)) {
        all.push_back(&task);
      }
    }
  }
  std::vector<double> gap_l;
  std::vector<double> gap_mm;
  double harm_mm = 0.0;
  double price_l = 0.0;
  double worst_ms = 0.0;
  int proven = 0;
  int harm_proven = 0;
  for (auto _ : state) {
    gap_l.clear();
    gap_mm.clear();
    harm_mm = price_l = 0.0;
    proven = harm_proven = 0;
    for (const Task* task : all) {
      const std::clock_t begins = std::clock();  // of this process: others do not count
      const Timetable timetable =
          pack(task->valves, task->lists, {.hours = task->hours, .timer = task->timer});
      const double took_ms = 1000.0 * static_cast<double>(std::clock() - begins) / CLOCKS_PER_SEC;
      worst_ms = std::max(worst_ms, took_ms);
      proven += timetable.proven ? 1 : 0;
      harm_mm += static_cast<double>(timetable.cost.harm_um) / 1000.0;
      price_l += static_cast<double>(timetable.cost.price_cl) / 100.0;
      if (timetable.cost.harm_um > timetable.bound.harm_um) continue;
      ++harm_proven;
      gap_l.push_back(static_cast<double>(timetable.cost.price_cl - timetable.bound.price_cl) /
                      100.0);
      gap_mm.push_back(gap_l.back() / task->area_m2);
    }
  }
  std::sort(gap_l.begin(), gap_l.end());
  std::sort(gap_mm.begin(), gap_mm.end());
  // Litres a week above the bound, of the gardens whose harm is known to be the least possible.
  state.counters["proven"] = proven;
  state.counters["harm_proven"] = harm_proven;
  state.counters["of"] = static_cast<double>(all.size());
  state.counters["median_l"] = gap_l.empty() ? 0.0 : gap_l[gap_l.size() / 2];
  state.counters["worst_l"] = gap_l.empty() ? 0.0 : gap_l.back();
  state.counters["median_mm"] = gap_mm.empty() ? 0.0 : gap_mm[gap_mm.size() / 2];
  state.counters["worst_mm"] = gap_mm.empty() ? 0.0 : gap_mm.back();
  state.counters["worst_ms"] = worst_ms;
  state.counters["harm_mm"] = harm_mm;
  state.counters["price_l"] = price_l;
}
BENCHMARK(gap_to_bound)
    ->ArgNames({"valves", "cut"})
    ->ArgsProduct({{6, 12, 24, 40}, {0, 1}})
    ->Iterations(1)
    ->Unit(benchmark::kMillisecond);

/// One timetable for forty zones, one valve at a time, two windows. The baseline in the same run is
/// choosing_minutes: the same forty zones' candidates, one future.
void forty_zones(benchmark::State& state) {
  using Clock = std::chrono::steady_clock;
  const std::vector<ZoneTask> zones = garden(40, 1);
  Clock::duration choosing_minutes{};
  Clock::duration one_timetable{};
  Timetable timetable;
  for (auto _ : state) {
    const auto begins = Clock::now();
    const Task task = task_of(zones, two_windows());
    const auto chosen = Clock::now();
    timetable = pack(task.valves, task.lists, {.hours = task.hours, .timer = task.timer});
    one_timetable += Clock::now() - chosen;
    choosing_minutes += chosen - begins;
    benchmark::DoNotOptimize(timetable);
  }
  state.counters["timetable_to_choosing_minutes"] =
      static_cast<double>(one_timetable.count()) / static_cast<double>(choosing_minutes.count());
  state.counters["above_bound_l"] =
      static_cast<double>(timetable.cost.price_cl - timetable.bound.price_cl) / 100.0;
}
BENCHMARK(forty_zones)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace runnel::bench

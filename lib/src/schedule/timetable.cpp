#include "runnel/schedule/timetable.hpp"

#include <algorithm>
#include <stdexcept>

#include "timetable_search.hpp"

namespace runnel {
namespace {

ValveTimes times_of(int valve, const Placed& placed) {
  ValveTimes times{.valve = valve, .days = placed.candidate->days, .openings = {}};
  for (const Cycle& cycle : placed.cycles)
    times.openings.push_back(
        {.start = WallTime{cycle.start}, .length = std::chrono::minutes{cycle.run}});
  return times;
}

int typed_for(std::chrono::minutes length, const std::vector<RunLength>& lengths) {
  const auto found =
      std::find_if(lengths.begin(), lengths.end(),
                   [length](const RunLength& offered) { return offered.runs == length; });
  return found->typed_min;
}

/// A valve of its own days and starts.
Programme programme_of(const ValveTimes& times, const Timer& timer) {
  const std::vector<RunLength> lengths = run_lengths(timer);
  Programme programme{
      .days = times.days, .starts = {}, .runs = {{.valve = times.valve, .typed_min = {}}}};
  std::vector<int>& typed_min = programme.runs.front().typed_min;
  for (const ValveTimes::Opening& opening : times.openings) {
    programme.starts.push_back(opening.start);
    if (timer.length_per_start || typed_min.empty())
      typed_min.push_back(typed_for(opening.length, lengths));
  }
  return programme;
}

}  // namespace

Timetable pack(std::span<const int> valve_numbers,
               std::span<const std::vector<Candidate>> candidates, const Constraints& constraints) {
  if (valve_numbers.size() != candidates.size()) {
    throw std::invalid_argument("pack: valve numbers and candidates differ in number");
  }
  if (candidates.size() > kMostValves) throw std::invalid_argument("pack: too many valves");
  const Limits limits(valve_numbers, constraints);
  Packing packing(candidates, limits, constraints.timer);
  packing.search();
  Choice best = packing.best();
  std::sort(best.placed.begin(), best.placed.end(),
            [](const Placed& a, const Placed& b) { return a.valve < b.valve; });
  Timetable timetable{.chosen = {},
                      .valves = {},
                      .programmes = {},
                      .cost = best.cost,
                      .bound = packing.bound(),
                      .proven = best.cost == packing.bound()};
  for (std::size_t v = 0; v < best.placed.size(); ++v) {
    timetable.chosen.push_back(best.chosen[v]->index);
    timetable.valves.push_back(times_of(valve_numbers[v], best.placed[v]));
    timetable.programmes.push_back(programme_of(timetable.valves.back(), constraints.timer));
  }
  return timetable;
}

}  // namespace runnel

#include "runnel/schedule/timetable.hpp"

#include <algorithm>
#include <stdexcept>

#include "timetable_search.hpp"

namespace runnel {
namespace {

Programme programme_of(int valve, const Placed& placed) {
  Programme programme{
      .valve = valve, .days = placed.candidate->days, .starts = {}, .run = placed.candidate->run};
  for (const int start : placed.starts) programme.starts.emplace_back(start);
  return programme;
}

}  // namespace

Timetable pack(std::span<const int> valve_numbers,
               std::span<const std::vector<Candidate>> candidates, const WateringHours& hours,
               const Timer& timer) {
  if (valve_numbers.size() != candidates.size()) {
    throw std::invalid_argument("pack: valve numbers and candidates differ in number");
  }
  if (candidates.size() > kMostValves) throw std::invalid_argument("pack: too many valves");
  Packing packing(candidates, hours, timer);
  packing.search();
  Choice best = packing.best();
  std::sort(best.placed.begin(), best.placed.end(),
            [](const Placed& a, const Placed& b) { return a.valve < b.valve; });
  Timetable timetable{.chosen = {},
                      .programmes = {},
                      .cost = best.cost,
                      .bound = packing.bound(),
                      .proven = best.cost == packing.bound()};
  for (std::size_t v = 0; v < best.placed.size(); ++v) {
    timetable.chosen.push_back(best.chosen[v]->index);
    timetable.programmes.push_back(programme_of(valve_numbers[v], best.placed[v]));
  }
  return timetable;
}

}  // namespace runnel

#include "shared_programmes.hpp"

#include <algorithm>
#include <optional>

#include "sequence.hpp"
#include "shared_packing.hpp"
#include "shared_search.hpp"
#include "shared_shorter.hpp"

namespace runnel {
namespace {

using std::chrono::days;
using std::chrono::minutes;

constexpr std::size_t kMostShortened = 3;  // sharings
constexpr int kMostRepairs = 60;           // timetables made anew
/// All meetings of dates and weekdays: after 28 years the calendar repeats.
constexpr int kCalendarDays = 28 * 365 + 7;
constexpr double kRounding = 1e-9;  // relative: sums of litres that a limit just allows

double litres_a_day(const SharedGarden& garden, std::size_t valve, std::size_t option) {
  return minutes_a_day(garden.lists[valve][option]) *
         garden.constraints.litres_per_minute(garden.numbers[valve]);
}

bool is_limited(const SharedGarden& garden, const LitreLimit& limit, std::size_t valve) {
  return std::find(limit.valves.begin(), limit.valves.end(), garden.numbers[valve]) !=
         limit.valves.end();
}

/// Whether these valves ever bring more than the limit, on any day or in seven days running.
bool over(const SharedGarden& garden, const LitreLimit& limit, const Sharing& now) {
  std::vector<double> litres(kCalendarDays, 0.0);
  for (std::size_t v = 0; v < now.chosen.size(); ++v) {
    if (!now.programme[v] || !is_limited(garden, limit, v)) continue;
    const double each_l = litres_a_day(garden, v, now.chosen[v]);
    const DayPattern& pattern = garden.frames[now.frames[*now.programme[v]]].days;
    for (std::size_t d = 0; d < litres.size(); ++d)
      if (waters_on(pattern, Date{days{static_cast<int>(d)}})) litres[d] += each_l;
  }
  for (std::size_t d = 0; d + 7 <= litres.size(); ++d) {
    double week_l = 0.0;
    for (std::size_t i = d; i < d + 7; ++i) week_l += litres[i];
    if (limit.a_day && litres[d] > *limit.a_day * (1.0 + kRounding)) return true;
    if (limit.a_week && week_l > *limit.a_week * (1.0 + kRounding)) return true;
  }
  return false;
}

/// Limits that days far ahead break: the valve that suffers least stays shut, one after the other.
void keep_to_litres(const SharedGarden& garden, Sharing& now) {
  for (const LitreLimit& limit : garden.constraints.litres) {
    while (over(garden, limit, now)) {
      std::optional<Sharing> least;
      for (std::size_t v = 0; v < now.chosen.size(); ++v) {
        if (!now.programme[v] || !is_limited(garden, limit, v)) continue;
        Sharing without = now;
        choose(garden, without, v, std::nullopt, garden.dry[v]);
        if (!least || without.cost < least->cost) least = std::move(without);
      }
      if (!least) break;
      now = *std::move(least);
    }
  }
}

std::size_t window_at(WallTime start, const WateringHours& hours) {
  for (std::size_t w = 0; w < hours.size(); ++w)
    if (start >= hours[w].opens && start < hours[w].closes) return w;
  return 0;
}

Run run_of(const SharedGarden& garden, std::size_t valve, const Candidate& candidate,
           const std::vector<WallTime>& starts) {
  Run run{.valve = garden.numbers[valve], .typed_min = {}};
  const std::vector<RunLength> lengths = run_lengths(garden.constraints.timer);
  for (const WallTime start : starts) {
    const minutes length = candidate.run_in[window_at(start, garden.constraints.hours)];
    const auto typed = std::find_if(lengths.begin(), lengths.end(),
                                    [length](const RunLength& one) { return one.runs == length; });
    if (garden.constraints.timer.length_per_start || run.typed_min.empty())
      run.typed_min.push_back(typed->typed_min);
  }
  return run;
}

/// What to type, by the first valve of each programme; those of shut valves have no starts.
std::vector<Programme> programmes_of(const SharedGarden& garden, const PackedProgrammes& now) {
  const Sharing& sharing = now.sharing;
  std::vector<Programme> programmes;
  for (std::size_t p = 0; p < now.programmes.size(); ++p) {
    const Timed& timed = now.programmes[p];
    Programme programme{
        .days = garden.frames[sharing.frames[p]].days, .starts = timed.starts, .runs = {}};
    for (const std::size_t v : timed.members)
      if (sharing.programme[v])
        programme.runs.push_back(
            run_of(garden, v, garden.lists[v][sharing.chosen[v]], timed.starts));
    if (!programme.runs.empty()) programmes.push_back(std::move(programme));
  }
  for (std::size_t v = 0; v < sharing.chosen.size(); ++v)
    if (!sharing.programme[v])
      programmes.push_back({.days = garden.lists[v][garden.dry[v]].days,
                            .starts = {},
                            .runs = {{.valve = garden.numbers[v], .typed_min = {}}}});
  std::stable_sort(programmes.begin(), programmes.end(),
                   [](const Programme& a, const Programme& b) {
                     return a.runs.front().valve < b.runs.front().valve;
                   });
  return programmes;
}

Cost least_of(const std::vector<Candidate>& list) {
  return std::min_element(list.begin(), list.end(),
                          [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; })
      ->cost;
}

Timetable timetable_of(const SharedGarden& garden, const PackedProgrammes& now) {
  Timetable timetable{.chosen = now.sharing.chosen,
                      .valves = {},
                      .programmes = programmes_of(garden, now),
                      .cost = now.sharing.cost,
                      .bound = {}};
  for (std::size_t v = 0; v < garden.lists.size(); ++v) {
    timetable.valves.push_back(
        times_of(garden.numbers[v], timetable.programmes, garden.constraints.timer));
    timetable.bound = timetable.bound + least_of(garden.lists[v]);
  }
  timetable.proven = timetable.cost == timetable.bound;
  return timetable;
}

PackedProgrammes packed_within_litres(const SharedGarden& garden, const Sharing& sharing,
                                      OtherDays others) {
  PackedProgrammes now = packed(garden, sharing, others);
  keep_to_litres(garden, now.sharing);
  return now;
}

/// The best of the sharings, each of which cannot cost less than what it says unless on other days.
PackedProgrammes best_packed(const SharedGarden& garden, const std::vector<Sharing>& sharings) {
  std::optional<PackedProgrammes> best;
  for (const Sharing& sharing : sharings) {
    if (best && !(sharing.cost < best->sharing.cost)) break;
    PackedProgrammes now = packed_within_litres(garden, sharing, OtherDays::yes);
    if (!best || now.sharing.cost < best->sharing.cost) best = std::move(now);
  }
  return *std::move(best);
}

/// Valves whose sums of minutes promised more than the start times hold: each tried anew in every
/// programme, the others as they are, as long as that brings something.
void repair(const SharedGarden& garden, PackedProgrammes& best, const Cost& hoped) {
  int left = kMostRepairs;
  bool better = true;
  while (better && hoped < best.sharing.cost) {
    better = false;
    for (std::size_t v = 0; v < garden.lists.size(); ++v) {
      for (std::size_t p = 0; p < best.sharing.frames.size(); ++p) {
        for (const std::size_t option : garden.frames[best.sharing.frames[p]].options[v]) {
          if (!(garden.lists[v][option].cost < garden.lists[v][best.sharing.chosen[v]].cost)) break;
          if (left-- <= 0) return;
          Sharing other = best.sharing;
          choose(garden, other, v, p, option);
          PackedProgrammes now = packed_within_litres(garden, other, OtherDays::no);
          if (!(now.sharing.cost < best.sharing.cost)) continue;
          best = std::move(now);
          better = true;
          break;
        }
        if (better) break;
      }
      if (better) break;
    }
  }
}

/// Whether each valve costs what it would in the best of the frames, with all the room it likes.
bool unhindered(const SharedGarden& garden, const Sharing& sharing) {
  for (std::size_t v = 0; v < sharing.chosen.size(); ++v)
    for (const std::size_t f : sharing.frames)
      for (const std::size_t option : garden.frames[f].options[v])
        if (garden.lists[v][option].cost < garden.lists[v][sharing.chosen[v]].cost) return false;
  return true;
}

}  // namespace

Timetable pack_shared(std::span<const int> numbers, std::vector<std::vector<Candidate>>& lists,
                      const Constraints& constraints, const WithRuns& with_runs) {
  const SharedGarden garden = shared_garden(numbers, lists, constraints);
  std::vector<Sharing> sharings = cheapest_sharings(garden);
  const Sharing first = sharings.front();
  PackedProgrammes whole = best_packed(garden, sharings);
  if (unhindered(garden, first) && whole.sharing.cost <= first.cost)
    return timetable_of(garden, whole);

  if (sharings.size() > kMostShortened) sharings.resize(kMostShortened);
  for (Sharing& other : roomier(garden, first)) sharings.push_back(std::move(other));
  add_shorter(garden, sharings, lists, with_runs);
  const SharedGarden with_shorter = shared_garden(numbers, lists, constraints);
  for (Sharing& sharing : sharings) sharing = shortened(with_shorter, sharing);
  std::stable_sort(sharings.begin(), sharings.end(),
                   [](const Sharing& a, const Sharing& b) { return a.cost < b.cost; });
  PackedProgrammes best = best_packed(with_shorter, sharings);
  if (!(best.sharing.cost < whole.sharing.cost)) best = std::move(whole);
  repair(with_shorter, best, sharings.front().cost);
  return timetable_of(with_shorter, best);
}

}  // namespace runnel

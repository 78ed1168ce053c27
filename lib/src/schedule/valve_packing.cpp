#include "valve_packing.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "run_limits.hpp"
#include "runnel/schedule/changes.hpp"
#include "shared_programmes.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

/// Rounds of correcting pots once their start times are known; each makes the timetable anew.
constexpr int most_rounds = 8;
/// Other days tried for a valve whose new days move the starts of others.
constexpr int most_other_days = 3;

/// What is like a candidate that does harm at its start times, but for minutes and runs by hand,
/// does harm there too: else it would only seem better.
void correct_alike(const PlannedValve& valve, const Candidate& chosen, std::vector<Candidate>& list,
                   const ValveTimes& times, const Constraints& constraints, Date from,
                   const SearchOptions& options) {
  for (Candidate& other : list)
    if (&other != &chosen && other.days == chosen.days && other.cycles_in == chosen.cycles_in)
      other = at_these_times(valve, other, times, constraints, from, options);
}

/// Pots' cheapest candidates nearly whole, for hours in which not everything fits. Where it does
/// they would only cost time: a pot given a little less is corrected back to what it needs.
/// @return whether there are any.
bool offer_nine_tenths(std::span<const PlannedValve> valves,
                       std::vector<std::vector<Candidate>>& lists, const Constraints& constraints,
                       Date from, const SearchOptions& options) {
  const std::vector<RunLength> lengths = run_lengths(constraints.timer);
  bool any = false;
  for (std::size_t v = 0; v < valves.size(); ++v) {
    const Candidate whole = lists[v].front();
    if (!has_pots(valves[v])) continue;
    std::vector<minutes> run_in = whole.run_in;
    for (minutes& run : run_in) {
      const auto longer =
          std::find_if(lengths.begin(), lengths.end(),
                       [run](const RunLength& length) { return 10 * length.runs > 9 * run; });
      if (run.count() > 0 && longer != lengths.begin()) run = std::prev(longer)->runs;
    }
    if (run_in == whole.run_in) continue;
    any = true;
    lists[v].push_back(
        with_other_runs(valves[v], whole, std::move(run_in), constraints, from, options));
  }
  return any;
}

/// Pots were searched with each watering at the end of its window. Where the times found leave
/// them short, the candidate is corrected and the timetable made again.
Timetable pack_corrected(std::span<const PlannedValve> valves,
                         std::vector<std::vector<Candidate>>& lists, const Constraints& constraints,
                         Date from, const SearchOptions& options) {
  std::vector<int> numbers;
  for (const PlannedValve& valve : valves) numbers.push_back(valve.number);
  const auto packed = [&] {
    if (constraints.timer.programmes <= 0) return pack(numbers, lists, constraints);
    return pack_shared(numbers, lists, constraints,
                       [&](std::size_t v, const Candidate& whole, std::vector<minutes> run_in) {
                         return with_runs(valves[v].tasks, whole, std::move(run_in),
                                          constraints.rules_of(numbers[v]), constraints.timer, from,
                                          options);
                       });
  };
  Timetable timetable = packed();
  for (int round = 0; round < most_rounds; ++round) {
    bool changed = false;
    for (std::size_t v = 0; v < valves.size(); ++v) {
      Candidate& chosen = lists[v][timetable.chosen[v]];
      const bool harm_at_window_ends = chosen.cost.harm_um > 0 && valves[v].in_force == nullptr;
      if (!has_pots(valves[v]) || harm_at_window_ends || timetable.valves[v].openings.empty())
        continue;
      const Candidate corrected =
          at_these_times(valves[v], chosen, timetable.valves[v], constraints, from, options);
      if (corrected.run_in == chosen.run_in && corrected.cost == chosen.cost) continue;
      if (corrected.cost.harm_um > 0 && valves[v].in_force != nullptr)
        correct_alike(valves[v], chosen, lists[v], timetable.valves[v], constraints, from, options);
      chosen = corrected;
      changed = true;
    }
    if (!changed) break;
    timetable = packed();
  }
  return timetable;
}

Timetable pack_with_pots(std::span<const PlannedValve> valves,
                         std::vector<std::vector<Candidate>>& lists, const Constraints& constraints,
                         Date from, const SearchOptions& options) {
  Timetable timetable = pack_corrected(valves, lists, constraints, from, options);
  if (timetable.cost.harm_um == 0) return timetable;
  std::vector<std::vector<Candidate>> more = lists;
  if (!offer_nine_tenths(valves, more, constraints, from, options)) return timetable;
  Timetable finer = pack_corrected(valves, more, constraints, from, options);
  if (!(finer.cost < timetable.cost)) return timetable;
  lists = std::move(more);
  return finer;
}

/// A run by hand that stands for a change on the timer: where another valve takes the start times
/// it goes with, the valve does without.
Timetable pack_with_hand_runs(std::span<const PlannedValve> valves,
                              std::vector<std::vector<Candidate>>& lists,
                              const Constraints& constraints, Date from,
                              const SearchOptions& options) {
  const auto by_hand = [](const Candidate& candidate) {
    return candidate.by_hand_min > 0 && candidate.in_force;
  };
  for (;;) {
    Timetable timetable = pack_with_pots(valves, lists, constraints, from, options);
    bool moved = false;
    for (std::size_t v = 0; v < valves.size(); ++v) {
      if (!by_hand(lists[v][timetable.chosen[v]]) ||
          settings_changed(*valves[v].in_force, timetable.valves[v]) == 0)
        continue;
      std::erase_if(lists[v], by_hand);
      moved = true;
    }
    if (!moved) return timetable;
  }
}

/// All that is changed on the timer has its price, what one valve's change moves for another too.
Cost with_moved(std::span<const PlannedValve> valves,
                const std::vector<std::vector<Candidate>>& lists, const Timetable& timetable,
                const Constraints& constraints) {
  Cost cost = timetable.cost;
  for (std::size_t v = 0; v < valves.size(); ++v)
    if (valves[v].in_force != nullptr)
      cost.price_cl +=
          price_of_moved_cl(valves[v].tasks, lists[v][timetable.chosen[v]], *valves[v].in_force,
                            timetable.valves[v], constraints.rules_of(valves[v].number).hours);
  return cost;
}

}  // namespace

Timetable pack_valves(std::span<const PlannedValve> valves,
                      std::vector<std::vector<Candidate>>& lists, const Constraints& constraints,
                      Date from, const SearchOptions& options) {
  // Where new days for one valve move the starts of others, other days for it may change less. The
  // valves are gone through once.
  Timetable best = pack_with_hand_runs(valves, lists, constraints, from, options);
  Cost cost = with_moved(valves, lists, best, constraints);
  for (std::size_t v = 0; v < valves.size() && best.cost < cost; ++v) {
    for (int tries = 0; tries < most_other_days && best.cost < cost; ++tries) {
      const DayPattern days = best.valves[v].days;
      if (valves[v].in_force == nullptr || same_days(valves[v].in_force->days, days)) break;
      std::vector<std::vector<Candidate>> others = lists;
      std::erase_if(others[v], [&days](const Candidate& one) {
        return std::count(one.cycles_in.begin(), one.cycles_in.end(), 0) <
                   static_cast<std::ptrdiff_t>(one.cycles_in.size()) &&
               same_days(one.days, days);
      });
      Timetable other = pack_with_hand_runs(valves, others, constraints, from, options);
      const Cost other_cost = with_moved(valves, others, other, constraints);
      if (!(other_cost < cost)) break;
      best = std::move(other);
      cost = other_cost;
      lists = std::move(others);
    }
  }
  return best;
}

}  // namespace runnel

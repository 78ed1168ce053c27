#include "planned_valve.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include "harm.hpp"
#include "run_limits.hpp"
#include "runnel/schedule/changes.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

const ValveTimes* times_in_force(int valve, const Timer& timer,
                                 std::span<const ValveTimes> in_force) {
  return timer.programmes > 0 ? nullptr : find_times(in_force, valve);
}

bool beyond(const PlannedValve& valve, const ValveTimes& times, int by_hand_min,
            const Constraints& constraints, Date from, const SearchOptions& options) {
  return std::any_of(valve.tasks.begin(), valve.tasks.end(), [&](const ZoneTask& task) {
    return !harm_at(task, times, by_hand_min, constraints, from, options).allowed();
  });
}

/// Every run one of the timer's lengths longer; nothing when one would be longer than `longest`.
std::optional<std::vector<minutes>> longer(std::vector<minutes> runs,
                                           std::span<const RunLength> lengths, minutes longest) {
  for (minutes& run : runs) {
    if (run.count() == 0) continue;
    const auto next = std::find_if(lengths.begin(), lengths.end(),
                                   [run](const RunLength& length) { return length.runs > run; });
    if (next == lengths.end() || next->runs > longest) return std::nullopt;
    run = next->runs;
  }
  return runs;
}

/// The valve's times with other runs in each window.
ValveTimes with_lengths(ValveTimes times, const std::vector<minutes>& run_in,
                        const WateringHours& hours) {
  for (ValveTimes::Opening& opening : times.openings)
    for (std::size_t w = 0; w < hours.size(); ++w)
      if (opening.start >= hours[w].opens && opening.start < hours[w].closes)
        opening.length = run_in[w];
  return times;
}

/// The fewest minutes in each window at the valve's own start times with which no zone goes beyond
/// its limit, or nothing when no run that timer and ground allow is long enough.
std::optional<std::vector<minutes>> enough_at_these_times(const PlannedValve& valve,
                                                          std::vector<minutes> run_in,
                                                          const ValveTimes& times, int by_hand_min,
                                                          const Constraints& constraints, Date from,
                                                          const SearchOptions& options) {
  const WateringHours& hours = constraints.hours;
  const ValveRules rules = constraints.rules_of(valve.number);
  const std::vector<RunLength> lengths = run_lengths(constraints.timer);
  const minutes longest = longest_run(valve.tasks, constraints.timer);
  while (
      beyond(valve, with_lengths(times, run_in, hours), by_hand_min, constraints, from, options)) {
    const auto next = longer(std::move(run_in), lengths, longest);
    if (!next || !keeps_minutes(rules, with_lengths(times, *next, hours))) return std::nullopt;
    run_in = *next;
  }
  return run_in;
}

}  // namespace

std::vector<PlannedValve> by_valve(std::span<const ZoneTask> tasks, const Timer& timer,
                                   std::span<const ValveTimes> in_force,
                                   std::span<const HandRun> by_hand) {
  std::map<int, PlannedValve> valves;
  for (std::size_t z = 0; z < tasks.size(); ++z) {
    PlannedValve& valve = valves[tasks[z].valve];
    valve.number = tasks[z].valve;
    valve.zones.push_back(z);
    valve.tasks.push_back(tasks[z]);
  }
  std::vector<PlannedValve> sorted;
  for (auto& [number, valve] : valves) {
    valve.in_force = times_in_force(number, timer, in_force);
    for (const HandRun& run : by_hand)
      if (run.valve == number) valve.by_hand_min = run.minutes;
    sorted.push_back(std::move(valve));
  }
  return sorted;
}

bool has_pots(const PlannedValve& valve) {
  return std::any_of(valve.tasks.begin(), valve.tasks.end(), [](const ZoneTask& task) {
    return task.root_zone.surplus == Surplus::at_once;
  });
}

std::vector<Candidate> candidates_of(const PlannedValve& valve, const Constraints& constraints,
                                     Date from, const SearchOptions& options) {
  std::vector<Candidate> list =
      candidates(valve.tasks, constraints.rules_of(valve.number), constraints.timer, from, options);
  if (valve.in_force == nullptr) return list;
  return with_changes_priced(valve.tasks, std::move(list), *valve.in_force, constraints, from,
                             options, valve.by_hand_min);
}

Candidate with_other_runs(const PlannedValve& valve, Candidate candidate,
                          std::vector<minutes> run_in, const Constraints& constraints, Date from,
                          const SearchOptions& options) {
  const ValveRules rules = constraints.rules_of(valve.number);
  candidate.in_force = false;
  candidate =
      with_runs(valve.tasks, candidate, std::move(run_in), rules, constraints.timer, from, options);
  return valve.in_force == nullptr
             ? candidate
             : at_price_of_change(valve.tasks, std::move(candidate), *valve.in_force, rules.hours);
}

Candidate at_these_times(const PlannedValve& valve, const Candidate& chosen,
                         const ValveTimes& times, const Constraints& constraints, Date from,
                         const SearchOptions& options) {
  const ValveRules rules = constraints.rules_of(valve.number);
  const WateringHours& hours = constraints.hours;
  const std::vector<RunLength> lengths = run_lengths(constraints.timer);
  const minutes longest = longest_run(valve.tasks, constraints.timer);
  const int by_hand_min = chosen.by_hand_min;
  // A run by hand that saves a change goes with times unchanged.
  const bool as_it_is = by_hand_min > 0 && chosen.in_force;
  if (as_it_is && !beyond(valve, times, by_hand_min, constraints, from, options)) return chosen;
  const auto anew = [&](const std::vector<minutes>& run_in) {
    return with_other_runs(valve, chosen, run_in, constraints, from, options);
  };
  const auto run_in = as_it_is ? std::nullopt
                               : enough_at_these_times(valve, chosen.run_in, times, by_hand_min,
                                                       constraints, from, options);
  if (run_in) return *run_in == chosen.run_in ? chosen : anew(*run_in);
  const auto at = [&](const std::vector<minutes>& runs) {
    return harm_um(valve.tasks, with_lengths(times, runs, hours), by_hand_min, constraints, from,
                   options);
  };
  // Of less than a micrometre nothing is made.
  std::vector<minutes> fewest = chosen.run_in;
  std::int64_t least_um = std::max<std::int64_t>(1, at(fewest));
  if (valve.in_force != nullptr && !as_it_is) {
    for (auto next = longer(fewest, lengths, longest);
         next && keeps_minutes(rules, with_lengths(times, *next, hours));
         next = longer(std::move(*next), lengths, longest)) {
      const std::int64_t less_um = std::max<std::int64_t>(1, at(*next));
      if (less_um + 1 < least_um) fewest = *next;
      least_um = std::min(least_um, less_um);
    }
  }
  Candidate harmful = fewest == chosen.run_in ? chosen : anew(fewest);
  harmful.cost.harm_um = least_um;
  return harmful;
}

}  // namespace runnel

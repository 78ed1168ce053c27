#include "runnel/schedule/plan.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <stdexcept>

#include "harm.hpp"
#include "run_limits.hpp"
#include "runnel/schedule/changes.hpp"
#include "runnel/schedule/days_within.hpp"
#include "shared_programmes.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

constexpr int week_days = 7;
/// Rounds of correcting pots once their start times are known; each makes the timetable anew.
constexpr int most_rounds = 8;
/// Other days tried for a valve whose new days move the starts of others.
constexpr int most_other_days = 3;

/// The zones of one valve, in the garden's order.
struct Valve {
  int number;
  std::vector<std::size_t> zones;  // indices into the tasks
  std::vector<ZoneTask> tasks;
  const ValveTimes* in_force = nullptr;  // where its changes have a price
  int by_hand_min = 0;                   // decided already
};

const ValveTimes* times_in_force(int valve, const Timer& timer,
                                 std::span<const ValveTimes> in_force) {
  if (timer.programmes > 0) return nullptr;
  const auto found =
      std::find_if(in_force.begin(), in_force.end(),
                   [valve](const ValveTimes& times) { return times.valve == valve; });
  return found == in_force.end() ? nullptr : &*found;
}

std::vector<Valve> by_valve(std::span<const ZoneTask> tasks, const Timer& timer,
                            std::span<const ValveTimes> in_force,
                            std::span<const HandRun> by_hand) {
  std::map<int, Valve> valves;
  for (std::size_t z = 0; z < tasks.size(); ++z) {
    Valve& valve = valves[tasks[z].valve];
    valve.number = tasks[z].valve;
    valve.zones.push_back(z);
    valve.tasks.push_back(tasks[z]);
  }
  std::vector<Valve> sorted;
  for (auto& [number, valve] : valves) {
    valve.in_force = times_in_force(number, timer, in_force);
    for (const HandRun& run : by_hand)
      if (run.valve == number) valve.by_hand_min = run.minutes;
    sorted.push_back(std::move(valve));
  }
  return sorted;
}

std::vector<Candidate> candidates_of(const Valve& valve, const Constraints& constraints, Date from,
                                     const SearchOptions& options) {
  std::vector<Candidate> list =
      candidates(valve.tasks, constraints.rules_of(valve.number), constraints.timer, from, options);
  if (valve.in_force == nullptr) return list;
  return with_changes_priced(valve.tasks, std::move(list), *valve.in_force, constraints, from,
                             options, valve.by_hand_min);
}

bool beyond(const Valve& valve, const ValveTimes& times, int by_hand_min,
            const Constraints& constraints, Date from, const SearchOptions& options) {
  return std::any_of(valve.tasks.begin(), valve.tasks.end(), [&](const ZoneTask& task) {
    return !harm_at(task, times, by_hand_min, constraints, from, options).allowed();
  });
}

bool has_pots(const Valve& valve) {
  return std::any_of(valve.tasks.begin(), valve.tasks.end(), [](const ZoneTask& task) {
    return task.root_zone.surplus == Surplus::at_once;
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
std::optional<std::vector<minutes>> enough_at_these_times(const Valve& valve,
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

/// The candidate as it does at start times found: with more minutes if that keeps its zones within
/// their limits, else with the harm it does; where changes have a price, with the minutes that do
/// the least.
Candidate at_these_times(const Valve& valve, const Candidate& chosen, const ValveTimes& times,
                         const Constraints& constraints, Date from, const SearchOptions& options) {
  const ValveRules rules = constraints.rules_of(valve.number);
  const WateringHours& hours = constraints.hours;
  const std::vector<RunLength> lengths = run_lengths(constraints.timer);
  const minutes longest = longest_run(valve.tasks, constraints.timer);
  const int by_hand_min = chosen.by_hand_min;
  // A run by hand that saves a change goes with times unchanged.
  const bool as_it_is = by_hand_min > 0 && chosen.in_force;
  if (as_it_is && !beyond(valve, times, by_hand_min, constraints, from, options)) return chosen;
  const auto anew = [&](const std::vector<minutes>& run_in) {
    Candidate other =
        with_runs(valve.tasks, chosen, run_in, rules, constraints.timer, from, options);
    return valve.in_force == nullptr
               ? other
               : at_price_of_change(valve.tasks, std::move(other), *valve.in_force, rules.hours);
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

/// What is like a candidate that does harm at its start times, but for minutes and runs by hand,
/// does harm there too: else it would only seem better.
void correct_alike(const Valve& valve, const Candidate& chosen, std::vector<Candidate>& list,
                   const ValveTimes& times, const Constraints& constraints, Date from,
                   const SearchOptions& options) {
  for (Candidate& other : list)
    if (&other != &chosen && other.days == chosen.days && other.cycles_in == chosen.cycles_in)
      other = at_these_times(valve, other, times, constraints, from, options);
}

/// Pots' cheapest candidates nearly whole, for hours in which not everything fits. Where it does
/// they would only cost time: a pot given a little less is corrected back to what it needs.
/// @return whether there are any.
bool offer_nine_tenths(std::span<const Valve> valves, std::vector<std::vector<Candidate>>& lists,
                       const Constraints& constraints, Date from, const SearchOptions& options) {
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
    lists[v].push_back(with_runs(valves[v].tasks, whole, std::move(run_in),
                                 constraints.rules_of(valves[v].number), constraints.timer, from,
                                 options));
  }
  return any;
}

/// Pots were searched with each watering at the end of its window. Where the times found leave
/// them short, the candidate is corrected and the timetable made again.
Timetable pack_with_pots(std::span<const Valve> valves, std::vector<std::vector<Candidate>>& lists,
                         const Constraints& constraints, Date from, const SearchOptions& options) {
  std::vector<int> numbers;
  for (const Valve& valve : valves) numbers.push_back(valve.number);
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
  if (timetable.cost.harm_um == 0 || !offer_nine_tenths(valves, lists, constraints, from, options))
    return timetable;
  const Timetable finer = packed();
  return finer.cost < timetable.cost ? finer : timetable;
}

/// A run by hand that stands for a change on the timer: where another valve takes the start times
/// it goes with, the valve does without.
Timetable pack_with_hand_runs(std::span<const Valve> valves,
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
Cost with_moved(std::span<const Valve> valves, const std::vector<std::vector<Candidate>>& lists,
                const Timetable& timetable, const Constraints& constraints) {
  Cost cost = timetable.cost;
  for (std::size_t v = 0; v < valves.size(); ++v)
    if (valves[v].in_force != nullptr)
      cost.price_cl +=
          price_of_moved_cl(valves[v].tasks, lists[v][timetable.chosen[v]], *valves[v].in_force,
                            timetable.valves[v], constraints.rules_of(valves[v].number).hours);
  return cost;
}

/// Where new days for one valve move the starts of others, other days for it may change less. The
/// valves are gone through once.
Timetable pack_moving_little(std::span<const Valve> valves,
                             std::vector<std::vector<Candidate>>& lists,
                             const Constraints& constraints, Date from,
                             const SearchOptions& options) {
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

int watering_days(const ValveTimes& times, Date from) {
  int days = 0;
  if (times.openings.empty()) return days;
  for (int d = 0; d < week_days; ++d)
    if (waters_on(times.days, from + std::chrono::days{d})) ++days;
  return days;
}

minutes minutes_a_day(const ValveTimes& times) {
  minutes sum{0};
  for (const ValveTimes::Opening& opening : times.openings) sum += opening.length;
  return sum;
}

/// Adds one future's week and its state after the days planned, by its share of all. What a zone
/// makes no use of stays as it started.
void add_week(ZonePlan& plan, const SoilState& start, const BalanceTrace& t, int planned_days,
              double share) {
  const auto sum = [](const Column& days) { return days.head(week_days).sum(); };
  const auto last = [planned_days](const Column& days, double otherwise) {
    return days.size() == 0 ? otherwise : days[planned_days - 1];
  };
  plan.demand_mm += share * (sum(t.etc_mm) + sum(t.unmet_mm));
  plan.rain_mm += share * sum(t.rain_mm);
  plan.drained_mm += share * sum(t.drained_mm);
  if (t.e_mm.size() > 0) plan.evaporated_mm += share * sum(t.e_mm);
  plan.expected_mm += share * t.end_mm.head(planned_days);
  plan.end.depletion_mm += share * last(t.end_mm, start.depletion_mm);
  plan.end.dry_mm += share * last(t.dry_end_mm, start.dry_mm);
  plan.end.surface_mm += share * last(t.surface_end_mm, start.surface_mm);
  plan.end.surface_fw += share * last(t.surface_fw, start.surface_fw);
}

/// Through which harm counts: all looked at; of an absence the day of coming home the last.
int days_judged(const ZoneTask& task, const SearchOptions& options) {
  const auto all = static_cast<int>(task.horizon.et_mm.cols());
  return options.away_days > 0 ? std::min(all, options.away_days + 1) : all;
}

std::string shortfall_text(const ZonePlan& zone, const Display& display) {
  const auto mm = [&display](double depth_mm) {
    return measure(display, Shown::depth, depth_mm, 1);
  };
  return "cannot be kept moist: beyond its limit of " + mm(zone.limit_mm) + " on " +
         std::to_string(zone.days_beyond) + " of " + std::to_string(zone.days_judged) +
         " days, first on " + short_date(*zone.first_beyond) + ", by " +
         mm(zone.beyond_mm_a_day()) + " on average, going without " + mm(zone.unmet_mm);
}

}  // namespace

ZonePlan zone_plan(const ZoneTask& task, const ValveTimes& times, int by_hand_min,
                   const Constraints& constraints, Date from, const SearchOptions& options) {
  ZonePlan plan;
  plan.name = task.name;
  plan.valve = task.valve;
  plan.delivery = task.delivery;
  plan.watering_days = watering_days(times, from);
  plan.waterings = plan.watering_days * static_cast<int>(times.openings.size());
  const auto run = Duration::minutes(
      static_cast<double>(minutes_a_day(times).count()) * plan.watering_days + by_hand_min);
  plan.gross_litres = (task.delivery.flow * run).litres();
  plan.gross_mm = (task.delivery.rate() * run).mm();
  plan.waterings_mm =
      with_hand_run(task, waterings_of(task, times, constraints.hours, from), by_hand_min);
  plan.trace = trace(task.root_zone, task.start, task.model, task.horizon, plan.waterings_mm, 0);

  plan.expected_mm = Column::Zero(options.planned_days());
  const Eigen::Index members = task.horizon.et_mm.rows();
  for (Eigen::Index member = 0; member < members; ++member)
    add_week(plan, task.start,
             trace(task.root_zone, task.start, task.model, task.horizon, plan.waterings_mm, member),
             options.planned_days(), 1.0 / static_cast<double>(members));
  plan.end_depletion_mm = plan.end.depletion_mm;
  plan.start_depletion_mm = task.start.depletion_mm;
  plan.wetted_share = task.root_zone.wetted_share;
  plan.limit_mm = plan.trace.limit_mm.head(week_days).minCoeff();

  plan.days_judged = days_judged(task, options);
  const Outcome outcome = first_days(task, plan.waterings_mm, plan.days_judged);
  plan.futures = static_cast<int>(members);
  plan.futures_beyond = static_cast<int>(futures_beyond(outcome));
  const int certain = days_certain(task, constraints.rules_of(task.valve), from, options);
  const Harm harm(task, plan.waterings_mm, outcome, certain, options.risk);
  if (harm.allowed()) return plan;
  const Eigen::Index worst = harm.worst();
  plan.days_beyond = outcome.days_beyond[worst];
  plan.beyond_mm = outcome.beyond_mm[worst];
  plan.unmet_mm = outcome.unmet_mm[worst];
  plan.first_beyond = from + std::chrono::days{days_within(task, plan.waterings_mm, options.risk)};
  return plan;
}

std::vector<Finding> shortfalls(const Plan& plan, const Display& display) {
  std::vector<Finding> findings;
  for (const ZonePlan& zone : plan.zones)
    if (zone.days_beyond > 0)
      findings.push_back({.kind = Finding::Kind::doubt,
                          .at = {.file = {}, .line = 0, .column = 0, .key = zone.name},
                          .says = shortfall_text(zone, display),
                          .mend = {}});
  return findings;
}

double ZonePlan::beyond_mm_a_day() const { return days_beyond > 0 ? beyond_mm / days_beyond : 0.0; }

int Plan::by_hand_min(int valve) const {
  for (const HandRun& run : by_hand)
    if (run.valve == valve) return run.minutes;
  return 0;
}

bool Plan::unharmed() const {
  return std::all_of(zones.begin(), zones.end(),
                     [](const ZonePlan& zone) { return zone.days_beyond == 0; });
}

namespace {

Plan planned(std::span<const ZoneTask> tasks, const Constraints& constraints, Date from,
             const SearchOptions& options, std::span<const ValveTimes> in_force,
             std::span<const HandRun> by_hand) {
  const std::vector<Valve> valves = by_valve(tasks, constraints.timer, in_force, by_hand);
  std::vector<std::vector<Candidate>> lists;
  for (const Valve& valve : valves)
    lists.push_back(candidates_of(valve, constraints, from, options));
  const Timetable timetable = pack_moving_little(valves, lists, constraints, from, options);

  if (const auto faults = violations(timetable.programmes, constraints, from); !faults.empty())
    throw std::logic_error("the timetable breaks its own rules: " + faults.front().says);

  Plan plan;
  plan.from = from;
  plan.until = from + std::chrono::days{options.planned_days() - 1};
  plan.programmes = timetable.programmes;
  plan.valves = timetable.valves;
  plan.cost = timetable.cost;
  plan.bound = timetable.bound;
  plan.proven = timetable.proven;
  plan.zones.resize(tasks.size());
  for (std::size_t v = 0; v < valves.size(); ++v) {
    const int by_hand_min = lists[v][timetable.chosen[v]].by_hand_min;
    if (by_hand_min > 0)
      plan.by_hand.push_back({.valve = valves[v].number, .minutes = by_hand_min});
    for (std::size_t i = 0; i < valves[v].zones.size(); ++i) {
      plan.zones[valves[v].zones[i]] =
          zone_plan(valves[v].tasks[i], plan.valves[v], by_hand_min, constraints, from, options);
    }
  }
  return plan;
}

std::int64_t harm_of_um(const Plan& plan, std::span<const ZoneTask> tasks,
                        const Constraints& constraints, const SearchOptions& options) {
  std::int64_t sum_um = 0;
  for (const Valve& valve : by_valve(tasks, constraints.timer, {}, {})) {
    const auto times = std::find_if(
        plan.valves.begin(), plan.valves.end(),
        [&valve](const ValveTimes& of_valve) { return of_valve.valve == valve.number; });
    sum_um += harm_um(valve.tasks, *times, plan.by_hand_min(valve.number), constraints, plan.from,
                      options);
  }
  return sum_um;
}

}  // namespace

Plan plan_week(std::span<const ZoneTask> tasks, const Constraints& constraints, Date from,
               const SearchOptions& options, std::span<const ValveTimes> in_force,
               std::span<const HandRun> by_hand) {
  Plan plan = planned(tasks, constraints, from, options, in_force, by_hand);
  if (plan.unharmed() || in_force.empty() || !by_hand.empty()) return plan;
  // What is in force can stand in the way of a timetable with less harm, which comes first.
  Plan afresh = planned(tasks, constraints, from, options, {}, {});
  return harm_of_um(afresh, tasks, constraints, options) <
                 harm_of_um(plan, tasks, constraints, options)
             ? afresh
             : plan;
}

}  // namespace runnel

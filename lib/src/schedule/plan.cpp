#include "runnel/schedule/plan.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>
#include <stdexcept>

#include "run_limits.hpp"
#include "runnel/schedule/days_within.hpp"
#include "runnel/units/number.hpp"
#include "shared_programmes.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

constexpr int week_days = 7;
/// Rounds of correcting pots once their start times are known; each makes the timetable anew.
constexpr int most_rounds = 8;

/// The zones of one valve, in the garden's order.
struct Valve {
  int number;
  std::vector<std::size_t> zones;  // indices into the tasks
  std::vector<ZoneTask> tasks;
};

std::vector<Valve> by_valve(std::span<const ZoneTask> tasks) {
  std::map<int, Valve> valves;
  for (std::size_t z = 0; z < tasks.size(); ++z) {
    Valve& valve = valves[tasks[z].valve];
    valve.number = tasks[z].valve;
    valve.zones.push_back(z);
    valve.tasks.push_back(tasks[z]);
  }
  std::vector<Valve> sorted;
  for (auto& [number, valve] : valves) sorted.push_back(std::move(valve));
  return sorted;
}

/// What a valve does to one zone, at the start times it really has.
Outcome outcome_of(const ZoneTask& task, const ValveTimes& times, const WateringHours& hours,
                   Date from) {
  return balance(task.root_zone, task.start, task.model, task.horizon,
                 waterings_of(task, times, hours, from));
}

bool beyond(const Valve& valve, const ValveTimes& times, const WateringHours& hours, Date from,
            double risk) {
  return std::any_of(valve.tasks.begin(), valve.tasks.end(), [&](const ZoneTask& task) {
    return !stays_within(outcome_of(task, times, hours, from), risk);
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
std::optional<std::vector<minutes>> enough_at_these_times(
    const Valve& valve, std::vector<minutes> run_in, const ValveTimes& times,
    const WateringHours& hours, const ValveRules& rules, const Timer& timer, Date from,
    double risk) {
  const std::vector<RunLength> lengths = run_lengths(timer);
  const minutes longest = longest_run(valve.tasks, timer);
  while (beyond(valve, with_lengths(times, run_in, hours), hours, from, risk)) {
    const auto next = longer(std::move(run_in), lengths, longest);
    if (!next || !keeps_minutes(rules, with_lengths(times, *next, hours))) return std::nullopt;
    run_in = *next;
  }
  return run_in;
}

/// The candidate as it does at start times found: with more minutes if that keeps its zones within
/// their limits, else with the harm it does.
Candidate at_these_times(const Valve& valve, const Candidate& chosen, const ValveTimes& times,
                         const Constraints& constraints, Date from, const SearchOptions& options) {
  const ValveRules rules = constraints.rules_of(valve.number);
  const WateringHours& hours = constraints.hours;
  if (const auto run_in = enough_at_these_times(valve, chosen.run_in, times, hours, rules,
                                                constraints.timer, from, options.risk))
    return *run_in == chosen.run_in
               ? chosen
               : with_runs(valve.tasks, chosen, *run_in, rules, constraints.timer, from, options);
  double harm_um = 0.0;
  for (const ZoneTask& task : valve.tasks)
    harm_um += 1000.0 * harm_mm(outcome_of(task, times, hours, from), options.risk);
  Candidate harmful = chosen;
  harmful.cost.harm_um = std::max<std::int64_t>(1, std::llround(harm_um));
  return harmful;
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
      if (!has_pots(valves[v]) || chosen.cost.harm_um > 0 || timetable.valves[v].openings.empty())
        continue;
      const Candidate corrected =
          at_these_times(valves[v], chosen, timetable.valves[v], constraints, from, options);
      if (corrected.run_in == chosen.run_in && corrected.cost == chosen.cost) continue;
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

/// The future with the most days and mm beyond the limit once those that may go beyond it are left
/// out.
Eigen::Index worst_that_counts(const Outcome& outcome, double risk) {
  std::vector<Eigen::Index> futures(static_cast<std::size_t>(outcome.days_beyond.size()));
  std::iota(futures.begin(), futures.end(), 0);
  std::stable_sort(futures.begin(), futures.end(), [&](Eigen::Index a, Eigen::Index b) {
    return std::pair(outcome.days_beyond[a], outcome.beyond_mm[a]) <
           std::pair(outcome.days_beyond[b], outcome.beyond_mm[b]);
  });
  const Eigen::Index allowed = allowed_beyond(outcome.days_beyond.size(), risk);
  return futures[futures.size() - 1 - static_cast<std::size_t>(allowed)];
}

ZonePlan zone_plan(const ZoneTask& task, const ValveTimes& times, const WateringHours& hours,
                   Date from, const SearchOptions& options) {
  ZonePlan plan;
  plan.name = task.name;
  plan.valve = task.valve;
  plan.delivery = task.delivery;
  plan.watering_days = watering_days(times, from);
  plan.waterings = plan.watering_days * static_cast<int>(times.openings.size());
  const auto run =
      Duration::minutes(static_cast<double>(minutes_a_day(times).count()) * plan.watering_days);
  plan.gross_litres = (task.delivery.flow * run).litres();
  plan.gross_mm = (task.delivery.rate() * run).mm();
  plan.waterings_mm = waterings_of(task, times, hours, from);
  plan.trace = trace(task.root_zone, task.start, task.model, task.horizon, plan.waterings_mm, 0);

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
  const Eigen::Index worst = worst_that_counts(outcome, options.risk);
  plan.days_beyond = outcome.days_beyond[worst];
  if (plan.days_beyond == 0) return plan;
  plan.beyond_mm = outcome.beyond_mm[worst];
  plan.unmet_mm = outcome.unmet_mm[worst];
  plan.first_beyond = from + std::chrono::days{days_within(task, plan.waterings_mm, options.risk)};
  return plan;
}

std::string shortfall_text(const ZonePlan& zone) {
  return "cannot be kept moist: beyond its limit of " + fixed(zone.limit_mm, 1) + " mm on " +
         std::to_string(zone.days_beyond) + " of " + std::to_string(zone.days_judged) +
         " days, first on " + short_date(*zone.first_beyond) + ", by " +
         fixed(zone.beyond_mm_a_day(), 1) + " mm on average, going without " +
         fixed(zone.unmet_mm, 1) + " mm";
}

Finding shortfall(const ZonePlan& zone) {
  return {.kind = Finding::Kind::doubt,
          .at = {.file = {}, .line = 0, .column = 0, .key = zone.name},
          .says = shortfall_text(zone),
          .mend = {}};
}

}  // namespace

double ZonePlan::beyond_mm_a_day() const { return days_beyond > 0 ? beyond_mm / days_beyond : 0.0; }

bool Plan::unharmed() const {
  return std::all_of(zones.begin(), zones.end(),
                     [](const ZonePlan& zone) { return zone.days_beyond == 0; });
}

Plan plan_week(std::span<const ZoneTask> tasks, const Constraints& constraints, Date from,
               const SearchOptions& options) {
  const WateringHours& hours = constraints.hours;
  const Timer& timer = constraints.timer;
  const std::vector<Valve> valves = by_valve(tasks);
  std::vector<std::vector<Candidate>> lists;
  for (const Valve& valve : valves)
    lists.push_back(
        candidates(valve.tasks, constraints.rules_of(valve.number), timer, from, options));
  const Timetable timetable = pack_with_pots(valves, lists, constraints, from, options);

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
    for (std::size_t i = 0; i < valves[v].zones.size(); ++i) {
      ZonePlan zone = zone_plan(valves[v].tasks[i], plan.valves[v], hours, from, options);
      if (zone.days_beyond > 0) plan.remarks.push_back(shortfall(zone));
      plan.zones[valves[v].zones[i]] = std::move(zone);
    }
  }
  return plan;
}

}  // namespace runnel

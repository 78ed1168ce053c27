#include "runnel/schedule/plan.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <stdexcept>

#include "run_limits.hpp"
#include "runnel/units/number.hpp"

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
    const Outcome outcome = outcome_of(task, times, hours, from);
    return (outcome.days_beyond > 0).count() > allowed_beyond(outcome.days_beyond.size(), risk);
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

/// Pots were searched with each watering at the end of its window. Where the times found leave
/// them short, the candidate is corrected and the timetable made again.
Timetable pack_with_pots(std::span<const Valve> valves, std::vector<std::vector<Candidate>>& lists,
                         const Constraints& constraints, Date from, const SearchOptions& options) {
  std::vector<int> numbers;
  for (const Valve& valve : valves) numbers.push_back(valve.number);
  Timetable timetable = pack(numbers, lists, constraints);
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
    timetable = pack(numbers, lists, constraints);
  }
  return timetable;
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

/// Adds one future's week, by its share of all. What a zone makes no use of stays as it started.
void add_week(ZonePlan& plan, const SoilState& start, const BalanceTrace& t, double share) {
  const auto sum = [](const Column& days) { return days.head(week_days).sum(); };
  const auto last = [](const Column& days, double otherwise) {
    return days.size() == 0 ? otherwise : days[week_days - 1];
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

ZonePlan zone_plan(const ZoneTask& task, const ValveTimes& times, const WateringHours& hours,
                   Date from, double risk) {
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
             1.0 / static_cast<double>(members));
  plan.end_depletion_mm = plan.end.depletion_mm;
  plan.start_depletion_mm = task.start.depletion_mm;
  plan.wetted_share = task.root_zone.wetted_share;
  plan.limit_mm = plan.trace.limit_mm.head(week_days).minCoeff();

  const Outcome outcome =
      balance(task.root_zone, task.start, task.model, task.horizon, plan.waterings_mm);
  std::vector<int> days_beyond(outcome.days_beyond.begin(), outcome.days_beyond.end());
  std::sort(days_beyond.begin(), days_beyond.end());
  plan.days_beyond =
      days_beyond[days_beyond.size() - 1 - static_cast<std::size_t>(allowed_beyond(members, risk))];
  plan.beyond_mm = plan.days_beyond > 0 ? outcome.beyond_mm.mean() : 0.0;
  return plan;
}

/// A timer, hours or soil that is kinder in one respect, to find out what would mend a shortfall.
struct Relief {
  std::string mend;
  Timer timer;
  WateringHours hours;
};

std::vector<Relief> reliefs(const WateringHours& hours, const Timer& timer) {
  Relief starts{.mend = "more starts a day for this valve", .timer = timer, .hours = hours};
  starts.timer.starts_per_valve = std::max(8, 2 * timer.starts_per_valve);
  Relief length{.mend = "a timer that allows longer runs", .timer = timer, .hours = hours};
  length.timer.minutes_most = 24 * 60;
  Relief days{.mend = "a timer that can water every day", .timer = timer, .hours = hours};
  days.timer.weekdays = true;
  const WateringHours halves{
      {.opens = WallTime{0}, .closes = WallTime{12 * 60}, .after_et = false},
      {.opens = WallTime{12 * 60}, .closes = WallTime{24 * 60}, .after_et = true}};
  Relief window{.mend = "longer watering hours", .timer = timer, .hours = halves};
  Relief all{.mend = "longer watering hours together with more and longer runs",
             .timer = timer,
             .hours = halves};
  all.timer.starts_per_valve = starts.timer.starts_per_valve;
  all.timer.minutes_most = length.timer.minutes_most;
  all.timer.weekdays = true;
  return {starts, length, days, window, all};
}

bool unharmed_with(std::span<const ZoneTask> tasks, const WateringHours& hours, const Timer& timer,
                   Date from, const SearchOptions& options) {
  return candidates(tasks, {.hours = hours}, timer, from, options).front().cost.harm_um == 0;
}

/// Tried one after the other, by planning the valve again with that one thing changed.
std::string what_would_mend(const Valve& valve, std::span<const Candidate> list,
                            const WateringHours& hours, const Timer& timer, Date from,
                            const SearchOptions& options) {
  if (std::any_of(list.begin(), list.end(),
                  [](const Candidate& candidate) { return candidate.cost.harm_um == 0; }))
    return "the valves do not all fit: allow longer watering hours, or water more of them at once";
  if (unharmed_with(valve.tasks, hours, timer, from, options))
    return "the start times found are too far from the heat of the day: allow other watering hours";
  for (const Relief& relief : reliefs(hours, timer))
    if (unharmed_with(valve.tasks, relief.hours, relief.timer, from, options)) return relief.mend;
  const minutes longest = longest_run(valve.tasks, timer);
  std::vector<ZoneTask> on_open_ground = valve.tasks;
  for (ZoneTask& task : on_open_ground) task.intake.basic_rate = task.delivery.rate();
  if (longest.count() < timer.minutes_most &&
      unharmed_with(on_open_ground, hours, timer, from, options))
    return "emitters that bring the water more slowly: after " + std::to_string(longest.count()) +
           " minutes it runs off";
  return "no timer setting does: give the roots more water to draw on (a larger pot, deeper soil, "
         "mulch) or more shade";
}

Finding shortfall(const ZonePlan& zone, const std::string& mend) {
  return {.kind = Finding::Kind::doubt,
          .at = {.file = {}, .line = 0, .column = 0, .key = zone.name},
          .says = "cannot be kept moist: beyond its limit of " + fixed(zone.limit_mm, 1) +
                  " mm on " + std::to_string(zone.days_beyond) + " of " +
                  std::to_string(horizon_days) + " days, by " +
                  fixed(zone.beyond_mm / std::max(1, zone.days_beyond), 1) + " mm on average",
          .mend = mend};
}

}  // namespace

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
  plan.until = from + std::chrono::days{week_days - 1};
  plan.programmes = timetable.programmes;
  plan.valves = timetable.valves;
  plan.cost = timetable.cost;
  plan.bound = timetable.bound;
  plan.proven = timetable.proven;
  plan.zones.resize(tasks.size());
  for (std::size_t v = 0; v < valves.size(); ++v) {
    for (std::size_t i = 0; i < valves[v].zones.size(); ++i) {
      ZonePlan zone = zone_plan(valves[v].tasks[i], plan.valves[v], hours, from, options.risk);
      if (zone.days_beyond > 0)
        plan.remarks.push_back(
            shortfall(zone, what_would_mend(valves[v], lists[v], hours, timer, from, options)));
      plan.zones[valves[v].zones[i]] = std::move(zone);
    }
  }
  return plan;
}

}  // namespace runnel

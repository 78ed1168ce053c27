#include "runnel/schedule/plan.hpp"

#include <algorithm>
#include <stdexcept>

#include "harm.hpp"
#include "planned_valve.hpp"
#include "valve_packing.hpp"

namespace runnel {
namespace {

std::string shortfall_text(const ZonePlan& zone, const Display& display) {
  const auto mm = [&display](double depth_mm) { return some(display, Shown::depth, depth_mm, 1); };
  const std::string without = zone.unmet_mm > 0.0 ? ", going without " + mm(zone.unmet_mm) : "";
  return "cannot be kept moist: beyond its limit of " +
         measure(display, Shown::depth, zone.limit_mm, 1) + " on " +
         std::to_string(zone.days_beyond) + " of " + std::to_string(zone.days_judged) +
         " days, first on " + short_date(*zone.first_beyond) + ", by " +
         mm(zone.beyond_mm_a_day()) + " on average" + without;
}

Plan planned(std::span<const ZoneTask> tasks, const Constraints& constraints, Date from,
             const SearchOptions& options, std::span<const ValveTimes> in_force,
             std::span<const HandRun> by_hand) {
  const std::vector<PlannedValve> valves = by_valve(tasks, constraints.timer, in_force, by_hand);
  std::vector<std::vector<Candidate>> lists;
  for (const PlannedValve& valve : valves)
    lists.push_back(candidates_of(valve, constraints, from, options));
  const Timetable timetable = pack_valves(valves, lists, constraints, from, options);

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
  for (const PlannedValve& valve : by_valve(tasks, constraints.timer, {}, {})) {
    const auto times = std::find_if(
        plan.valves.begin(), plan.valves.end(),
        [&valve](const ValveTimes& of_valve) { return of_valve.valve == valve.number; });
    sum_um += harm_um(valve.tasks, *times, plan.by_hand_min(valve.number), constraints, plan.from,
                      options);
  }
  return sum_um;
}

}  // namespace

int Plan::by_hand_min(int valve) const {
  for (const HandRun& run : by_hand)
    if (run.valve == valve) return run.minutes;
  return 0;
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

bool Plan::unharmed() const {
  return std::all_of(zones.begin(), zones.end(),
                     [](const ZonePlan& zone) { return zone.days_beyond == 0; });
}

Plan plan_week(std::span<const ZoneTask> tasks, const Constraints& constraints, Date from,
               const SearchOptions& options, std::span<const ValveTimes> in_force,
               std::span<const HandRun> by_hand) {
  Plan plan = planned(tasks, constraints, from, options, in_force, by_hand);
  const bool changes_have_a_price = !in_force.empty() && constraints.timer.programmes == 0;
  if (plan.unharmed() || !changes_have_a_price || !by_hand.empty()) return plan;
  // What is in force can stand in the way of a timetable with less harm, which comes first.
  Plan afresh = planned(tasks, constraints, from, options, {}, {});
  return harm_of_um(afresh, tasks, constraints, options) <
                 harm_of_um(plan, tasks, constraints, options)
             ? afresh
             : plan;
}

}  // namespace runnel

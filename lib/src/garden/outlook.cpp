#include "runnel/garden/outlook.hpp"

#include <algorithm>

#include "runnel/garden/plan_garden.hpp"
#include "runnel/schedule/changes.hpp"
#include "runnel/schedule/days_within.hpp"

namespace runnel {
namespace {

using std::chrono::days;

/// The last day on which the valve's days keep to its rules: that of the plan where the timer
/// cannot say them for good.
int days_rules_hold(const Constraints& constraints, const ValveTimes& times, const Plan& plan) {
  if (times.openings.empty()) return outlook_days;
  const ValveRules rules = constraints.rules_of(times.valve);
  const auto planned = static_cast<int>((plan.until - plan.from).count()) + 1;
  return keeps_to(rules, times.days, plan.from) == Keeps::always ? outlook_days
                                                                 : std::max(7, planned);
}

}  // namespace

Outlook outlook(const Garden& garden, const SiteWeather& weather, const GardenPlan& planned,
                double risk) {
  const Plan& plan = planned.plan;
  std::vector<Finding> said_already;
  const AssumedWeather ahead =
      assume_weather(garden, weather, plan.from, outlook_days, said_already);
  Outlook outlook;
  int held = outlook_days;
  for (const ValveTimes& times : plan.valves)
    held = std::min(held, days_rules_hold(planned.constraints, times, plan));
  for (std::size_t z = 0; z < garden.zones.size(); ++z) {
    ZoneTask task = prepare_zone(garden, garden.zones[z], ahead, said_already).task;
    task.start = planned.zones[z].task.start;
    outlook.days_if_shut.push_back(days_within(task, Waterings{}, risk));
    if (plan.zones[z].days_beyond > 0) continue;
    const ValveTimes* times = find_times(plan.valves, plan.zones[z].valve);
    const Waterings given =
        with_hand_run(task, waterings_of(task, *times, planned.constraints.hours, plan.from),
                      plan.by_hand_min(times->valve));
    held = std::min(held, days_within(task, given, risk));
  }
  outlook.holds_until = plan.from + days{held - 1};
  outlook.further = held == outlook_days;
  return outlook;
}

}  // namespace runnel

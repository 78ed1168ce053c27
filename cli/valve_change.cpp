#include "valve_change.hpp"

#include <algorithm>
#include <numeric>
#include <optional>

#include "runnel/schedule/changes.hpp"

namespace runnel::cli {
namespace {

std::string depth(const Display& display, double depth_mm) {
  return measure(display, Shown::depth, depth_mm, 1);
}

std::string beyond_text(const Display& display, const ZonePlan& zone) {
  return "beyond its limit of " + depth(display, zone.limit_mm) + " on " +
         std::to_string(zone.days_beyond) + " of " + std::to_string(zone.days_judged) +
         " days, first on " + short_date(*zone.first_beyond);
}

}  // namespace

ValveChange change_of(const Garden& garden, const SavedPlan& before, const Replan& again,
                      const ValveAdvice& advice) {
  Plan in_force;
  in_force.programmes = before.programmes;
  in_force.from = again.planned.plan.from;
  ValveChange change{.was = setting_of(in_force, garden, advice.valve),
                     .now = setting_of(again.planned.plan, garden, advice.valve),
                     .days = false,
                     .starts = false,
                     .minutes = false};
  if (advice.settings == 0) return change;
  change.days = !advice.before || advice.before->openings.empty() || change.now.days == "-" ||
                !same_days(advice.before->days, advice.after.days);
  change.starts = change.was.starts != change.now.starts;
  change.minutes = change.was.minutes != change.now.minutes;
  return change;
}

const ValveAdvice& advice_of(const Replan& again, int valve) {
  return *std::find_if(again.valves.begin(), again.valves.end(),
                       [valve](const ValveAdvice& advice) { return advice.valve == valve; });
}

int settings_changed(const Replan& again) {
  return std::accumulate(again.valves.begin(), again.valves.end(), 0,
                         [](int sum, const ValveAdvice& advice) { return sum + advice.settings; });
}

std::string reason(const Display& display, const Replan& again, std::size_t z) {
  const ZonePlan& zone = again.planned.plan.zones[z];
  const std::optional<ZonePlan>& if_left = again.if_left[z];
  const std::string still = zone.days_beyond > 0
                                ? "; even so on " + std::to_string(zone.days_beyond) +
                                      (zone.days_beyond == 1 ? " day, " : " days, first on ") +
                                      short_date(*zone.first_beyond)
                                : std::string();
  if (advice_of(again, zone.valve).leave_as_is())
    return zone.days_beyond > 0 ? "Nothing better can be set: it is " + beyond_text(display, zone)
                                : std::string(zone.start_depletion_mm > zone.limit_mm
                                                  ? "As set, it is watered in time, and"
                                                  : "As set, it") +
                                      " stays within its limit of " + depth(display, zone.limit_mm);
  if (!if_left) return "The plan before did not know this valve" + still;
  if (if_left->days_beyond > 0)
    return "As set, it would be " + beyond_text(display, *if_left) + still;
  if (zone.gross_litres < if_left->gross_litres)
    return "As set, it stays within its limit, with " +
           measure(display, Shown::volume, if_left->gross_litres, 0) + " in the week where " +
           measure(display, Shown::volume, zone.gross_litres, 0) + " do";
  const double drier_mm =
      if_left->trace.end_mm[horizon_days - 1] - zone.trace.end_mm[horizon_days - 1];
  if (drier_mm > 0.0 && depth(display, drier_mm) != depth(display, 0.0))
    return "As set, it stays within its limit, but is " + depth(display, drier_mm) +
           " drier in two weeks";
  return "So that all valves find room" + still;
}

}  // namespace runnel::cli

#include "runnel/garden/replan.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "runnel/garden/water_log.hpp"
#include "runnel/garden/water_taken.hpp"
#include "runnel/schedule/changes.hpp"

namespace runnel {
namespace {

using Eigen::Index;
using std::chrono::days;

DayTwice as_assumed(const SavedPlan& plan, Date date) {
  DayTwice day{.date = date};
  const auto planned = static_cast<std::size_t>((date - plan.from).count());
  if (planned >= plan.weather.size()) return day;
  day.assumed_eto_mm = plan.weather[planned].eto_mm;
  day.assumed_rain_mm = plan.weather[planned].rain_mm;
  return day;
}

std::vector<DayTwice> lived(const DailyWeather& observed, const SavedPlan& plan, Date from) {
  std::vector<DayTwice> since;
  for (Date date = plan.from; date < from; date += days{1}) {
    DayTwice& day = since.emplace_back(as_assumed(plan, date));
    const Index row = (date - observed.first_day).count();
    if (row < 0 || row >= observed.days()) continue;
    day.eto_mm = observed.eto_mm[row];
    day.rain_mm = observed.rain_mm[row];
  }
  return since;
}

std::vector<DayTwice> to_come(const GardenPlan& planned, const SavedPlan& before) {
  std::vector<DayTwice> ahead;
  for (Date date = planned.plan.from; date <= planned.plan.until; date += days{1}) {
    DayTwice& day = ahead.emplace_back(as_assumed(before, date));
    const Index row = (date - planned.weather.first_day).count();
    day.eto_mm = planned.weather.eto_mm[row];
    day.rain_mm = planned.weather.rain_mm[row];
  }
  return ahead;
}

/// A zone on the morning of `from`, as the plan expected it.
std::optional<double> expected_mm(const SavedPlan& plan, const std::string& zone, Date from) {
  const SavedZone* saved = plan.zone_named(zone);
  if (saved == nullptr) return std::nullopt;
  const auto lived = static_cast<std::size_t>((from - plan.from).count());
  if (lived == 0) return saved->start.depletion_mm;
  if (lived > saved->expected_mm.size()) return std::nullopt;
  return saved->expected_mm[lived - 1];
}

ValveAdvice advice_for(const ValveTimes& after, const std::vector<ValveTimes>& in_force,
                       const Plan& plan) {
  ValveAdvice advice{.valve = after.valve,
                     .before = std::nullopt,
                     .after = after,
                     .by_hand_min = plan.by_hand_min(after.valve)};
  if (const ValveTimes* before = find_times(in_force, after.valve)) advice.before = *before;
  const ValveTimes shut{.valve = after.valve, .days = Weekdays{}, .openings = {}};
  advice.settings = settings_changed(advice.before.value_or(shut), after);
  return advice;
}

/// Valves that water as set, though the garden has no zone on them any more.
std::vector<ValveAdvice> valves_left_over(const Garden& garden, const SavedPlan& before,
                                          const Plan& plan) {
  std::vector<ValveAdvice> left_over;
  for (const Programme& programme : before.programmes)
    for (const Run& run : programme.runs) {
      const ValveTimes times = times_of(run.valve, before.programmes, garden.timer);
      if (times.openings.empty() || find_times(plan.valves, run.valve) != nullptr) continue;
      const ValveTimes shut{.valve = run.valve, .days = Weekdays{}, .openings = {}};
      left_over.push_back({.valve = run.valve,
                           .before = times,
                           .after = shut,
                           .settings = settings_changed(times, shut)});
    }
  return left_over;
}

}  // namespace

Replan replan(const Garden& garden, PlanRequest request) {
  if (!request.after) throw std::invalid_argument("replan: there is no plan before");
  request.by_hand = true;
  const SavedPlan& before = *request.after;
  Replan again{.planned = plan_garden(garden, request),
               .since = {},
               .ahead = {},
               .expected_mm = {},
               .if_left = {},
               .valves = {}};
  const Plan& plan = again.planned.plan;
  std::vector<Finding> said_already;
  const SiteWeather weather =
      read_weather_with_gauge(garden, water_log_of(garden, said_already), said_already);
  again.since = lived(weather.observed, before, plan.from);
  again.ahead = to_come(again.planned, before);
  const std::vector<ValveTimes> in_force = times_in_force(garden, before);
  for (const PreparedZone& zone : again.planned.zones) {
    again.expected_mm.push_back(expected_mm(before, zone.task.name, plan.from));
    const ValveTimes* times = find_times(in_force, zone.task.valve);
    again.if_left.emplace_back();
    if (times != nullptr)
      again.if_left.back() = zone_plan(zone.task, *times, 0, again.planned.constraints, plan.from,
                                       {.risk = request.risk});
  }
  for (const ValveTimes& after : plan.valves)
    again.valves.push_back(advice_for(after, in_force, plan));
  for (ValveAdvice& advice : valves_left_over(garden, before, plan))
    again.valves.push_back(std::move(advice));
  return again;
}

}  // namespace runnel

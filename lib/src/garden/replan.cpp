#include "runnel/garden/replan.hpp"

#include <algorithm>
#include <stdexcept>

#include "runnel/garden/carry_on.hpp"
#include "runnel/schedule/changes.hpp"

namespace runnel {
namespace {

using Eigen::Index;
using std::chrono::days;

std::vector<LivedDay> lived(const DailyWeather& observed, const SavedPlan& plan, Date from) {
  std::vector<LivedDay> since;
  for (Date date = plan.from; date < from; date += days{1}) {
    LivedDay& day = since.emplace_back(LivedDay{.date = date});
    const auto planned = static_cast<std::size_t>((date - plan.from).count());
    if (planned < plan.weather.size()) {
      day.assumed_eto_mm = plan.weather[planned].eto_mm;
      day.assumed_rain_mm = plan.weather[planned].rain_mm;
    }
    const Index row = (date - observed.first_day).count();
    if (row < 0 || row >= observed.days()) continue;
    day.eto_mm = observed.eto_mm[row];
    day.rain_mm = observed.rain_mm[row];
  }
  return since;
}

/// As if nothing had been observed since the plan was made.
std::vector<std::optional<double>> expected(const Garden& garden, const SiteWeather& weather,
                                            const SavedPlan& plan, Date from) {
  std::vector<std::optional<double>> depletions(garden.zones.size());
  const Index known =
      std::min<Index>((plan.from - weather.observed.first_day).count(), weather.observed.days());
  if (known < 1 || from > plan.from + days{static_cast<int>(plan.weather.size())})
    return depletions;
  const SiteWeather before{
      .observed = days_of(weather.observed, 0, known), .forecast = std::nullopt, .record = {}};
  std::vector<Finding> said_already;
  const auto states =
      states_at(garden, before, plan, from, planned_water(plan, from), said_already);
  for (std::size_t z = 0; z < states.size(); ++z)
    if (states[z]) depletions[z] = states[z]->depletion_mm;
  return depletions;
}

ValveAdvice advice_for(const ValveTimes& after, const std::vector<ValveTimes>& in_force,
                       const Plan& plan) {
  ValveAdvice advice{.valve = after.valve,
                     .action = ValveAction::leave_as_is,
                     .before = std::nullopt,
                     .after = after,
                     .by_hand_min = plan.by_hand_min(after.valve)};
  for (const ValveTimes& times : in_force)
    if (times.valve == after.valve) advice.before = times;
  const ValveTimes shut{.valve = after.valve, .days = Weekdays{}, .openings = {}};
  advice.settings = settings_changed(advice.before.value_or(shut), after);
  if (advice.settings > 0) advice.action = ValveAction::change_on_timer;
  if (advice.by_hand_min > 0) advice.action = ValveAction::run_by_hand;
  return advice;
}

}  // namespace

Replan replan(const Garden& garden, PlanRequest request) {
  if (!request.after) throw std::invalid_argument("replan: there is no plan before");
  request.by_hand = true;
  Replan again;
  again.planned = plan_garden(garden, request);
  std::vector<Finding> said_already;
  const SiteWeather weather = read_site_weather(garden, said_already);
  const Date from = again.planned.plan.from;
  again.since = lived(weather.observed, *request.after, from);
  again.expected_mm = expected(garden, weather, *request.after, from);
  const std::vector<ValveTimes> in_force = times_in_force(garden, *request.after);
  for (const ValveTimes& after : again.planned.plan.valves)
    again.valves.push_back(advice_for(after, in_force, again.planned.plan));
  return again;
}

}  // namespace runnel

#include "runnel/garden/plan_garden.hpp"

#include <algorithm>
#include <cmath>

#include "runnel/garden/planning_constraints.hpp"
#include "runnel/garden/time_zone.hpp"
#include "runnel/sky/sun.hpp"

namespace runnel {
namespace {

void doubt_clock_change(const Garden& garden, Date from, std::vector<Finding>& findings) {
  const auto change = clock_change(garden.timezone, from, 7);
  if (!change) return;
  findings.push_back(
      {.kind = Finding::Kind::doubt,
       .at = {.file = garden.file, .line = 0, .column = 0, .key = "site.timezone"},
       .says = "the clocks change on " + iso_date(*change) + ", within the plan",
       .mend = "set the timer's clock that day; start times are by the clock on the wall"});
}

/// With the dual coefficient what the ground evaporates depends on the waterings planned.
void take_soil_evaporation(GardenPlan& planned) {
  for (std::size_t z = 0; z < planned.zones.size(); ++z) {
    PreparedZone& zone = planned.zones[z];
    if (!zone.task.root_zone.surface) continue;
    const BalanceTrace& trace = planned.plan.zones[z].trace;
    const Column without_mm = zone.chain.demand_mm();
    zone.chain[DemandFactor::soil_evaporation] =
        (without_mm > 0.0).select((trace.etc_mm + trace.unmet_mm) / without_mm, 1.0);
  }
}

}  // namespace

GardenPlan plan_garden(const Garden& garden, const PlanRequest& request) {
  GardenPlan planned;
  const SiteWeather weather = read_site_weather(garden, planned.findings);
  const Date from = request.from.value_or(weather.observed.last_day() + std::chrono::days{1});
  planned.weather = assume_weather(garden, weather, from, horizon_days, planned.findings);
  doubt_clock_change(garden, from, planned.findings);

  std::vector<ZoneTask> tasks;
  for (const Zone& zone : garden.zones) {
    planned.zones.push_back(prepare_zone(garden, zone, planned.weather, planned.findings));
    tasks.push_back(planned.zones.back().task);
  }
  planned.constraints =
      constraints_of(garden, planned.weather, planned.zones, from, planned.findings);
  planned.plan = plan_week(tasks, planned.constraints, from, {.risk = request.risk});
  for (Finding& doubt : days_to_set_anew(garden, planned.constraints, planned.plan.valves, from))
    planned.findings.push_back(std::move(doubt));
  take_soil_evaporation(planned);
  planned.outlook = outlook(garden, weather, planned, request.risk);
  return planned;
}

WateringHours usable_hours(const Garden& garden, Date date) {
  const double offset_h =
      static_cast<double>(utc_offset_at_noon(garden.timezone, date).count()) / 60.0;
  const WallTime noon{
      std::lround(60.0 * solar_noon_h(garden.site.longitude_deg, offset_h, day_of_year(date)))};
  constexpr WallTime midnight{24 * 60};
  WateringHours hours;
  const auto add = [&](WallTime opens, WallTime closes) {
    if (opens < closes)
      hours.push_back({.opens = opens, .closes = closes, .after_et = opens >= noon});
  };
  const auto add_day = [&](WallTime opens, WallTime closes) {
    add(opens, std::min(closes, std::max(opens, noon)));
    add(std::max(opens, noon), closes);
  };
  for (const Window& window : garden.watering_hours) {
    add_day(window.opens, std::min(window.closes, midnight));
    add_day(WallTime{0}, window.closes - midnight);
  }
  std::sort(hours.begin(), hours.end(),
            [](const Window& a, const Window& b) { return a.opens < b.opens; });
  return hours;
}

}  // namespace runnel

#include "runnel/garden/plan_garden.hpp"

#include <cmath>

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

}  // namespace

PreparedGarden prepare_garden(const Garden& garden, std::optional<Date> from,
                              std::vector<Finding>& findings) {
  const SiteWeather weather = read_site_weather(garden, findings);
  const Date first = from.value_or(weather.observed.last_day() + std::chrono::days{1});
  PreparedGarden prepared{.weather = assume_weather(garden, weather, first, horizon_days, findings),
                          .zones = {}};
  for (const Zone& zone : garden.zones)
    prepared.zones.push_back(prepare_zone(garden, zone, prepared.weather, findings));
  return prepared;
}

GardenPlan plan_garden(const Garden& garden, const PlanRequest& request) {
  GardenPlan planned;
  PreparedGarden prepared = prepare_garden(garden, request.from, planned.findings);
  planned.weather = std::move(prepared.weather);
  planned.zones = std::move(prepared.zones);
  const Date from = planned.weather.first_day;
  doubt_clock_change(garden, from, planned.findings);

  planned.hours = cut_at_solar_noon(garden, from);
  std::vector<ZoneTask> tasks;
  for (const PreparedZone& zone : planned.zones) tasks.push_back(zone.task);
  planned.plan = plan_week(tasks, planned.hours, garden.timer, from, {.risk = request.risk});
  return planned;
}

WateringHours cut_at_solar_noon(const Garden& garden, Date date) {
  const double offset_h =
      static_cast<double>(utc_offset_at_noon(garden.timezone, date).count()) / 60.0;
  const WallTime noon{
      std::lround(60.0 * solar_noon_h(garden.site.longitude_deg, offset_h, day_of_year(date)))};
  WateringHours hours;
  for (const Window& window : garden.watering_hours) {
    if (window.opens < noon && noon < window.closes) {
      hours.push_back({.opens = window.opens, .closes = noon, .after_et = false});
      hours.push_back({.opens = noon, .closes = window.closes, .after_et = true});
    } else {
      hours.push_back(
          {.opens = window.opens, .closes = window.closes, .after_et = window.opens >= noon});
    }
  }
  return hours;
}

}  // namespace runnel

#pragma once

// The open data of tests/reference (four years in two cities) as weather to plan with and as what
// came true, and a garden of a bed in the sun, a shaded border and pots.

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "runnel/garden/plan_garden.hpp"
#include "runnel/garden/site_weather.hpp"
#include "runnel/garden/zone_task.hpp"
#include "runnel/schedule/plan.hpp"

namespace runnel::open_years {

inline constexpr int first_year = 2012;
inline constexpr int last_year = 2015;
inline constexpr int week_days = 7;

struct City {
  const char* name;
  const char* file;
  const char* site;
};
inline constexpr City seattle{
    .name = "Seattle",
    .file = "seattle-weather.csv",
    .site =
        "{latitude: 47.45, longitude: -122.31, elevation: 137 m, timezone: America/Los_Angeles}"};
inline constexpr City new_york{
    .name = "New York",
    .file = "new-york-weather.csv",
    .site = "{latitude: 40.78, longitude: -73.97, elevation: 40 m, timezone: America/New_York}"};

inline Garden garden_in(const City& city) {
  const std::string yaml = "garden: " + std::string(city.name) + "\nsite: " + city.site +
                           "\nweather: {observed: " + std::string(RUNNEL_REFERENCE_DIR) + "/" +
                           city.file + R"(}
watering hours: ["04:30-08:00", "20:30-22:30"]
zones:
  - {name: bed, valve: 1, area: 18 m2, plants: {kind: mixed shrubs}, soil: {texture: loam},
     emitters: {type: dripline, flow: 2.1 L/h, spacing: 30 cm, rows: 40 cm}}
  - {name: border, valve: 2, area: 10 m2, plants: {kind: ground covers}, exposure: full shade, soil: {texture: clay loam},
     emitters: {type: spray, rate: 30 mm/h}}
  - {name: pots, valve: 3, containers: {count: 6, volume: 20 L, diameter: 32 cm, canopy: 45 cm, medium: peat mix},
     plants: {kind: annual flowers}, emitters: {type: dripper, flow: 2 L/h, per container: 1}}
)";
  Read<Garden> garden = read_garden(yaml, "city.yaml");
  for (const Finding& finding : garden.findings)
    if (finding.kind == Finding::Kind::error) FAIL(to_text(finding));
  return *garden.value;
}

inline Date day(int year, unsigned month, unsigned day_of_month) {
  return std::chrono::local_days{std::chrono::year{year} / static_cast<int>(month) /
                                 static_cast<int>(day_of_month)};
}

/// Mondays from a day on whose weeks end by another.
inline std::vector<Date> mondays(Date first, Date last) {
  std::vector<Date> all;
  const int to_monday = (7 - weekday_index(first)) % 7;
  for (Date monday = first + std::chrono::days{to_monday};
       monday + std::chrono::days{week_days - 1} <= last; monday += std::chrono::days{week_days})
    all.push_back(monday);
  return all;
}

/// The same weather so many days earlier.
inline DailyWeather moved_back(DailyWeather weather, std::chrono::days by) {
  weather.first_day -= by;
  if (weather.inputs) weather.inputs->first_day -= by;
  return weather;
}

/// All other years as a record that lies before the year: those after it moved back by four years,
/// which keep their leap days. No future can run from one part into the other.
inline std::vector<DailyWeather> record_without(const DailyWeather& observed, int year) {
  const std::chrono::days four_years = day(2016, 1, 1) - day(2012, 1, 1);
  const Eigen::Index before = (day(year, 1, 1) - observed.first_day).count();
  const Eigen::Index until = (day(year + 1, 1, 1) - observed.first_day).count();
  std::vector<DailyWeather> record;
  if (until < observed.days())
    record.push_back(moved_back(days_of(observed, until, observed.days() - until), four_years));
  if (before > 0) record.push_back(days_of(observed, 0, before));
  return record;
}

/// A zone's state after the last day of a trace; what the zone makes no use of stays as it was.
inline SoilState state_after(const BalanceTrace& days, const SoilState& start) {
  const auto last = [](const Column& column, double otherwise) {
    return column.size() == 0 ? otherwise : column[column.size() - 1];
  };
  return {.depletion_mm = last(days.end_mm, start.depletion_mm),
          .dry_mm = last(days.dry_end_mm, start.dry_mm),
          .surface_mm = last(days.surface_end_mm, start.surface_mm),
          .surface_fw = last(days.surface_fw, start.surface_fw)};
}

/// The first days of planned waterings.
inline Waterings first_days(const Waterings& planned, Eigen::Index days) {
  return {.et_share_before = planned.et_share_before, .net_mm = planned.net_mm.leftCols(days)};
}

/// Each zone of the garden over the weather given.
inline std::vector<ZoneTask> tasks_over(const Garden& garden, const AssumedWeather& weather) {
  std::vector<Finding> findings;
  std::vector<ZoneTask> tasks;
  for (const Zone& zone : garden.zones)
    tasks.push_back(prepare_zone(garden, zone, weather, findings).task);
  return tasks;
}

}  // namespace runnel::open_years

// Absences lived through: four weeks in each of the open data's summers, planned from the other
// years, against re-planning every week.
#include <doctest/doctest.h>

#include <cmath>
#include <iomanip>
#include <iostream>
#include <map>
#include <string>
#include <vector>

#include "open_years.hpp"
#include "runnel/garden/away.hpp"

using namespace runnel;
using namespace runnel::open_years;

namespace {

constexpr int away_days = 28;

struct Lived {
  bool unharmed = true;
  double litres = 0.0;
};

struct Tally {
  int absences = 0;
  double chance_stated = 0.0;  ///< summed
  int unharmed = 0;
  double litres = 0.0;
  int unharmed_weekly = 0;
  double litres_weekly = 0.0;
};

double litres(const ZoneTask& task, const Waterings& given) {
  return given.net_mm.sum() * task.delivery.area.m2() * task.delivery.multiplier /
         (1.0 - task.delivery.leaching_share);
}

/// From a Monday on, zone by zone, each week planned anew from the state it then has.
std::vector<Lived> week_by_week(const Garden& garden, const SiteWeather& weather, Date monday) {
  std::vector<Lived> lived(garden.zones.size());
  std::vector<SoilState> states;
  std::vector<Finding> findings;
  constexpr int weeks = away_days / week_days;
  for (int week = 0; week < weeks; ++week) {
    const Date from = monday + std::chrono::days{week * week_days};
    // The last programme waters on the day of coming home, too.
    const int lived_days = week + 1 < weeks ? week_days : week_days + 1;
    std::vector<ZoneTask> tasks =
        tasks_over(garden, assume_weather(garden, weather, from, horizon_days, findings));
    const std::vector<ZoneTask> truth =
        tasks_over(garden, observed_weather(weather, from, lived_days));
    for (std::size_t z = 0; z < tasks.size() && !states.empty(); ++z) tasks[z].start = states[z];
    if (states.empty())
      for (const ZoneTask& task : tasks) states.push_back(task.start);
    const Plan plan = plan_week(tasks, {.hours = usable_hours(garden, from), .timer = garden.timer},
                                from, {.risk = 0.10});
    for (std::size_t z = 0; z < tasks.size(); ++z) {
      const Waterings given = first_days(plan.zones[z].waterings_mm, lived_days);
      const Outcome outcome =
          balance(truth[z].root_zone, states[z], truth[z].model, truth[z].horizon, given);
      lived[z].unharmed = lived[z].unharmed && outcome.days_beyond[0] == 0;
      lived[z].litres += litres(tasks[z], first_days(given, week_days));
      states[z] = state_after(
          trace(truth[z].root_zone, states[z], truth[z].model, truth[z].horizon, given, 0),
          states[z]);
    }
  }
  return lived;
}

void leave_alone(const City& city, int year, unsigned month, std::map<std::string, Tally>& tally) {
  const Garden garden = garden_in(city);
  std::vector<Finding> findings;
  SiteWeather weather = read_site_weather(garden, findings);
  weather.record = record_without(weather.observed, year);
  const Date monday = mondays(day(year, month, 1), day(year, month + 1, 1)).front();
  const std::vector<ZoneTask> tasks = tasks_over(
      garden, assume_weather(garden, weather, monday, absence_horizon_days(away_days), findings));
  const std::vector<ZoneTask> truth =
      tasks_over(garden, observed_weather(weather, monday, away_days + 1));
  const Plan plan = plan_week(tasks, {.hours = usable_hours(garden, monday), .timer = garden.timer},
                              monday, {.risk = 0.10, .away_days = away_days});
  const std::vector<Lived> weekly = week_by_week(garden, weather, monday);
  for (std::size_t z = 0; z < tasks.size(); ++z) {
    const ZonePlan& zone = plan.zones[z];
    const Waterings given = first_days(zone.waterings_mm, away_days + 1);
    const Outcome outcome =
        balance(truth[z].root_zone, tasks[z].start, truth[z].model, truth[z].horizon, given);
    Tally& of_zone = tally[zone.name];
    ++of_zone.absences;
    of_zone.chance_stated += 1.0 - static_cast<double>(zone.futures_beyond) / zone.futures;
    of_zone.unharmed += outcome.days_beyond[0] == 0 ? 1 : 0;
    of_zone.litres += litres(tasks[z], first_days(given, away_days));
    of_zone.unharmed_weekly += weekly[z].unharmed ? 1 : 0;
    of_zone.litres_weekly += weekly[z].litres;
  }
}

/// The table of DEVELOPERS.md.
void print(const std::map<std::string, Tally>& tally) {
  std::cout << "| zone | absences | chance stated, mean | unharmed | litres, mean | re-planned "
               "weekly: unharmed | litres, mean |\n| --- | --- | --- | --- | --- | --- | --- |\n"
            << std::fixed;
  for (const auto& [zone, of_zone] : tally) {
    const double n = of_zone.absences;
    std::cout << std::setprecision(0) << "| " << zone << " | " << n << " | "
              << 100.0 * of_zone.chance_stated / n << " % | " << 100.0 * of_zone.unharmed / n
              << " % | " << of_zone.litres / n << " | " << 100.0 * of_zone.unharmed_weekly / n
              << " % | " << of_zone.litres_weekly / n << " |\n";
  }
}

}  // namespace

TEST_SUITE("slow") {
  TEST_CASE("away - four weeks alone in each of eight summers" * doctest::skip()) {
    std::map<std::string, Tally> tally;
    for (const City& city : {seattle, new_york})
      for (int year = first_year; year <= last_year; ++year)
        for (const unsigned month : {5U, 6U, 7U, 8U}) leave_alone(city, year, month, tally);
    print(tally);
    for (const auto& [zone, of_zone] : tally) {
      CAPTURE(zone);
      CHECK(of_zone.absences == 32);
      // Of the three years planned from and the one lived through, each is as likely the worst.
      CHECK(of_zone.unharmed >= of_zone.chance_stated - of_zone.absences / 4.0);
    }
  }
}

#include "runnel/garden/plan_garden.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "log_since_plan.hpp"
#include "runnel/garden/carry_on.hpp"
#include "runnel/garden/digest.hpp"
#include "runnel/garden/planning_constraints.hpp"
#include "runnel/garden/time_zone.hpp"
#include "runnel/garden/water_taken.hpp"
#include "runnel/sky/sun.hpp"
#include "start_states.hpp"

namespace runnel {
namespace {

/// Whether the watering hours hold some of a stretch of that day's clock.
bool waters_within(const Garden& garden, const ClockChange& change) {
  const WateringHours hours = usable_hours(garden, change.date);
  return std::any_of(hours.begin(), hours.end(), [&change](const Window& window) {
    return window.opens < change.to && change.from < window.closes;
  });
}

void doubt_clock_change(const Garden& garden, Date from, int away_days,
                        std::vector<Finding>& findings) {
  const auto date = clock_change(garden.timezone, from, std::max(7, away_days));
  if (!date) return;
  if (away_days > 0 && *date > from && *date < from + std::chrono::days{away_days}) {
    findings.push_back(
        {.kind = Finding::Kind::doubt,
         .at = {.file = garden.file, .line = 0, .column = 0, .key = "site.timezone"},
         .says = "the clocks change on " + iso_date(*date) +
                 " while nobody is there to set the timer's: only hours are used in which watering "
                 "is allowed by the clock before and after",
         .mend = "set the timer's clock when you are back, if it does not do so by itself"});
    return;
  }
  Finding doubt{.kind = Finding::Kind::doubt,
                .at = {.file = garden.file, .line = 0, .column = 0, .key = "site.timezone"},
                .says = "the clocks change on " + iso_date(*date) + ", within the plan",
                .mend = "set the timer's clock that day; start times are by the clock on the wall"};
  const auto change = clock_change_on(garden.timezone, *date);
  if (change && waters_within(garden, *change)) {
    const std::string hour =
        clock(garden.display, change->from) + " to " + clock(garden.display, change->to);
    doubt.says += "; of the watering hours, " + hour + " on " + short_date(change->date) +
                  (change->left_out ? " is left out" : " comes twice");
    doubt.mend += change->left_out
                      ? "; a start in that time may not come: run it by hand"
                      : "; a start in that time may come twice: set the clock after it is over";
  }
  findings.push_back(std::move(doubt));
}

/// With the dual coefficient what the ground evaporates depends on the waterings planned. The trace
/// is of the first future, so its ETc is compared with that future's ET.
void take_soil_evaporation(GardenPlan& planned) {
  for (std::size_t z = 0; z < planned.zones.size(); ++z) {
    PreparedZone& zone = planned.zones[z];
    if (!zone.task.root_zone.surface) continue;
    const BalanceTrace& trace = planned.plan.zones[z].trace;
    const Column without_mm = zone.chain.coefficient() * zone.task.horizon.et_mm.row(0).transpose();
    zone.chain[DemandFactor::soil_evaporation] =
        (without_mm > 0.0).select((trace.etc_mm + trace.unmet_mm) / without_mm, 1.0);
  }
}

/// Of a day a year and more ahead the observed weather says nothing.
void require_near(const Garden& garden, Date from, const DailyWeather& observed) {
  constexpr std::chrono::days most{366};
  if (from - observed.last_day() <= most) return;
  throw InputError(Finding{.kind = Finding::Kind::error,
                           .at = garden.weather.observed_at,
                           .says = "ends on " + iso_date(observed.last_day()) +
                                   ", more than a year before the first day to plan, " +
                                   iso_date(from),
                           .mend = "check the year of --from, or add the days since"});
}

std::vector<ValveTimes> in_force(const Garden& garden, const PlanRequest& request) {
  return request.after ? times_in_force(garden, *request.after) : std::vector<ValveTimes>{};
}

/// What the plan before decided for the same first day.
std::vector<HandRun> runs_by_hand(const PlanRequest& request, Date from) {
  std::vector<HandRun> runs;
  if (request.after)
    for (const HandWatering& watering : request.after->by_hand)
      if (watering.date == from)
        runs.push_back({.valve = watering.valve, .minutes = watering.minutes});
  return runs;
}

}  // namespace

std::vector<ValveTimes> times_in_force(const Garden& garden, const SavedPlan& plan) {
  std::set<int> valves;
  for (const Zone& zone : garden.zones) valves.insert(zone.valve);
  std::vector<ValveTimes> in_force;
  for (const Programme& programme : plan.programmes)
    for (const Run& run : programme.runs)
      if (valves.erase(run.valve) > 0)
        in_force.push_back(times_of(run.valve, plan.programmes, garden.timer));
  return in_force;
}

GardenPlan plan_garden(const Garden& garden, const PlanRequest& request) {
  GardenPlan planned;
  PastWater water{.runs = {}, .log = water_log_of(garden, planned.findings)};
  const SiteWeather weather = read_weather_with_gauge(garden, water.log, planned.findings);
  const Date from = request.from.value_or(weather.observed.last_day() + std::chrono::days{1});
  require_near(garden, from, weather.observed);
  const int away_days = absence_days(from, request.until);
  planned.weather =
      assume_weather(garden, weather, from, absence_horizon_days(away_days), planned.findings);
  doubt_clock_change(garden, from, away_days, planned.findings);

  if (request.after) {
    compare_with_plan(garden, weather, *request.after, from, planned.findings);
    water.runs = planned_water(*request.after, from).runs;
  }
  const auto known = start_states(garden, weather, request.after, from, water, planned.findings);
  planned.observed_digest = digest(weather.observed, from);
  std::vector<ZoneTask> tasks;
  for (std::size_t z = 0; z < garden.zones.size(); ++z) {
    planned.zones.push_back(
        prepare_zone(garden, garden.zones[z], planned.weather, planned.findings, known[z]));
    tasks.push_back(planned.zones.back().task);
  }
  if (request.after) {
    planned.past = days_until(garden, weather, *request.after, from, water);
    compare_meter(garden, *request.after, from, water, planned.zones, planned.findings);
  }
  planned.constraints =
      constraints_of(garden, planned.weather, planned.zones, from, planned.findings, away_days);
  planned.plan =
      plan_week(tasks, planned.constraints, from,
                {.risk = request.risk, .by_hand = request.by_hand, .away_days = away_days},
                in_force(garden, request), runs_by_hand(request, from));
  for (Finding& doubt : days_to_set_anew(garden, planned.constraints, planned.plan.valves, from))
    planned.findings.push_back(std::move(doubt));
  take_soil_evaporation(planned);
  planned.outlook = outlook(garden, weather, planned, request.risk);
  planned.advice = advice(garden, planned, request.risk);
  if (request.until) {
    planned.advice.waterings.clear();  // nobody is there to follow it
    planned.away = away(garden, planned, request);
  }
  return planned;
}

Plan plan_again(const Garden& garden, const GardenPlan& planned,
                std::span<const std::size_t> changed, const PlanRequest& request) {
  std::vector<Finding> said_before;
  std::vector<PreparedZone> zones;
  std::vector<ZoneTask> tasks;
  for (std::size_t z = 0; z < garden.zones.size(); ++z) {
    const bool as_before =
        z < planned.zones.size() && std::find(changed.begin(), changed.end(), z) == changed.end();
    const StartState start =
        z < planned.zones.size() ? start_again(planned.zones[z]) : StartState{};
    zones.push_back(
        as_before ? planned.zones[z]
                  : prepare_zone(garden, garden.zones[z], planned.weather, said_before, start));
    tasks.push_back(zones.back().task);
  }
  const Date from = planned.plan.from;
  const int away_days = absence_days(from, request.until);
  const Constraints constraints =
      constraints_of(garden, planned.weather, zones, from, said_before, away_days);
  return plan_week(tasks, constraints, from,
                   {.risk = request.risk, .by_hand = request.by_hand, .away_days = away_days},
                   in_force(garden, request), runs_by_hand(request, from));
}

WateringHours usable_hours(const Garden& garden, Date date) {
  const WallTime noon = solar_noon(garden, date);
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

WallTime solar_noon(const Garden& garden, Date date) {
  const double offset_h =
      static_cast<double>(utc_offset_at_noon(garden.timezone, date).count()) / 60.0;
  return WallTime{
      std::lround(60.0 * solar_noon_h(garden.site.longitude_deg, offset_h, day_of_year(date)))};
}

}  // namespace runnel

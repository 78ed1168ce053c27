// What a programme typed once a week uses beyond the least possible: watering day by day, as late
// as the limit allows, with the whole season's weather known.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <iomanip>
#include <iostream>
#include <map>
#include <random>
#include <string>
#include <vector>

#include "open_years.hpp"

using namespace runnel;
using namespace runnel::open_years;

namespace {

// ---- the least water, by its own arithmetic (FAO-56 Eq. 85-88)

/// Days of one root zone. [days]
struct Days {
  std::vector<double> etc_mm, rain_mm, limit_mm;
};
/// A day from the depletion it begins with: the depletion it ends with. What is beyond field
/// capacity at its end drains.
double after_day(double depletion_mm, double rain_mm, double etc_mm, double water_mm) {
  return std::max(0.0, depletion_mm - rain_mm - water_mm + etc_mm);
}

/// The least water that keeps each day within its limit and ends no drier than `end_mm`: nothing
/// until the limit would be passed, then as much as brings it back to the limit; the rest on the
/// last morning. No other course within the limits is ever as dry, so that none has more room for
/// rain: least drainage, and with it least water. [days]
std::vector<double> least_water_mm(const Days& days, double start_mm, double end_mm) {
  std::vector<double> water_mm;
  double depletion_mm = start_mm;
  for (std::size_t d = 0; d < days.etc_mm.size(); ++d) {
    water_mm.push_back(std::max(0.0, depletion_mm - days.rain_mm[d] - days.limit_mm[d]));
    depletion_mm = after_day(depletion_mm, days.rain_mm[d], days.etc_mm[d], water_mm.back());
  }
  water_mm.back() += std::max(0.0, depletion_mm - end_mm);
  return water_mm;
}

double sum(const std::vector<double>& values) {
  double total = 0.0;
  for (const double value : values) total += value;
  return total;
}

/// The same by trying every whole depth on every morning and evening.
int least_by_trying(const Days& days, std::size_t d, int depletion_mm, int end_mm, int most_mm) {
  constexpr int none = 1'000'000;
  if (d == days.etc_mm.size()) return depletion_mm <= end_mm ? 0 : none;
  int least = none;
  for (int morning = 0; morning <= most_mm; ++morning) {
    const int judged_mm = depletion_mm - static_cast<int>(days.rain_mm[d]) - morning;
    if (judged_mm > static_cast<int>(days.limit_mm[d])) continue;
    const int used_mm = judged_mm + static_cast<int>(days.etc_mm[d]);
    for (int evening = 0; evening <= most_mm; ++evening)
      least = std::min(
          least, morning + evening +
                     least_by_trying(days, d + 1, std::max(0, used_mm - evening), end_mm, most_mm));
  }
  return least;
}

// ---- seasons

struct Use {
  double gross_mm = 0, drained_mm = 0, unmet_mm = 0, end_mm = 0;
  int days_beyond = 0, stress_days = 0;
};

/// Days [first, first + days) of a task.
ZoneTask stretch(const ZoneTask& season, Eigen::Index first, Eigen::Index days) {
  ZoneTask part = season;
  part.model = {.kc = season.model.kc.segment(first, days),
                .taw_mm = season.model.taw_mm.segment(first, days)};
  part.horizon = {.et_mm = season.horizon.et_mm.middleCols(first, days),
                  .rain_mm = season.horizon.rain_mm.middleCols(first, days)};
  return part;
}

/// What a week's or a season's waterings do in its true weather, added to `use`; the state after.
SoilState live(const ZoneTask& truth, const SoilState& start, const Waterings& given, Use& use) {
  const Outcome outcome = balance(truth.root_zone, start, truth.model, truth.horizon, given);
  use.gross_mm += given.net_mm.sum() * truth.delivery.multiplier;
  use.drained_mm += outcome.drained_mm[0];
  use.unmet_mm += outcome.unmet_mm[0];
  use.days_beyond += outcome.days_beyond[0];
  use.stress_days += outcome.stress_days[0];
  use.end_mm = outcome.end_mm[0];
  return state_after(trace(truth.root_zone, start, truth.model, truth.horizon, given, 0), start);
}

struct Season {
  Garden garden;
  SiteWeather weather;  ///< its record: all other years
  std::vector<Date> mondays;
  std::vector<ZoneTask> zones;  ///< bed and border, over the weeks and one more
};

Season season_of(const City& city, int year) {
  Season season{.garden = garden_in(city), .weather = {}, .mondays = {}, .zones = {}};
  std::vector<Finding> findings;
  season.garden.zones.pop_back();  // the pots
  season.weather = read_site_weather(season.garden, findings);
  season.weather.record = record_without(season.weather.observed, year);
  season.mondays = mondays(day(year, 4, 1), day(year, 9, 30));
  const int days = week_days * static_cast<int>(season.mondays.size() + 1);
  season.zones =
      tasks_over(season.garden, observed_weather(season.weather, season.mondays.front(), days));
  return season;
}

/// How a plan's future weather is made.
enum class Foresight { two_weeks, one_week, none };

/// The zone tasks of a Monday's plan.
std::vector<ZoneTask> tasks_of(const Season& season, std::size_t week, Foresight foresight) {
  std::vector<ZoneTask> tasks;
  if (foresight == Foresight::two_weeks) {
    for (const ZoneTask& zone : season.zones)
      tasks.push_back(stretch(zone, week_days * static_cast<Eigen::Index>(week), horizon_days));
    return tasks;
  }
  SiteWeather weather = season.weather;
  const Date monday = season.mondays[week];
  if (foresight == Foresight::one_week)
    weather.forecast =
        days_of(weather.observed, (monday - weather.observed.first_day).count(), week_days);
  std::vector<Finding> findings;
  return tasks_over(season.garden,
                    assume_weather(season.garden, weather, monday, horizon_days, findings));
}

/// What a minute brings when no timer rounds: any depth up to a day's 1,440 of them, before the
/// day's ET. What whole minutes and the watering hours cost is then left out.
constexpr double grain_mm = 0.04;
void without_rounding(ZoneTask& task) {
  task.delivery.flow =
      Rate::mm_per_hour(60.0 * grain_mm * task.delivery.multiplier) * task.delivery.area;
}
Constraints any_length_in_the_morning() {
  Timer timer;
  timer.starts_per_valve = 1;
  timer.minutes_most = 24 * 60;
  return {.hours = {{.opens = WallTime{0}, .closes = WallTime{24 * 60}}}, .timer = timer};
}

/// The season of weekly plans, each zone's use. [zones]
std::vector<Use> weekly(const Season& season, Foresight foresight, bool rounded, double risk) {
  std::vector<Use> uses(season.zones.size());
  std::vector<SoilState> state;
  for (const ZoneTask& zone : season.zones) state.push_back(zone.start);
  for (std::size_t week = 0; week < season.mondays.size(); ++week) {
    const Date monday = season.mondays[week];
    std::vector<ZoneTask> tasks = tasks_of(season, week, foresight);
    for (std::size_t z = 0; z < tasks.size(); ++z) {
      tasks[z].start = state[z];
      if (!rounded) without_rounding(tasks[z]);
    }
    std::vector<Waterings> given;
    if (rounded) {
      const Constraints constraints{.hours = usable_hours(season.garden, monday),
                                    .timer = season.garden.timer};
      const Plan plan = plan_week(tasks, constraints, monday, {.risk = risk});
      for (const ZonePlan& zone : plan.zones) given.push_back(zone.waterings_mm);
    } else {
      for (const ZoneTask& task : tasks)
        given.push_back(plan_week({&task, 1}, any_length_in_the_morning(), monday, {.risk = risk})
                            .zones[0]
                            .waterings_mm);
    }
    for (std::size_t z = 0; z < tasks.size(); ++z)
      state[z] =
          live(stretch(season.zones[z], week_days * static_cast<Eigen::Index>(week), week_days),
               state[z], first_days(given[z], week_days), uses[z]);
  }
  return uses;
}

/// What a depletion may be beyond its limit without being counted (soil/balance_day.hpp).
constexpr double unseen_mm = 0.05 - 1e-9;

/// The least water of that season that ends no drier than a course which ended at `end_mm`.
Use least(const ZoneTask& season, Eigen::Index days_in_season, double end_mm) {
  const ZoneTask truth = stretch(season, 0, days_in_season);
  const BalanceTrace dry = trace(truth.root_zone, truth.start, truth.model, truth.horizon, {}, 0);
  Days days;
  for (Eigen::Index d = 0; d < days_in_season; ++d) {
    days.etc_mm.push_back(truth.model.kc[d] * truth.horizon.et_mm(0, d));
    days.rain_mm.push_back(truth.horizon.rain_mm(0, d));
    days.limit_mm.push_back(dry.limit_mm[d] + unseen_mm);
  }
  const std::vector<double> water_mm = least_water_mm(days, truth.start.depletion_mm, end_mm);
  Waterings given{.et_share_before = {0.0}, .net_mm = Eigen::ArrayXXd::Zero(1, days_in_season)};
  for (Eigen::Index d = 0; d < days_in_season; ++d)
    given.net_mm(0, d) = water_mm[static_cast<std::size_t>(d)];
  Use use;
  live(truth, truth.start, given, use);
  return use;
}

/// Seasons of one kind of zone together.
struct Sum {
  int seasons = 0;
  double used_mm = 0, least_mm = 0, end_mm = 0, least_end_mm = 0;
  int stress_days = 0, least_stress_days = 0;
  void add(const Use& use, const Use& best) {
    ++seasons;
    used_mm += use.gross_mm;
    least_mm += best.gross_mm;
    end_mm += use.end_mm;
    least_end_mm += best.end_mm;
    stress_days += use.stress_days;
    least_stress_days += best.stress_days;
  }
  [[nodiscard]] double over_mm() const { return (used_mm - least_mm) / seasons; }
  [[nodiscard]] double over_share() const { return used_mm / least_mm - 1.0; }
  /// Asked of whoever knows the week: at most 3 % or 2 mm a season over the least, whichever is
  /// more, at the same end and without more stress.
  [[nodiscard]] bool near_the_least() const {
    return (over_share() <= 0.03 || over_mm() <= 2.0) && stress_days <= least_stress_days &&
           std::abs(end_mm - least_end_mm) < 1e-6 * seasons;
  }
};

struct Way {
  const char* name;
  Foresight foresight;
  bool rounded;
};
constexpr Way two_weeks_known{"two weeks known", Foresight::two_weeks, false};
constexpr Way one_week_known{"one week known, then the record", Foresight::one_week, false};
constexpr Way ways[] = {
    two_weeks_known,
    {"two weeks known, timer's minutes", Foresight::two_weeks, true},
    one_week_known,
    {"one week known, then the record, timer's minutes", Foresight::one_week, true},
    {"the record alone", Foresight::none, false},
    {"the record alone, timer's minutes", Foresight::none, true}};

/// A season planned that way, added to the sum of each zone. No course within the limits can use
/// less than the least.
void add_season(const Season& season, const Way& way, std::map<std::string, Sum>& sums) {
  const auto days = static_cast<Eigen::Index>(week_days * season.mondays.size());
  const std::vector<Use> uses = weekly(season, way.foresight, way.rounded, 0.10);
  for (std::size_t z = 0; z < uses.size(); ++z) {
    const Use best = least(season.zones[z], days, uses[z].end_mm);
    CHECK(best.days_beyond == 0);
    CHECK(best.end_mm <= uses[z].end_mm + 1e-6);
    // Unseen beyond its limit a zone uses a little less than the least is reckoned with.
    const double less_used_mm = uses[z].unmet_mm * season.zones[z].delivery.multiplier;
    if (uses[z].days_beyond == 0) CHECK(best.gross_mm <= uses[z].gross_mm + less_used_mm + 1e-6);
    sums[season.zones[z].name].add(uses[z], best);
    sums["both"].add(uses[z], best);
  }
}

/// A row of the table of DEVELOPERS.md.
void print(const Way& way, const std::map<std::string, Sum>& sums) {
  for (const auto& [zone, sum] : sums)
    std::cout << "| " << way.name << " | " << zone << " | " << std::fixed << std::setprecision(1)
              << sum.used_mm / sum.seasons << " | " << sum.least_mm / sum.seasons << " | "
              << sum.over_mm() << " | " << 100.0 * sum.over_share() << " % | " << sum.stress_days
              << " / " << sum.least_stress_days << " | " << sum.end_mm / sum.seasons << " / "
              << sum.least_end_mm / sum.seasons << " |\n";
}

}  // namespace

TEST_CASE("foresight - the least water is the least of all that can be tried") {
  std::mt19937 random(1);
  const auto upto = [&random](unsigned most) {
    return static_cast<double>(random() % (most + 1U));
  };
  int compared = 0;
  for (int number = 0; number < 60; ++number) {
    Days days;
    for (int d = 0; d < 4; ++d) {
      days.etc_mm.push_back(upto(3));
      days.rain_mm.push_back(upto(3) < 2 ? 0.0 : upto(4));
      days.limit_mm.push_back(2 + upto(2));
    }
    const double start_mm = upto(2);
    const double end_mm = upto(4);
    CHECK(sum(least_water_mm(days, start_mm, end_mm)) ==
          least_by_trying(days, 0, static_cast<int>(start_mm), static_cast<int>(end_mm), 4));
    ++compared;
  }
  CHECK(compared == 60);
}

TEST_CASE("foresight - a season of weekly programmes beside the least water") {
  std::map<std::string, Sum> sums;
  add_season(season_of(seattle, 2015), one_week_known, sums);
  add_season(season_of(new_york, 2012), one_week_known, sums);
  CHECK(sums["both"].least_mm > 200.0);
  CHECK(sums["both"].near_the_least());
}

TEST_SUITE("slow") {
  TEST_CASE("foresight - weekly programmes against daily ones in all seasons" * doctest::skip()) {
    std::cout << "| known | zone | used mm | least mm | over mm | over | stress days | end mm |\n"
                 "| --- | --- | --- | --- | --- | --- | --- | --- |\n";
    std::vector<Season> seasons;
    for (const City& city : {seattle, new_york})
      for (int year = first_year; year <= last_year; ++year)
        seasons.push_back(season_of(city, year));
    std::vector<double> over_mm;
    for (const Way& way : ways) {
      std::map<std::string, Sum> sums;
      for (const Season& season : seasons) add_season(season, way, sums);
      print(way, sums);
      over_mm.push_back(sums["both"].over_mm());
      if (way.foresight == Foresight::none) continue;
      CHECK(sums["both"].stress_days == 0);
      if (way.foresight == Foresight::one_week && !way.rounded)
        CHECK(sums["both"].near_the_least());
    }
    // One future alone: the ground must stay half full. What is checked is that it gets no worse.
    CHECK(over_mm[0] < 10.0);
    CHECK(over_mm[2] < over_mm[4]);  // what the week's weather is worth
  }
}

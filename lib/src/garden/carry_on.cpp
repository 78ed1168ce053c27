#include "runnel/garden/carry_on.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <string>
#include <utility>

#include "runnel/garden/digest.hpp"
#include "runnel/garden/moisture_reading.hpp"
#include "runnel/garden/plan_garden.hpp"
#include "runnel/garden/water_taken.hpp"
#include "runnel/garden/zone_task.hpp"

namespace runnel {
namespace {

using Eigen::Index;
using std::chrono::days;

constexpr Index alike_days = 7;
constexpr days longest_reach{366};  // nobody leaves a programme as it is for longer; no source

[[noreturn]] void refuse(const Place& at, std::string says, std::string mend) {
  throw InputError(Finding{
      .kind = Finding::Kind::error, .at = at, .says = std::move(says), .mend = std::move(mend)});
}

void say(std::vector<Finding>& findings, Finding::Kind kind, const Place& at, std::string says,
         std::string mend) {
  findings.push_back({.kind = kind, .at = at, .says = std::move(says), .mend = std::move(mend)});
}

void require_reach(const SavedPlan& plan, Date date) {
  if (date < plan.from)
    refuse(plan.from_at,
           "the plan begins on " + iso_date(plan.from) + ", after " + iso_date(date) +
               ", from which to carry on",
           "carry on with --from " + iso_date(plan.from) + " or later, or plan without --after");
  if (date > plan.from + longest_reach)
    refuse(
        plan.from_at,
        "the plan begins on " + iso_date(plan.from) + ", more than a year before " + iso_date(date),
        "plan without --after");
}

/// Rows of a stretch in any order, as if they were days in a row.
DailyWeather picked(const DailyWeather& weather, const std::vector<Index>& rows, Date first) {
  DailyWeather part{.first_day = first,
                    .eto_mm = weather.eto_mm(rows),
                    .rain_mm = weather.rain_mm(rows),
                    .u2_m_s = weather.u2_m_s(rows),
                    .rh_min_pct = weather.rh_min_pct(rows),
                    .estimated = {},
                    .inputs = std::nullopt,
                    .fitted = weather.fitted};
  for (const Index row : rows)
    part.estimated.push_back(weather.estimated[static_cast<std::size_t>(row)]);
  if (!weather.inputs) return part;
  const EtInputs& all = *weather.inputs;
  part.inputs = EtInputs{.first_day = first,
                         .t_max_c = all.t_max_c(rows),
                         .t_min_c = all.t_min_c(rows),
                         .ea_kpa = all.ea_kpa(rows),
                         .u2_m_s = all.u2_m_s(rows),
                         .rs_mj_m2_d = all.rs_mj_m2_d(rows),
                         .estimated = part.estimated};
  return part;
}

/// The days from the plan's first on, as one future.
struct PastWeather {
  AssumedWeather assumed;
  Column et_factor;           ///< [days] on the ET of each; 1 where it was observed
  std::vector<Date> unknown;  ///< not observed
};

/// Of the last days observed before `end` (a row) the one whose reference ET is nearest.
Index most_alike(const DailyWeather& observed, Index end, double eto_mm) {
  const Index first = std::max<Index>(0, end - alike_days);
  Index nearest = 0;
  (observed.eto_mm.segment(first, end - first) - eto_mm).abs().minCoeff(&nearest);
  return first + nearest;
}

PastWeather past_weather(const SiteWeather& weather, const SavedPlan& plan, Date date,
                         std::map<Date, double> rain_mm) {
  const DailyWeather& observed = weather.observed;
  const auto length = static_cast<Index>((date - plan.from).count());
  const Index end = std::clamp<Index>((date - observed.first_day).count(), 0, observed.days());
  PastWeather past{.assumed = {}, .et_factor = Column::Ones(length), .unknown = {}};
  std::vector<Index> rows;
  for (Index day = 0; day < length; ++day) {
    const Date today = plan.from + days{day};
    const Index row = (today - observed.first_day).count();
    if (row >= 0 && row < end) {
      rows.push_back(row);
      continue;
    }
    if (end == 0 || day >= static_cast<Index>(plan.weather.size()))
      refuse(plan.from_at,
             "the weather of " + iso_date(today) +
                 " is not known: it was neither observed nor is it in the plan",
             "add the day to the observed weather, or plan without --after");
    const SavedDay& planned = plan.weather[static_cast<std::size_t>(day)];
    rows.push_back(most_alike(observed, end, planned.eto_mm));
    const double alike_mm = observed.eto_mm[rows.back()];
    if (alike_mm > 0.0) past.et_factor[day] = planned.eto_mm / alike_mm;
    rain_mm.emplace(today, planned.rain_mm);
    past.unknown.push_back(today);
  }
  SiteWeather lived{
      .observed = picked(observed, rows, plan.from), .forecast = std::nullopt, .record = {}};
  for (const auto& [day, depth_mm] : rain_mm)
    if (day >= plan.from && day < date)
      lived.observed.rain_mm[(day - plan.from).count()] = depth_mm;
  past.assumed = observed_weather(lived, plan.from, static_cast<int>(length));
  return past;
}

/// What ran on the zone's valve, after which share of the day's ET.
Waterings waterings_on(const Garden& garden, const ZoneTask& task, const std::vector<PastRun>& runs,
                       Date first, Index length) {
  const bool by_the_sun = task.root_zone.surplus == Surplus::at_once;
  std::map<double, Column> minutes;
  for (const PastRun& run : runs) {
    const Index day = (run.date - first).count();
    if (day < 0 || day >= length) continue;
    const double after_noon = run.start >= solar_noon(garden, run.date) ? 1.0 : 0.0;
    const double share = by_the_sun ? task.et_share_before(run.start) : after_noon;
    minutes.try_emplace(share, Column::Zero(length)).first->second[day] += run.minutes;
  }
  Waterings waterings{.et_share_before = {},
                      .net_mm = Eigen::ArrayXXd(static_cast<Index>(minutes.size()), length)};
  for (const auto& [share, of_day] : minutes) {
    waterings.net_mm.row(static_cast<Index>(waterings.et_share_before.size())) =
        of_day.transpose() * task.delivery.net_mm_per_minute();
    waterings.et_share_before.push_back(share);
  }
  return waterings;
}

/// What a zone makes no use of stays as it started.
SoilState state_after(SoilState state, const BalanceTrace& trace) {
  const auto take_last = [](double& value, const Column& by_day) {
    if (by_day.size() > 0) value = by_day[by_day.size() - 1];
  };
  take_last(state.depletion_mm, trace.end_mm);
  take_last(state.dry_mm, trace.dry_end_mm);
  take_last(state.surface_mm, trace.surface_end_mm);
  take_last(state.surface_fw, trace.surface_fw);
  return state;
}

/// A zone after some days, and these.
struct LivedZone {
  SoilState state;
  std::vector<PastDay> days;
};

/// One day more.
void live(LivedZone& zone, const ZoneTask& task, const Waterings& waterings, Date first,
          Index day) {
  const auto today = [day](const Column& by_day) -> Column {
    return by_day.size() > 0 ? Column(by_day.segment(day, 1)) : Column();
  };
  const ZoneModel model{.kc = today(task.model.kc),
                        .taw_mm = today(task.model.taw_mm),
                        .kc_max = today(task.model.kc_max),
                        .cover = today(task.model.cover)};
  const Horizon horizon{.et_mm = task.horizon.et_mm.middleCols(day, 1),
                        .rain_mm = task.horizon.rain_mm.middleCols(day, 1)};
  const Waterings given{.et_share_before = waterings.et_share_before,
                        .net_mm = waterings.net_mm.middleCols(day, 1)};
  const BalanceTrace does = trace(task.root_zone, zone.state, model, horizon, given, 0);
  const Outcome outcome = balance(task.root_zone, zone.state, model, horizon, given);
  zone.state = state_after(zone.state, does);
  zone.days.push_back({.date = first + days{day},
                       .end_mm = does.end_mm[0],
                       .limit_mm = does.limit_mm[0],
                       .beyond_mm = outcome.beyond_mm[0]});
}

/// The weather of those days with the rain that the zone's own gauge or the garden's caught.
AssumedWeather with_gauges(const WaterLog& log, std::size_t zone, double rain_reaches,
                           AssumedWeather weather) {
  weather.rain_mm = rain_with_gauges(log, zone, rain_reaches, weather.first_day, weather.rain_mm);
  weather.stretches.front().rain_mm = weather.rain_mm;
  return weather;
}

/// @param z the zone's place in the garden.
LivedZone lived_through(const Garden& garden, std::size_t z, const SavedZone& saved,
                        const PastWeather& past, const PastWater& water,
                        std::vector<Finding>& findings) {
  const Zone& zone = garden.zones[z];
  std::vector<Finding> said_when_planned;
  PreparedZone prepared =
      prepare_zone(garden, zone, with_gauges(water.log, z, zone.rain_reaches, past.assumed),
                   said_when_planned, {.state = saved.start});
  ZoneTask& task = prepared.task;
  const Date first = past.assumed.first_day;
  task.horizon.et_mm.row(0) *= past.et_factor.transpose();
  const std::vector<PastRun> runs =
      runs_of_zone(water.log, z, saved.valve, water.runs, task.delivery);
  const Waterings waterings = waterings_on(garden, task, runs, first, past.et_factor.size());
  LivedZone lived{.state = task.start, .days = {}};
  Index day = 0;
  for (const MoistureReading& reading : moisture_readings(water.log, z)) {
    const Index until = (reading.date - first).count() + 1;
    if (until < 0 || until > task.model.taw_mm.size()) continue;
    while (day < until) live(lived, task, waterings, first, day++);
    const double taw_mm = task.model.taw_mm[std::max<Index>(0, until - 1)];
    doubt_reading(reading, zone.name, taw_mm, garden.display, findings);
    lived.state.depletion_mm = reading.depletion_mm(taw_mm);
    if (!lived.days.empty()) lived.days.back().found_mm = lived.state.depletion_mm;
  }
  while (day < task.model.taw_mm.size()) live(lived, task, waterings, first, day++);
  return lived;
}

void doubt_unknown_days(const Garden& garden, const std::vector<Date>& unknown,
                        std::vector<Finding>& findings) {
  if (unknown.empty()) return;
  std::string which = iso_date(unknown.front());
  if (unknown.size() > 1)
    which =
        std::to_string(unknown.size()) + " days from " + which + " to " + iso_date(unknown.back());
  say(findings, Finding::Kind::doubt, in_file(garden.weather.observed),
      which + " not observed: taken as the plan before assumed", "add the weather of these days");
}

void remark_zones(const Garden& garden, const SavedPlan& plan, std::vector<Finding>& findings) {
  for (const Zone& zone : garden.zones) {
    if (plan.zone_named(zone.name) == nullptr) {
      say(findings, Finding::Kind::remark, zone.at,
          zone.name + ": is not in the plan before, which says nothing of how dry it is", "");
    } else if (zone.depletion_mm) {
      say(findings, Finding::Kind::remark, zone.at,
          zone.name +
              ": the depletion written here is not looked at, since the plan before says "
              "how dry it is",
          "plan without --after to use it");
    }
  }
  for (const SavedZone& saved : plan.zones) {
    const bool is_there = std::any_of(garden.zones.begin(), garden.zones.end(),
                                      [&](const Zone& zone) { return zone.name == saved.name; });
    if (!is_there)
      say(findings, Finding::Kind::remark, in_file(plan.file),
          "its zone " + quoted(saved.name) + " is no longer in the garden", "");
  }
}

}  // namespace

PastWater planned_water(const SavedPlan& plan, Date date) {
  Timer timer;
  timer.percentage = plan.percentage;
  timer.pause_minutes = plan.pause_minutes;
  PastWater water;
  for (const Programme& programme : plan.programmes) {
    for (const Run& run : programme.runs) {
      const ValveTimes times = times_of(run.valve, plan.programmes, timer);
      for (Date day = plan.from; day < date; day += days{1}) {
        if (!waters_on(times.days, day)) continue;
        for (const ValveTimes::Opening& opening : times.openings)
          water.runs.push_back({.date = day,
                                .valve = run.valve,
                                .start = opening.start,
                                .minutes = static_cast<double>(opening.length.count())});
      }
    }
  }
  for (const HandWatering& watering : plan.by_hand)
    if (watering.date < date)
      water.runs.push_back({.date = watering.date,
                            .valve = watering.valve,
                            .start = WallTime{0},
                            .minutes = static_cast<double>(watering.minutes),
                            .by_hand = true});
  return water;
}

std::vector<std::optional<SoilState>> states_at(const Garden& garden, const SiteWeather& weather,
                                                const SavedPlan& plan, Date date,
                                                const PastWater& water,
                                                std::vector<Finding>& findings) {
  require_reach(plan, date);
  std::optional<PastWeather> past;
  if (date > plan.from) past = past_weather(weather, plan, date, garden_rain_mm(water.log));
  if (past) doubt_unknown_days(garden, past->unknown, findings);
  if (date > plan.until + days{1})
    say(findings, Finding::Kind::remark, in_file(plan.file),
        "its programmes are taken to have run on unchanged after " + iso_date(plan.until), "");
  remark_zones(garden, plan, findings);
  std::vector<std::optional<SoilState>> states;
  for (std::size_t z = 0; z < garden.zones.size(); ++z) {
    const SavedZone* saved = plan.zone_named(garden.zones[z].name);
    states.emplace_back();
    if (saved != nullptr)
      states.back() =
          past ? lived_through(garden, z, *saved, *past, water, findings).state : saved->start;
  }
  return states;
}

std::vector<std::vector<PastDay>> days_until(const Garden& garden, const SiteWeather& weather,
                                             const SavedPlan& plan, Date date,
                                             const PastWater& water) {
  require_reach(plan, date);
  std::vector<std::vector<PastDay>> lived(garden.zones.size());
  if (date == plan.from) return lived;
  const PastWeather past = past_weather(weather, plan, date, garden_rain_mm(water.log));
  std::vector<Finding> said_already;
  for (std::size_t z = 0; z < garden.zones.size(); ++z)
    if (const SavedZone* saved = plan.zone_named(garden.zones[z].name))
      lived[z] = lived_through(garden, z, *saved, past, water, said_already).days;
  return lived;
}

void compare_with_plan(const Garden& garden, const SiteWeather& weather, const SavedPlan& plan,
                       Date date, std::vector<Finding>& findings) {
  if (plan.garden != garden.name)
    refuse(plan.garden_at,
           "this is a plan for " + quoted(plan.garden) + ", not for " + quoted(garden.name),
           "give that garden's own plan, or plan without --after");
  require_reach(plan, date);
  if (plan.garden_digest != garden.digest)
    say(findings, Finding::Kind::remark, in_file(garden.file),
        "the garden file has changed since the plan before was made", "");
  if (plan.observed_digest != digest(weather.observed, plan.from))
    say(findings, Finding::Kind::remark, in_file(garden.weather.observed),
        "the days before " + iso_date(plan.from) +
            " are not those from which the plan before was made",
        "");
}

}  // namespace runnel

#include "runnel/garden/zone_task.hpp"

#include <algorithm>
#include <numbers>

#include "runnel/garden/time_zone.hpp"
#include "runnel/sky/sun.hpp"
#include "runnel/soil/rain.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"
#include "zone_parts.hpp"

namespace runnel {
namespace {

Horizon horizon(const ZoneContext& context, const ZoneExposure& exposure, const Ground& ground) {
  return {.et_mm = exposure.et_mm,
          .rain_mm =
              rain_on_zone(context.weather.rain_by_future_mm(), context.weather.eto_by_future_mm(),
                           ground.rain_share, ground.curve_number)
                  .entering_mm};
}

double found_mm(const ZoneContext& context, const MoistureReading& reading, double taw_mm) {
  doubt_reading(reading, context.zone.name, taw_mm, context.garden.display, context.findings);
  return reading.depletion_mm(taw_mm);
}

/// How wet the zone is where that is known.
SoilState known_start(const ZoneContext& context, const ZoneTask& task, const StartState& known) {
  SoilState state = *known.state;
  std::string corrected_by = known.corrected_by;
  if (known.evening_before) {
    state.depletion_mm = found_mm(context, *known.evening_before, task.model.taw_mm[0]);
    corrected_by = to_text(*known.evening_before);
  }
  const auto mm = [&context](double depth_mm) { return context.shown(Shown::depth, depth_mm, 1); };
  context.fact("depletion at the start", mm(state.depletion_mm),
               known.source + (corrected_by.empty() ? "" : ", corrected by the " + corrected_by));
  if (task.root_zone.wetted_share < 1.0)
    context.fact("dry part, depletion", mm(state.dry_mm), known.source);
  if (task.root_zone.surface)
    context.fact("surface depletion De", mm(state.surface_mm), known.source);
  return state;
}

/// How dry the root zone is on the first day: as found or stated, else half the limit.
SoilState start(const ZoneContext& context, const ZoneTask& task, double limit_mm,
                const SoilState& rain_fed, const std::optional<MoistureReading>& found) {
  const auto& stated_mm = context.zone.depletion_mm;
  SoilState start = rain_fed;
  start.depletion_mm =
      found ? found_mm(context, *found, task.model.taw_mm[0]) : stated_mm.value_or(0.5 * limit_mm);
  context.fact("depletion at the start", context.shown(Shown::depth, start.depletion_mm, 1),
               found       ? to_text(*found)
               : stated_mm ? own_figure
                           : "not known: half the limit");
  if (!found && !stated_mm)
    context.say(Finding::Kind::remark, context.zone.at,
                "depletion at the start is not known: half the limit, " +
                    context.shown(Shown::depth, start.depletion_mm, 1) + ", is taken",
                "feel the soil and write depletion: ... if you know better");
  if (found && stated_mm)
    context.say(Finding::Kind::remark, found->at,
                "the depletion written in the garden file is not looked at, since the " +
                    to_text(*found) + " says how dry it is",
                "");
  return start;
}

/// Share of the day's ET that is over at a time of the site's clock, as the sun has it.
std::function<double(WallTime)> sun_clock(const Garden& garden, Date first_day) {
  const double latitude_rad = garden.site.latitude_deg * std::numbers::pi / 180.0;
  const int day = day_of_year(first_day);
  const double offset_h =
      static_cast<double>(utc_offset_at_noon(garden.timezone, first_day).count()) / 60.0;
  const double noon_h = solar_noon_h(garden.site.longitude_deg, offset_h, day);
  return [=](WallTime time) {
    const double angle_rad =
        std::numbers::pi / 12.0 * (static_cast<double>(time.count()) / 60.0 - noon_h);
    return radiation_share_before(latitude_rad, day,
                                  std::clamp(angle_rad, -std::numbers::pi, std::numbers::pi));
  };
}

}  // namespace

bool ZoneContext::states(const std::string& key) const {
  const auto own = std::find_if(garden.zones.begin(), garden.zones.end(),
                                [this](const Zone& other) { return other.name == zone.name; });
  return is_written(garden, "zones." + std::to_string(own - garden.zones.begin() + 1) + "." + key);
}

void ZoneContext::fact(std::string what, std::string value, std::string source) const {
  facts.push_back(
      {.what = std::move(what), .value = std::move(value), .source = std::move(source)});
}

void ZoneContext::say(Finding::Kind kind, const Place& at, std::string says,
                      std::string mend) const {
  findings.push_back({.kind = kind,
                      .at = at,
                      .says = zone.name + ": " + std::move(says),
                      .mend = std::move(mend)});
}

EmitterType emitter_type(const Zone& zone) {
  const std::vector<EmitterType> types = emitter_types(published_table("emitters"));
  return *find_emitter_type(types, zone.emitters.type);
}

PreparedZone prepare_zone(const Garden& garden, const Zone& zone, const AssumedWeather& weather,
                          std::vector<Finding>& findings, const StartState& known) {
  PreparedZone prepared{};  // the limit is looked at before the start is known
  const ZoneContext context{garden, zone, weather, findings, prepared.facts};
  context.fact("reference ET, the week",
               context.shown(Shown::depth, first_week(weather.eto_mm).sum(), 1), "FAO-56 Eq. 6");
  const ZoneExposure exposure = zone_exposure(context);
  const ZonePlants plants = zone_plants(context);
  prepared.exposure_factor = exposure.week_factor;
  prepared.sky_seen = exposure.sky_seen;
  prepared.containers = context.in_pots();
  prepared.chain = DemandChain(weather.eto_mm);
  prepared.chain[DemandFactor::sun_and_sky] = exposure.at_open_wind;
  prepared.chain[DemandFactor::shelter] =
      (exposure.at_open_wind > 0.0).select(exposure.factor / exposure.at_open_wind, 1.0);
  prepared.chain[DemandFactor::plants] = plants.parts.plants;
  prepared.chain[DemandFactor::density] = plants.parts.density;
  prepared.chain[DemandFactor::stage] = plants.parts.stage;
  const double standing = context.in_pots() ? pot_place_factor(context) : 1.0;
  prepared.chain[DemandFactor::standing].setConstant(standing);
  if (plants.kc_max.size() == 0)  // with the dual coefficient ETc depends on the waterings
    context.fact("ETc, the week",
                 context.shown(Shown::depth, first_week(prepared.chain.demand_mm()).sum(), 1),
                 "FAO-56 Eq. 58: ET x exposure x coefficient");

  const Ground ground = context.in_pots() ? pots(context, plants.p, prepared.chain.demand_mm())
                                          : bed(context, plants);
  const ZoneSurface surface = zone_surface(context, plants);
  ZoneTask& task = prepared.task;
  task.name = zone.name;
  task.valve = zone.valve;
  task.delivery = zone_delivery(context, ground);
  task.intake = ground.intake;
  task.overhead = !emitter_type(zone).drip && !zone.wishes.evening_fine;
  task.root_zone = {.p = plants.p,
                    .adjust_p = plants.adjust_p,
                    .aim_ks = 1.0,
                    .surplus = ground.surplus,
                    .wetted_share = surface.wetted_share,
                    .surface = surface.surface};
  task.model = {.kc = surface.kcb_share * standing * plants.kc,
                .taw_mm = ground.taw_mm,
                .kc_max = plants.kc_max,
                .cover = plants.cover};
  task.horizon = horizon(context, exposure, ground);
  task.et_share_before = sun_clock(garden, weather.first_day);
  const double limit_mm = mean_limit_mm(task);
  context.fact("limit of depletion", context.shown(Shown::depth, limit_mm, 1),
               "readily available water, FAO-56 Eq. 83");
  prepared.start_found = known.state || known.evening_before;
  prepared.start_assumed = !prepared.start_found && !zone.depletion_mm;
  task.start = known.state ? known_start(context, task, known)
                           : start(context, task, limit_mm,
                                   rain_fed_start(context, ground, task, exposure.week_factor),
                                   known.evening_before);
  return prepared;
}

}  // namespace runnel

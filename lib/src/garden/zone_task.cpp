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

constexpr Eigen::Index week = 7;

Delivery delivery(const ZoneContext& context, const Ground& ground) {
  const EmittersEntry& emitters = context.zone.emitters;
  const EmitterType type = emitter_type(context.zone);
  const double du = emitters.uniformity.value_or(type.du);
  const Delivery delivery{.flow = zone_flow(emitters.spec, ground.area),
                          .area = ground.area,
                          .multiplier = run_time_multiplier(du),
                          .leaching_share = ground.leaching_share};
  context.fact("flow", fixed(delivery.flow.litres_per_hour(), 0) + " L/h",
               "emitters of the garden file");
  context.fact("application rate", fixed(delivery.rate().mm_per_hour(), 1) + " mm/h",
               "flow / " + fixed(ground.area.m2(), 2) + " m2");
  context.fact("uniformity DU", fixed(du, 2),
               emitters.uniformity ? own_figure : emitters.type + ": " + type.source);
  context.fact("run-time multiplier", fixed(delivery.multiplier, 3),
               "1 / (0.4 + 0.6 DU), Irrigation Association 2005");
  if (ground.leaching_share > 0.0)
    context.fact("leaching share", fixed(ground.leaching_share, 2), own_figure);
  const auto& supply = context.garden.supply_flow;
  if (supply && delivery.flow > *supply)
    context.say(Finding::Kind::doubt, emitters.at,
                "needs " + fixed(delivery.flow.litres_per_hour() / 60.0, 1) +
                    " L/min, more than the supply's " + fixed(supply->litres_per_hour() / 60.0, 1) +
                    " L/min",
                "split the zone over two valves, or check both flows with a bucket");
  return delivery;
}

Horizon horizon(const ZoneContext& context, const ZoneExposure& exposure, const Ground& ground) {
  const Lanes eto_mm = context.weather.eto_mm.transpose();
  const Lanes rain_mm = context.weather.rain_mm.transpose();
  return {
      .et_mm = exposure.et_mm.transpose(),
      .rain_mm = rain_on_zone(rain_mm, eto_mm, ground.rain_share, ground.curve_number).entering_mm};
}

/// How dry the root zone is on the first day: as stated, else half the limit.
SoilState start(const ZoneContext& context, const ZoneTask& task) {
  const double limit_mm = mean_limit_mm(task);
  context.fact("limit of depletion", fixed(limit_mm, 1) + " mm",
               "readily available water, FAO-56 Eq. 83");
  const auto& stated_mm = context.zone.depletion_mm;
  const SoilState start{.depletion_mm = stated_mm.value_or(0.5 * limit_mm)};
  context.fact("depletion at the start", fixed(start.depletion_mm, 1) + " mm",
               stated_mm ? own_figure : "not known: half the limit");
  if (!stated_mm)
    context.say(Finding::Kind::remark, context.zone.at,
                "depletion at the start is not known: half the limit, " +
                    fixed(start.depletion_mm, 1) + " mm, is taken",
                "feel the soil and write depletion: ... if you know better");
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
                          std::vector<Finding>& findings) {
  PreparedZone prepared;
  const ZoneContext context{garden, zone, weather, findings, prepared.facts};
  context.fact("reference ET, the week", fixed(weather.eto_mm.head(week).sum(), 1) + " mm",
               "FAO-56 Eq. 6");
  const ZoneExposure exposure = zone_exposure(context);
  ZonePlants plants = zone_plants(context);
  if (context.in_pots()) plants.kc *= pot_place_factor(context);
  prepared.containers = context.in_pots();
  prepared.exposure_factor = exposure.factor.head(week).mean();
  prepared.kc = plants.kc;
  prepared.demand_mm = exposure.et_mm * plants.kc;
  context.fact("ETc, the week", fixed(prepared.demand_mm.head(week).sum(), 1) + " mm",
               "FAO-56 Eq. 58: ET x exposure x coefficient");

  const Ground ground =
      context.in_pots() ? pots(context, plants.p, prepared.demand_mm) : bed(context, plants);
  ZoneTask& task = prepared.task;
  task.name = zone.name;
  task.valve = zone.valve;
  task.delivery = delivery(context, ground);
  task.intake = ground.intake;
  task.root_zone = {
      .p = plants.p, .adjust_p = plants.adjust_p, .aim_ks = 1.0, .surplus = ground.surplus};
  task.model = {.kc = plants.kc, .taw_mm = ground.taw_mm};
  task.horizon = horizon(context, exposure, ground);
  task.et_share_before = sun_clock(garden, weather.first_day);
  task.start = start(context, task);
  return prepared;
}

}  // namespace runnel

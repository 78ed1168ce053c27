#include "zone_use.hpp"

namespace runnel::cli {

std::vector<ZoneUse> zone_uses(const GardenPlan& planned) {
  std::vector<ZoneUse> all;
  for (std::size_t z = 0; z < planned.zones.size(); ++z) {
    const PreparedZone& zone = planned.zones[z];
    const double area_m2 = zone.task.delivery.area.m2();
    const Column mm = zone.chain.demand_mm().head(zone_use_days);
    all.push_back({.zone = &zone,
                   .mm = mm,
                   .litres = mm * area_m2,
                   .exposure = zone.chain.exposure().head(zone_use_days),
                   .coefficient = zone.chain.coefficient().head(zone_use_days),
                   .spare_mm = planned.plan.zones[z].wetted_share *
                               planned.plan.zones[z].trace.limit_mm.head(zone_use_days).mean()});
  }
  return all;
}

double litres_a_day(const std::vector<ZoneUse>& all) {
  double litres = 0.0;
  for (const ZoneUse& use : all) litres += use.litres.mean();
  return litres;
}

double mean_factor(const Column& factor, const Column& et) {
  return et.sum() > 0.0 ? (factor * et).sum() / et.sum() : factor.mean();
}

}  // namespace runnel::cli

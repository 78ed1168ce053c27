#include "runnel/demand/containers.hpp"
#include "runnel/soil/curve_numbers.hpp"
#include "runnel/soil/intake.hpp"
#include "runnel/soil/root_zone.hpp"
#include "runnel/soil/texture.hpp"
#include "runnel/units/number.hpp"
#include "zone_parts.hpp"

namespace runnel {

Ground bed(const ZoneContext& context, const ZonePlants& plants) {
  const Zone& zone = context.zone;
  const SoilTable soils = soil_table();
  const SoilTexture& texture = *find_texture(soils, zone.soil->texture);
  const double fc = zone.soil->field_capacity.value_or(texture.field_capacity);
  const double wp = zone.soil->wilting_point.value_or(texture.wilting_point);
  context.fact("soil holds (FC, WP)", fixed(fc, 3) + ", " + fixed(wp, 3),
               zone.soil->field_capacity ? own_figure : zone.soil->texture + ": " + texture.source);
  const Column taw_mm = available_water_mm(fc, wp, 1.0) * plants.root_depth_m;
  context.fact("available water TAW", fixed(taw_mm[0], 1) + " mm", "FAO-56 Eq. 82");

  const SoilIntake intake =
      soil_intake(intake_table(), zone.soil->texture, zone.soil->slope_pct,
                  emitter_type(zone).drip ? Arrival::drip : Arrival::overhead);
  context.fact("soil takes in", fixed(intake.basic_rate_mm_h, 1) + " mm/h", intake.source);
  return {.taw_mm = taw_mm,
          .intake = {.basic_rate = Rate::mm_per_hour(intake.basic_rate_mm_h),
                     .surface_storage = Depth::mm(intake.surface_storage_mm)},
          .rain_share = zone.rain_reaches,
          .curve_number = curve_number(curve_number_table(), "full lawn", texture.hydrologic_group),
          .surplus = Surplus::end_of_day,
          .area = *zone.area,
          .leaching_share = 0.0};
}

Ground pots(const ZoneContext& context) {
  const Zone& zone = context.zone;
  const ContainersEntry& entry = *zone.containers;
  const Containers pots{.count = entry.count,
                        .volume_l = entry.volume_l,
                        .mouth_diameter_m = entry.mouth_diameter_m,
                        .canopy_diameter_m = entry.canopy_diameter_m.value_or(
                            canopy_over_mouth * entry.mouth_diameter_m)};
  if (!entry.canopy_diameter_m)
    context.say(Finding::Kind::remark, entry.at,
                "canopy taken as " + fixed(100.0 * pots.canopy_diameter_m, 0) + " cm across",
                "measure it and write canopy: ...");
  const MediaTable media = media_table();
  const Medium& medium = *find_medium(media, entry.medium);
  context.fact("canopies", fixed(canopy_area_m2(pots), 2) + " m2",
               std::to_string(pots.count) + " of " + fixed(100.0 * pots.canopy_diameter_m, 0) +
                   " cm across");
  context.fact("easily available", fixed(easily_available_l(pots, medium), 2) + " L a pot",
               fixed(pots.volume_l, 0) + " L x " + fixed(medium.fill, 2) + " x " +
                   fixed(medium.easily_available, 2) + ": " + medium.source);
  context.fact("over the canopy, TAW", fixed(easily_available_mm(pots, medium), 1) + " mm",
               "litres over canopy area");
  // A pot's medium takes in what a dripper gives: no cycles.
  return {.taw_mm = Column::Constant(context.days(), easily_available_mm(pots, medium)),
          .intake = {.basic_rate = Rate::mm_per_hour(1e6), .surface_storage = Depth::mm(0.0)},
          .rain_share = zone.rain_reaches * rain_share(pots),
          .curve_number = 0.0,
          .surplus = Surplus::at_once,
          .area = Area::m2(canopy_area_m2(pots)),
          .leaching_share = entry.leaching_share};
}

}  // namespace runnel

#include <algorithm>
#include <cmath>

#include "runnel/demand/containers.hpp"
#include "runnel/demand/plants.hpp"
#include "runnel/soil/curve_numbers.hpp"
#include "runnel/soil/intake.hpp"
#include "runnel/soil/profile.hpp"
#include "runnel/soil/texture.hpp"
#include "runnel/units/number.hpp"
#include "zone_parts.hpp"

namespace runnel {
namespace {

/// A soil that is alike throughout is one layer.
std::vector<SoilLayerEntry> layers_of(const SoilEntry& soil) {
  return soil.layers.empty() ? std::vector<SoilLayerEntry>{soil} : soil.layers;
}

SoilProfile profile_of(const ZoneContext& context, const SoilTable& soils) {
  SoilProfile profile;
  for (const SoilLayerEntry& entry : layers_of(*context.zone.soil)) {
    const SoilTexture& texture = *find_texture(soils, entry.texture);
    SoilLayer layer{.field_capacity = entry.field_capacity.value_or(texture.field_capacity),
                    .wilting_point = entry.wilting_point.value_or(texture.wilting_point),
                    .stones = entry.stones};
    if (entry.depth_m) layer.thickness_m = *entry.depth_m;
    std::string thick;
    if (entry.depth_m) thick = ", " + context.shown(Shown::size, *entry.depth_m, 0);
    context.fact("soil holds (FC, WP)" + thick,
                 fixed(layer.field_capacity, 3) + ", " + fixed(layer.wilting_point, 3),
                 entry.field_capacity ? own_figure : entry.texture + ": " + texture.source);
    if (layer.stones > 0.0) context.fact("stones" + thick, fixed(layer.stones, 2), own_figure);
    profile.push_back(layer);
  }
  return profile;
}

void doubt_shallow(const ZoneContext& context, double soil_m, double roots_m) {
  if (soil_m >= roots_m) return;
  const std::string ends = context.shown(Shown::size, soil_m, 0);
  context.say(Finding::Kind::doubt, context.zone.soil->at,
              "the soil ends at " + ends + ", above the " + context.shown(Shown::size, roots_m, 0) +
                  " that the roots would reach: they are taken to end there",
              "if they do, write root depth: " + ends +
                  " under plants; if they go on below, write a deeper layer");
}

/// What covers the ground: as stated, else mulch where there is some, else by the plants.
std::string cover_of(const Zone& zone) {
  const SoilEntry& soil = *zone.soil;
  if (!soil.cover.empty()) return soil.cover;
  if (!soil.mulch.empty()) return "mulch";
  const auto plant = find_kind(plant_table(), zone.plants.name);
  if (plant && std::holds_alternative<Turf>(*plant)) return "lawn";
  if (zone.plants.density == "dense") return "dense planting";
  return zone.plants.density == "sparse" ? "sparse planting" : "planting";
}

/// TR-55 Appendix A goes by the rate at which a wet soil lets water through, so that the slowest
/// layer that roots reach decides.
char hydrologic_group(const Zone& zone, const SoilTable& soils, double roots_m) {
  char group = 'A';
  double top_m = 0.0;
  for (const SoilLayerEntry& layer : layers_of(*zone.soil)) {
    if (top_m >= roots_m) break;
    group = std::max(group, find_texture(soils, layer.texture)->hydrologic_group);
    top_m += layer.depth_m.value_or(roots_m);
  }
  return group;
}

double rain_curve_number(const ZoneContext& context, const SoilTable& soils, double roots_m) {
  const CurveNumberTable table = curve_number_table();
  const std::string cover = cover_of(context.zone);
  const char group = hydrologic_group(context.zone, soils, roots_m);
  const double number = curve_number(table, cover, group);
  const auto row = std::find_if(table.begin(), table.end(),
                                [&](const CurveNumberRow& one) { return one.cover == cover; });
  context.fact("curve number, rain only", fixed(number, 0),
               cover + ", soil group " + group + ": " + row->source);
  return number;
}

/// Watering wets the top few centimetres while it runs: the top layer says how much they take in.
Intake intake_of(const ZoneContext& context) {
  const SoilEntry& soil = *context.zone.soil;
  const SoilIntake intake =
      soil_intake(intake_table(), soil.texture, soil.slope_pct,
                  emitter_type(context.zone).drip ? Arrival::drip : Arrival::overhead);
  context.fact("soil takes in", context.shown(Shown::rate, intake.basic_rate_mm_h, 1),
               intake.source);
  return {.basic_rate = Rate::mm_per_hour(intake.basic_rate_mm_h),
          .surface_storage = Depth::mm(intake.surface_storage_mm)};
}

Containers containers_of(const ZoneContext& context) {
  const ContainersEntry& entry = *context.zone.containers;
  const Containers pots = pots_of(entry);
  if (!entry.canopy_diameter_m)
    context.say(
        Finding::Kind::remark, entry.at,
        "canopy taken as " + context.shown(Shown::size, pots.canopy_diameter_m, 0) + " across",
        "measure it and write canopy: ...");
  if (!entry.height_m && !entry.easily_available)
    context.say(Finding::Kind::remark, entry.at,
                "pots taken as " + context.shown(Shown::size, pots.height_m, 0) +
                    " high, their bottom 0.85 times as wide as their mouth",
                "measure it and write height: ...");
  context.fact("canopies", context.shown(Shown::area, canopy_area_m2(pots), 2),
               std::to_string(pots.count) + " of " +
                   context.shown(Shown::size, pots.canopy_diameter_m, 0) + " across");
  return pots;
}

/// A medium as the gardener's own figure puts it: the same at any height.
double own_medium_l(const ZoneContext& context, const Containers& pots) {
  const double share = *context.zone.containers->easily_available;
  const MediaTable media = media_table();
  const double fill = find_medium(media, "potting mix")->fill;
  const double litres = easily_available_l(pots, fill, share);
  context.fact("easily available", context.shown(Shown::volume, litres, 2) + " a pot",
               context.shown(Shown::volume, pots.volume_l, 1) + " x " + fixed(fill, 2) + " x " +
                   fixed(share, 3) + ": garden file; filled as potting mix");
  return litres;
}

double table_medium_l(const ZoneContext& context, const Containers& pots) {
  const MediaTable media = media_table();
  const Medium& medium = *find_medium(media, context.zone.containers->medium);
  const DrainedPot drained = drained_pot(pots, medium);
  context.fact("after draining: water, air", fixed(drained.water, 2) + ", " + fixed(drained.air, 2),
               context.shown(Shown::size, pots.height_m, 0) + " high, filled to " +
                   fixed(medium.fill, 2) + ": " + medium.source);
  const double litres = easily_available_l(pots, medium.fill, drained.easily_available);
  context.fact("easily available", context.shown(Shown::volume, litres, 2) + " a pot",
               context.shown(Shown::volume, pots.volume_l, 1) + " x " + fixed(medium.fill, 2) +
                   " x " + fixed(drained.easily_available, 3) + ", to 50 cm suction");
  return litres;
}

/// A day's use beside what a pot can spare: how often it must be watered.
void say_how_often(const ZoneContext& context, const Containers& pots, double spare_l,
                   const Column& use_mm) {
  const double use_l = first_week(use_mm).maxCoeff() * canopy_area_m2(pots) / pots.count;
  context.fact(
      "use of a pot, highest day", context.shown(Shown::volume, use_l, 2),
      "ETc over its canopy, " + context.shown(Shown::area, canopy_area_m2(pots) / pots.count, 3));
  context.fact("a pot can spare", context.shown(Shown::volume, spare_l, 2), "p x easily available");
  context.fact("use over what it can spare", fixed(use_l / spare_l, 2),
               "above 1: more than one watering that day");
  if (use_l <= spare_l) return;
  context.say(Finding::Kind::doubt, context.zone.containers->at,
              "a pot uses up to " + context.shown(Shown::volume, use_l, 1) +
                  " a day and can spare " + context.shown(Shown::volume, spare_l, 1) +
                  ": it cannot hold a day",
              "check volume, canopy and medium; or larger pots, or a shadier place");
}

}  // namespace

Containers pots_of(const ContainersEntry& entry) {
  return {.count = entry.count,
          .volume_l = entry.volume_l,
          .mouth_diameter_m = entry.mouth_diameter_m,
          .height_m = entry.height_m.value_or(pot_height_m(entry.volume_l, entry.mouth_diameter_m)),
          .canopy_diameter_m =
              entry.canopy_diameter_m.value_or(canopy_over_mouth * entry.mouth_diameter_m)};
}

Ground bed(const ZoneContext& context, const ZonePlants& plants) {
  const SoilTable soils = soil_table();
  const SoilProfile profile = profile_of(context, soils);
  const double roots_m = plants.root_depth_m.maxCoeff();
  doubt_shallow(context, depth_m(profile), roots_m);
  const Column taw_mm = available_water_mm(profile, plants.root_depth_m);
  context.fact("available water TAW", context.shown(Shown::depth, taw_mm[0], 1),
               profile.size() > 1 ? "FAO-56 Eq. 82, summed over the layers" : "FAO-56 Eq. 82");
  return {.taw_mm = taw_mm,
          .intake = intake_of(context),
          .rain_share = context.zone.rain_reaches,
          .curve_number = rain_curve_number(context, soils, roots_m),
          .surplus = Surplus::end_of_day,
          .area = *context.zone.area,
          .leaching_share = 0.0};
}

double pot_place_factor(const ZoneContext& context) {
  const ContainersEntry& entry = *context.zone.containers;
  const PotPlaceTable places = pot_place_table();
  const PotPlace& place = *find_pot_place(places, entry.placed);
  if (context.zone.plants.coefficient) {
    context.fact("pots " + place.name, fixed(1.0, 2),
                 "the coefficient stated holds how they stand");
    if (context.states("containers.placed") && place.factor != 1.0)
      context.say(Finding::Kind::remark, entry.at,
                  "pots " + place.name + ": the coefficient stated holds how they stand already",
                  "leave out the coefficient if it was not measured on a pot in its place");
    return 1.0;
  }
  context.fact("pots " + place.name, fixed(place.factor, 2), place.source);
  if (entry.placed == "on paving" && context.zone.exposure.factor > 1.0)
    context.say(Finding::Kind::doubt, entry.at,
                "pots on paving, and an exposure above 1: the heat may be counted twice",
                "leave one of the two out unless both hold");
  return place.factor;
}

Ground pots(const ZoneContext& context, double p, const Column& use_mm) {
  const Zone& zone = context.zone;
  const Containers pots = containers_of(context);
  const double available_l = zone.containers->easily_available ? own_medium_l(context, pots)
                                                               : table_medium_l(context, pots);
  const double available_mm = over_canopy_mm(pots, available_l);
  context.fact("over the canopy, TAW", context.shown(Shown::depth, available_mm, 1),
               "litres over canopy area");
  say_how_often(context, pots, p * available_l, use_mm);
  // A pot's medium takes in what a dripper gives: no cycles.
  return {.taw_mm = Column::Constant(context.days(), available_mm),
          .intake = {.basic_rate = Rate::mm_per_hour(1e6), .surface_storage = Depth::mm(0.0)},
          .rain_share = zone.rain_reaches * rain_share(pots),
          .curve_number = 0.0,
          .surplus = Surplus::at_once,
          .area = Area::m2(canopy_area_m2(pots)),
          .leaching_share = zone.containers->leaching_share};
}

}  // namespace runnel

#include "read_garden_parts.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

// Limits against slips of the pen (a unit mistaken, a digit too many); no source.
constexpr Range any_area_m2{.least = 0.01, .most = 1e6};
constexpr Range any_volume_l{.least = 0.1, .most = 10000.0};
constexpr Range any_pot_width_m{.least = 0.03, .most = 5.0};
constexpr Range any_leaching_share{.least = 0.0, .most = 0.5};
constexpr Range any_slope_share{.least = 0.0, .most = 1.0};
constexpr Range whole_share{.least = 0.0, .most = 1.0};
constexpr int most_pots = 10000;

/// Pots lose salts only through what runs out below; a tenth is common practice, no source.
constexpr double usual_leaching_share = 0.10;

/// "bark", or a map of its kind and the share of the ground under it.
void read_mulch(const YamlField& field, SoilEntry& soil) {
  if (!field.written()) return;
  if (!field.is_map()) {
    soil.mulch = mulch_name(field).value_or("");
    return;
  }
  YamlMap map = field.map();
  soil.mulch = mulch_name(map.field("kind").needed("kind: bark")).value_or("");
  soil.mulch_cover = map.field("cover")
                         .or_else("mulch on all of the ground")
                         .measure(Dimension::share, whole_share)
                         .value_or(1.0);
  map.refuse_others();
}

}  // namespace

ContainersEntry read_containers(const YamlField& field) {
  YamlMap map = field.map();
  ContainersEntry pots{.count = 1,
                       .volume_l = 1.0,
                       .mouth_diameter_m = 1.0,
                       .canopy_diameter_m = std::nullopt,
                       .medium = {},
                       .leaching_share = usual_leaching_share,
                       .at = field.place()};
  pots.count = map.field("count").needed("count: 9").whole_number(1, most_pots).value_or(1);
  pots.volume_l = map.field("volume")
                      .needed("volume: 20 L")
                      .measure(Dimension::volume, any_volume_l)
                      .value_or(1.0);
  pots.mouth_diameter_m = map.field("diameter")
                              .needed("diameter: 32 cm")
                              .measure(Dimension::length, any_pot_width_m)
                              .value_or(1.0);
  pots.canopy_diameter_m = map.field("canopy").measure(Dimension::length, any_pot_width_m);
  pots.medium = medium_name(map.field("medium").needed("medium: peat mix")).value_or("");
  pots.leaching_share = map.field("leaching")
                            .or_else("a leaching share of 10 %")
                            .measure(Dimension::share, any_leaching_share)
                            .value_or(usual_leaching_share);
  map.refuse_others();
  return pots;
}

SoilEntry read_soil(const YamlField& field) {
  SoilEntry soil;
  soil.at = field.place();
  YamlMap map = field.map();
  soil.texture = texture_name(map.field("texture").needed("texture: sandy loam")).value_or("");
  soil.slope_pct = 100.0 * map.field("slope")
                               .or_else("level ground")
                               .measure(Dimension::share, any_slope_share)
                               .value_or(0.0);
  read_mulch(map.field("mulch"), soil);
  const YamlField capacity = map.field("field capacity");
  const YamlField wilting = map.field("wilting point");
  soil.field_capacity = capacity.measure(Dimension::share, whole_share);
  soil.wilting_point = wilting.measure(Dimension::share, whole_share);
  map.refuse_others();
  if (capacity.written() != wilting.written()) {
    const YamlField& one = capacity.written() ? capacity : wilting;
    one.error("field capacity and wilting point are stated both or neither",
              "write both, or leave both to the soil table");
  } else if (soil.field_capacity && soil.wilting_point &&
             *soil.field_capacity <= *soil.wilting_point) {
    wilting.error("the wilting point must be below the field capacity");
  }
  return soil;
}

/// A bed has an area and a soil, pots have neither.
void read_ground(YamlMap& map, Zone& zone) {
  YamlField area = map.field("area");
  YamlField soil = map.field("soil");
  const YamlField pots = map.field("containers");
  if (pots.written()) {
    zone.containers = read_containers(pots);
    if (area.written()) {
      area.error("a zone is either a bed with an area or a group of containers, not both",
                 "leave one of the two out");
    }
    if (soil.written()) {
      soil.error("containers have a medium, no soil", "write it as containers: {medium: ...}");
    }
    return;
  }
  area.needed("area: 18 m2");
  zone.area = Area::m2(area.measure(Dimension::area, any_area_m2).value_or(1.0));
  soil.needed("soil: {texture: sandy loam}");
  zone.soil = read_soil(soil);
}

}  // namespace runnel

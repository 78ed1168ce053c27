#include <cmath>

#include "read_garden_parts.hpp"
#include "runnel/demand/containers.hpp"
#include "runnel/units/number.hpp"
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
constexpr Range any_pot_height_m{.least = 0.03, .most = 3.0};
constexpr Range any_easily_available{.least = 0.02, .most = 0.6};
constexpr Range any_layer_m{.least = 0.02, .most = 5.0};
constexpr Range any_stones{.least = 0.0, .most = 0.9};
/// Bottom over mouth diameter of any pot that is not misread.
constexpr Range any_taper{.least = 0.2, .most = 1.3};
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

/// Either a medium's name, or its own figure.
void read_medium(YamlField field, ContainersEntry& pots) {
  field.needed("medium: peat mix");
  if (!field.is_map()) {
    pots.medium = medium_name(field).value_or("");
    return;
  }
  YamlMap map = field.map();
  pots.easily_available = map.field("easily available")
                              .needed("easily available: 22 %")
                              .measure(Dimension::share, any_easily_available);
  map.refuse_others();
}

/// Volume, diameter and height say how a pot tapers: no round pot has any three of them.
void check_shape(const YamlField& height, const ContainersEntry& pots) {
  if (!pots.height_m) return;
  const double r = taper(pots.volume_l, pots.mouth_diameter_m, *pots.height_m);
  if (!std::isnan(r) && r >= any_taper.least && r <= any_taper.most) return;
  const auto cm = [&](double taper) {
    return fixed(100.0 * pot_height_m(pots.volume_l, pots.mouth_diameter_m, taper), 0);
  };
  height.error("no pot of this volume and diameter has this height: it lies between " +
                   cm(any_taper.most) + " and " + cm(any_taper.least) + " cm",
               "measure volume, diameter and height again; diameter is that of the mouth");
}

}  // namespace

ContainersEntry read_containers(const YamlField& field) {
  YamlMap map = field.map();
  ContainersEntry pots{.count = 1,
                       .volume_l = 1.0,
                       .mouth_diameter_m = 1.0,
                       .canopy_diameter_m = std::nullopt,
                       .height_m = std::nullopt,
                       .medium = {},
                       .easily_available = std::nullopt,
                       .placed = "in a group",
                       .leaching_share = usual_leaching_share,
                       .at = field.place()};
  pots.count = map.field("count").needed("count: 9").whole_number(1, most_pots).value_or(1);
  const YamlField volume = map.field("volume").needed("volume: 20 L");
  const auto volume_l = volume.measure(Dimension::volume, any_volume_l);
  pots.volume_l = volume_l.value_or(1.0);
  const YamlField diameter = map.field("diameter").needed("diameter: 32 cm");
  const auto diameter_m = diameter.measure(Dimension::length, any_pot_width_m);
  pots.mouth_diameter_m = diameter_m.value_or(1.0);
  pots.canopy_diameter_m = map.field("canopy").measure(Dimension::length, any_pot_width_m);
  const YamlField height = map.field("height");
  pots.height_m = height.measure(Dimension::length, any_pot_height_m);
  if (volume_l && diameter_m) check_shape(height, pots);
  read_medium(map.field("medium"), pots);
  pots.placed = pot_place_name(map.field("placed")).value_or("in a group");
  pots.leaching_share = map.field("leaching")
                            .or_else("a leaching share of 10 %")
                            .measure(Dimension::share, any_leaching_share)
                            .value_or(usual_leaching_share);
  map.refuse_others();
  return pots;
}

namespace {

/// What a layer, and a soil that is alike throughout, are told by.
void read_layer(YamlMap& map, SoilLayerEntry& layer) {
  layer.texture = texture_name(map.field("texture").needed("texture: sandy loam")).value_or("");
  const YamlField capacity = map.field("field capacity");
  const YamlField wilting = map.field("wilting point");
  layer.field_capacity = capacity.measure(Dimension::share, whole_share);
  layer.wilting_point = wilting.measure(Dimension::share, whole_share);
  layer.stones = map.field("stones").measure(Dimension::share, any_stones).value_or(0.0);
  if (capacity.written() != wilting.written()) {
    const YamlField& one = capacity.written() ? capacity : wilting;
    one.error("field capacity and wilting point are stated both or neither",
              "write both, or leave both to the soil table");
  } else if (layer.field_capacity && layer.wilting_point &&
             *layer.field_capacity <= *layer.wilting_point) {
    wilting.error("the wilting point must be below the field capacity");
  }
}

std::vector<SoilLayerEntry> read_layers(const YamlField& field) {
  std::vector<SoilLayerEntry> layers;
  const std::vector<YamlField> items = field.list();
  if (items.empty() && field.is_list())
    field.error("there are no layers", "write at least one, or a texture in their place");
  for (const YamlField& item : items) {
    YamlMap map = item.map();
    SoilLayerEntry& layer = layers.emplace_back();
    if (!map.readable()) continue;
    read_layer(map, layer);
    layer.depth_m = map.field("depth")
                        .needed("depth: 20 cm, how thick this layer is")
                        .measure(Dimension::length, any_layer_m);
    map.refuse_others();
  }
  return layers;
}

/// What a list of layers says already, layer by layer.
void refuse_beside_layers(YamlMap& map) {
  for (const char* const key : {"texture", "field capacity", "wilting point", "stones", "depth"}) {
    const YamlField field = map.field(key);
    if (!field.written()) continue;
    field.error(quoted(key) + " stands beside layers, which state it each for itself",
                "leave one of the two out");
    return;
  }
}

}  // namespace

SoilEntry read_soil(const YamlField& field) {
  SoilEntry soil;
  soil.at = field.place();
  YamlMap map = field.map("texture");
  const YamlField layers = map.field("layers");
  if (layers.written()) {
    refuse_beside_layers(map);
    soil.layers = read_layers(layers);
    if (!soil.layers.empty()) static_cast<SoilLayerEntry&>(soil) = soil.layers.front();
  } else {
    read_layer(map, soil);
    soil.depth_m = map.field("depth").measure(Dimension::length, any_layer_m);
  }
  soil.slope_pct = 100.0 * map.field("slope")
                               .or_else("level ground")
                               .measure(Dimension::share, any_slope_share)
                               .value_or(0.0);
  read_mulch(map.field("mulch"), soil);
  soil.cover = ground_cover_name(map.field("cover")).value_or("");
  map.refuse_others();
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

#include <array>
#include <string_view>

#include "read_garden_parts.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

// Limits against slips of the pen (a unit mistaken, a digit too many); no source.
constexpr Range any_coefficient{.least = 0.01, .most = 2.0};
constexpr Range any_root_depth_m{.least = 0.05, .most = 5.0};
constexpr Range any_depletion_share{.least = 0.05, .most = 0.95};

/// Names the plants; a kind of planting and a crop are looked up in different tables.
void read_plant_name(YamlMap& map, PlantsEntry& plants) {
  const YamlField kind = map.field("kind");
  const YamlField crop = map.field("crop");
  YamlField density = map.field("density");
  const YamlField planted = map.field("planted");
  if (kind.written() && crop.written()) {
    crop.error("plants are either a kind or a crop, not both", "leave one of the two out");
    return;
  }
  if (crop.written()) {
    plants.name = crop_name(crop).value_or("");
    plants.planted = planted.date();
    if (density.written()) {
      density.error("a crop has no density", "leave it out; its coefficients are for a full stand");
    }
    return;
  }
  if (map.readable() && !kind.written()) map.field("kind").needed("kind: mixed shrubs");
  plants.name = plant_kind_name(kind).value_or("");
  static constexpr std::array<std::string_view, 3> densities = {"sparse", "average", "dense"};
  density.or_else("planted at average density");
  plants.density = density.one_of(densities, "density").value_or("average");
  if (planted.written()) {
    planted.error("only a crop has a planting date",
                  "leave it out, or write crop: in place of kind:");
  }
}

}  // namespace

PlantsEntry read_plants(YamlField field) {
  PlantsEntry plants;
  plants.at = field.needed("plants: {kind: mixed shrubs, density: average}").place();
  YamlMap map = field.map();
  read_plant_name(map, plants);
  plants.coefficient = map.field("coefficient").number(any_coefficient);
  plants.root_depth_m = map.field("root depth").measure(Dimension::length, any_root_depth_m);
  plants.allowable_depletion =
      map.field("allowable depletion").measure(Dimension::share, any_depletion_share);
  map.refuse_others();
  return plants;
}

}  // namespace runnel

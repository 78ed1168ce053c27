#include <string_view>
#include <vector>

#include "read_garden_parts.hpp"
#include "runnel/delivery/emitters.hpp"
#include "runnel/demand/containers.hpp"
#include "runnel/demand/exposure_words.hpp"
#include "runnel/demand/plants.hpp"
#include "runnel/soil/curve_numbers.hpp"
#include "runnel/soil/texture.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {

std::optional<std::string> texture_name(const YamlField& field) {
  const SoilTable table = soil_table();
  return field.one_of(names(table), "texture");
}

std::optional<std::string> emitter_type_name(const YamlField& field) {
  const std::vector<EmitterType> types = emitter_types(published_table("emitters"));
  std::vector<std::string_view> known;
  for (const EmitterType& type : types) known.push_back(type.name);
  return field.one_of(known, "type of emitter");
}

std::optional<std::string> plant_kind_name(const YamlField& field) {
  const PlantTable table = plant_table();
  return field.one_of(kind_names(table), "kind of planting");
}

std::optional<std::string> crop_name(const YamlField& field) {
  const PlantTable table = plant_table();
  return field.one_of(crop_names(table), "crop");
}

std::optional<std::string> medium_name(const YamlField& field) {
  const MediaTable table = media_table();
  return field.one_of(names(table), "medium");
}

std::optional<std::string> pot_place_name(const YamlField& field) {
  const PotPlaceTable table = pot_place_table();
  return field.one_of(names(table), "place of pots");
}

std::optional<std::string> ground_cover_name(const YamlField& field) {
  const CurveNumberTable table = curve_number_table();
  return field.one_of(names(table), "cover");
}

std::optional<double> exposure_factor(const YamlField& field) {
  const ExposureTable table = exposure_table();
  const auto words = field.one_of(names(table), "exposure");
  if (!words) return std::nullopt;
  return find_exposure(table, *words)->factor;
}

}  // namespace runnel

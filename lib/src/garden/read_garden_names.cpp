#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "read_garden_parts.hpp"
#include "runnel/delivery/emitters.hpp"
#include "runnel/demand/containers.hpp"
#include "runnel/demand/exposure_words.hpp"
#include "runnel/demand/plants.hpp"
#include "runnel/demand/surroundings.hpp"
#include "runnel/soil/curve_numbers.hpp"
#include "runnel/soil/mulch.hpp"
#include "runnel/soil/texture.hpp"
#include "runnel/units/nearest.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {
namespace {

std::string nearest_or_list(std::string_view written, const std::vector<std::string_view>& known) {
  const auto guess = nearest(written, known);
  return guess ? "did you mean " + quoted(*guess) + "?" : "runnel plants lists all there are";
}

/// The name that is meant: it itself, a slip of it, or one that holds the word.
std::optional<std::string_view> named_like(std::string_view word,
                                           const std::vector<std::string_view>& names) {
  if (const auto near = nearest(word, names)) return near;
  const std::string part = lower(word);
  const auto holds = std::find_if(names.begin(), names.end(), [&part](std::string_view name) {
    return lower(name).find(part) != std::string::npos;
  });
  return holds == names.end() ? std::nullopt : std::optional(*holds);
}

}  // namespace

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
  auto written = field.text();
  if (!written || find_kind(plant_table(), *written)) return written;
  const std::string says = "no kind of planting is called " + quoted(*written);
  if (find_crop(plant_table(), *written))
    field.error(says, "it is a crop: write crop: " + *written);
  else
    field.error(says, nearest_or_list(*written, kind_names(plant_table())));
  return std::nullopt;
}

std::optional<std::string> crop_name(const YamlField& field) {
  auto written = field.text();
  if (!written || find_crop(plant_table(), *written)) return written;
  const std::string says = "no crop is called " + quoted(*written);
  if (find_kind(plant_table(), *written))
    field.error(says, "it is a kind of planting: write kind: " + *written);
  else
    field.error(says, nearest_or_list(*written, crop_names(plant_table())));
  return std::nullopt;
}

std::string plants_entry(std::string_view word) {
  if (word.empty()) return {};
  const std::vector<std::string_view> kinds = kind_names(plant_table());
  const std::vector<std::string_view> crops = crop_names(plant_table());
  const auto kind = named_like(word, kinds);
  const auto crop = named_like(word, crops);
  if (crop && (!kind || find_crop(plant_table(), word)))
    return "crop: " + std::string(*crop) + ", planted: 2027-04-20";
  return kind ? "kind: " + std::string(*kind) : "kind: mixed shrubs";
}

std::optional<std::string> medium_name(const YamlField& field) {
  const MediaTable table = media_table();
  return field.one_of(names(table), "medium");
}

std::optional<std::string> mulch_name(const YamlField& field) {
  const MulchTable table = mulch_table();
  return field.one_of(names(table), "mulch");
}

std::optional<std::string> pot_place_name(const YamlField& field) {
  const PotPlaceTable table = pot_place_table();
  return field.one_of(names(table), "place of pots");
}

std::optional<std::string> ground_cover_name(const YamlField& field) {
  const CurveNumberTable table = curve_number_table();
  return field.one_of(names(table), "cover");
}

std::optional<std::string> exposure_words(const YamlField& field) {
  const ExposureTable table = exposure_table();
  return field.one_of(names(table), "exposure");
}

std::optional<std::string> surroundings_name(const YamlField& field) {
  const SurroundingsTable table = surroundings_table();
  return field.one_of(names(table), "surroundings");
}

}  // namespace runnel

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "yaml_reader.hpp"

namespace runnel {

// Each part of a garden file has its function: it reads the entry, reports what is wrong with it
// and returns values of use only when nothing was.

[[nodiscard]] Timer read_timer(YamlField timer);
[[nodiscard]] std::vector<Window> read_watering_hours(const YamlField& hours);

[[nodiscard]] std::vector<Zone> read_zones(const YamlField& zones, const Timer& timer);
[[nodiscard]] PlantsEntry read_plants(YamlField plants);
/// A bed has an area and a soil, pots have neither.
void read_ground(YamlMap& map, Zone& zone);
[[nodiscard]] ContainersEntry read_containers(const YamlField& containers);
[[nodiscard]] SoilEntry read_soil(const YamlField& soil);
[[nodiscard]] ExposureEntry read_exposure(YamlField exposure);
/// @param pots of the zone, or nullptr for a bed.
[[nodiscard]] EmittersEntry read_emitters(YamlField emitters, const ContainersEntry* pots);

// Names of the published tables. Nothing when unknown, which is then reported with the nearest.
[[nodiscard]] std::optional<std::string> texture_name(const YamlField& field);
[[nodiscard]] std::optional<std::string> emitter_type_name(const YamlField& field);
[[nodiscard]] std::optional<std::string> plant_kind_name(const YamlField& field);
[[nodiscard]] std::optional<std::string> crop_name(const YamlField& field);
[[nodiscard]] std::optional<std::string> medium_name(const YamlField& field);
[[nodiscard]] std::optional<std::string> pot_place_name(const YamlField& field);
[[nodiscard]] std::optional<std::string> ground_cover_name(const YamlField& field);
/// The factor that the exposure table gives for the words.
[[nodiscard]] std::optional<double> exposure_factor(const YamlField& field);

}  // namespace runnel

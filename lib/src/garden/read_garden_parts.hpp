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
/// Stretches of the day, in order. @param what "watering hours", for the messages.
[[nodiscard]] std::vector<Window> read_hours(const YamlField& hours, const std::string& what);
/// "HH:MM-HH:MM"; an end before the beginning is on the next day. @param what "watering hours".
[[nodiscard]] std::optional<Window> read_window(const YamlField& item, const std::string& what);
/// On one day, or the end of one with the next day's beginning of the other.
[[nodiscard]] bool overlap(const Window& a, const Window& b);

[[nodiscard]] std::vector<Zone> read_zones(const YamlField& zones, const Timer& timer);
/// The zone's own hours and days.
[[nodiscard]] ZoneWishes read_wishes(YamlMap& zone_map);
/// @param zones that the rules can be for.
[[nodiscard]] std::vector<WateringRule> read_rules(const YamlField& rules,
                                                   const std::vector<Zone>& zones);
/// Reports what leaves a valve no hours, no day or no run that is short enough, and doubts a zone's
/// hours that reach beyond the garden's.
void check_rules(const Garden& garden, FindingList& list);
/// @param in_pots the zone's plants grow in containers.
[[nodiscard]] PlantsEntry read_plants(YamlField plants, bool in_pots);
/// "[30, 40, 40, 25]", days of the four growth stages.
[[nodiscard]] std::optional<StageLengths> read_stage_lengths(const YamlField& field);
/// "{initial: 0.5, middle: 1.05, end: 0.8}".
[[nodiscard]] std::optional<StageValues> read_stage_coefficients(const YamlField& field);
/// A bed has an area and a soil, pots have neither.
void read_ground(YamlMap& map, Zone& zone);
[[nodiscard]] ContainersEntry read_containers(const YamlField& containers);
[[nodiscard]] SoilEntry read_soil(const YamlField& soil);
[[nodiscard]] ExposureEntry read_exposure(YamlField exposure);
/// @param pots of the zone, or nullptr for a bed.
[[nodiscard]] EmittersEntry read_emitters(YamlField emitters, const ContainersEntry* pots);
/// The entries on what the emitters make of the pressure there is, once their spec is known.
void read_pressure(YamlMap& emitters_map, EmittersEntry& emitters);

// Names of the published tables. Nothing when unknown, which is then reported with the nearest.
[[nodiscard]] std::optional<std::string> texture_name(const YamlField& field);
[[nodiscard]] std::optional<std::string> emitter_type_name(const YamlField& field);
[[nodiscard]] std::optional<std::string> plant_kind_name(const YamlField& field);
/// "kind: cool-season lawn" for "lawn": what a word alone may mean under plants; empty when that is
/// not known.
[[nodiscard]] std::string plants_entry(std::string_view word);
[[nodiscard]] std::optional<std::string> crop_name(const YamlField& field);
[[nodiscard]] std::optional<std::string> medium_name(const YamlField& field);
[[nodiscard]] std::optional<std::string> mulch_name(const YamlField& field);
[[nodiscard]] std::optional<std::string> exposure_words(const YamlField& field);
[[nodiscard]] std::optional<std::string> surroundings_name(const YamlField& field);
[[nodiscard]] std::optional<std::string> pot_place_name(const YamlField& field);
[[nodiscard]] std::optional<std::string> ground_cover_name(const YamlField& field);

}  // namespace runnel

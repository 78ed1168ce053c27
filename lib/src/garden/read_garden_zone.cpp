#include <array>
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "read_garden_parts.hpp"
#include "runnel/garden/garden.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/quantity.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

// Limits against slips of the pen (a unit mistaken, a digit too many); no source.
constexpr Range any_area_m2{.least = 0.01, .most = 1e6};
constexpr Range any_coefficient{.least = 0.01, .most = 2.0};
constexpr Range any_root_depth_m{.least = 0.05, .most = 5.0};
constexpr Range any_volume_l{.least = 0.1, .most = 10000.0};
constexpr Range any_pot_width_m{.least = 0.03, .most = 5.0};
constexpr Range any_depletion_share{.least = 0.05, .most = 0.95};
constexpr Range any_leaching_share{.least = 0.0, .most = 0.5};
constexpr Range any_slope_share{.least = 0.0, .most = 1.0};
constexpr Range any_exposure{.least = 0.05, .most = 2.0};
constexpr Range whole_share{.least = 0.0, .most = 1.0};
constexpr Range any_depletion_mm{.least = 0.0, .most = 1000.0};
constexpr int most_pots = 10000;

/// Pots lose salts only through what runs out below; a tenth is common practice, no source.
constexpr double usual_leaching_share = 0.10;

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

ExposureEntry read_exposure(YamlField field) {
  ExposureEntry exposure;
  exposure.at = field.or_else("open to the sky all day: exposure factor 1").place();
  if (!field.is_map()) {
    const auto words = field.written() ? field.text() : std::nullopt;
    if (!words) return exposure;
    exposure.words = *words;
    exposure.factor = exposure_factor(field).value_or(1.0);
    return exposure;
  }
  YamlMap map = field.map();
  const YamlField factor = map.field("factor").needed("factor: 0.8");
  exposure.factor = factor.number(any_exposure).value_or(1.0);
  map.refuse_others();
  // Costello et al. (2000) give 0.5-1.4 for their microclimate factor; computed deep shade lies
  // lower.
  if (exposure.factor < 0.4 || exposure.factor > 1.4) {
    factor.doubt("an exposure factor of " + shortest(exposure.factor) + " is out of the ordinary",
                 "deep shade is about 0.4, a hot paved court about 1.4");
  }
  return exposure;
}

namespace {

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

int read_valve(YamlField field, const Timer& timer) {
  field.needed("valve: 1");
  constexpr int any_valve = 10000;
  const auto valve = field.whole_number(1, any_valve);
  if (!valve) return 0;
  if (*valve > timer.valves) {
    field.error("valve " + std::to_string(*valve) + " is beyond the timer's " +
                    std::to_string(timer.valves) + " valves",
                "write a number of 1 to " + std::to_string(timer.valves));
    return 0;
  }
  return *valve;
}

struct ReadZone {
  Zone zone;
  YamlField name, valve;
};

ReadZone read_zone(const YamlField& field, const Timer& timer) {
  YamlMap map = field.map();
  ReadZone read{
      .zone = {.name = {},
               .valve = 0,
               .area = std::nullopt,
               .containers = std::nullopt,
               .plants = {},
               .exposure = {},
               .soil = std::nullopt,
               .emitters = {.spec = MeasuredFlow{}, .type = {}, .uniformity = {}, .at = {}},
               .depletion_mm = std::nullopt,
               .at = field.place()},
      .name = map.field("name"),
      .valve = map.field("valve")};
  if (!map.readable()) return read;
  Zone& zone = read.zone;
  zone.name = read.name.needed("name: terrace bed").text().value_or("");
  zone.valve = read_valve(read.valve, timer);
  zone.shared_valve = map.field("shared valve").yes_or_no().value_or(false);
  read_ground(map, zone);
  zone.plants = read_plants(map.field("plants"));
  zone.exposure = read_exposure(map.field("exposure"));
  zone.emitters =
      read_emitters(map.field("emitters"), zone.containers ? &*zone.containers : nullptr);
  zone.rain_reaches = map.field("rain reaches")
                          .or_else("all rain reaches the zone")
                          .measure(Dimension::share, whole_share)
                          .value_or(1.0);
  zone.depletion_mm = map.field("depletion").measure(Dimension::depth, any_depletion_mm);
  map.refuse_others();
  return read;
}

void check_names(const std::vector<ReadZone>& zones) {
  std::map<std::string, int> lines;
  for (const ReadZone& read : zones) {
    if (read.zone.name.empty()) continue;
    const auto [first, is_new] = lines.emplace(lower(read.zone.name), read.name.place().line);
    if (is_new) continue;
    read.name.error("two zones are called " + quoted(read.zone.name) + ", the first on line " +
                        std::to_string(first->second),
                    "give each its own name");
  }
}

/// One finding for each valve that several zones have, at the first zone that does not agree to it.
void check_shared_valves(const std::vector<ReadZone>& zones) {
  std::map<int, std::vector<const ReadZone*>> by_valve;
  for (const ReadZone& read : zones) {
    if (read.zone.valve > 0) by_valve[read.zone.valve].push_back(&read);
  }
  for (const auto& [valve, sharing] : by_valve) {
    if (sharing.size() < 2) continue;
    bool agreed = true;
    for (const ReadZone* const read : sharing) agreed = agreed && read->zone.shared_valve;
    if (agreed) continue;
    const ReadZone& second = *sharing[1];
    second.valve.error("valve " + std::to_string(valve) + " waters " + quoted(second.zone.name) +
                           " and, on line " + std::to_string(sharing[0]->valve.place().line) +
                           ", " + quoted(sharing[0]->zone.name),
                       "if that is so, write \"shared valve: yes\" in each of its zones");
  }
}

}  // namespace

std::vector<Zone> read_zones(const YamlField& field, const Timer& timer) {
  std::vector<ReadZone> read;
  const std::vector<YamlField> items = field.list();
  if (items.empty() && field.is_list()) field.error("there are no zones", "write at least one");
  for (const YamlField& item : items) read.push_back(read_zone(item, timer));
  check_names(read);
  check_shared_valves(read);
  std::vector<Zone> zones;
  for (ReadZone& one : read) zones.push_back(std::move(one.zone));
  return zones;
}

}  // namespace runnel

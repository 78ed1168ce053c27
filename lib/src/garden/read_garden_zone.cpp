#include <cstddef>
#include <map>
#include <string>
#include <utility>

#include "read_garden_parts.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

// Limits against slips of the pen (a unit mistaken, a digit too many); no source.
constexpr Range whole_share{.least = 0.0, .most = 1.0};
constexpr Range any_depletion_mm{.least = 0.0, .most = 1000.0};

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
  zone.plants = read_plants(map.field("plants"), zone.containers.has_value());
  zone.exposure = read_exposure(map.field("exposure"));
  zone.emitters =
      read_emitters(map.field("emitters"), zone.containers ? &*zone.containers : nullptr);
  zone.rain_reaches = map.field("rain reaches")
                          .or_else("all rain reaches the zone")
                          .measure(Dimension::share, whole_share)
                          .value_or(1.0);
  zone.depletion_mm = map.field("depletion").measure(Dimension::depth, any_depletion_mm);
  zone.wishes = read_wishes(map);
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

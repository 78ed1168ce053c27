#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "read_garden_parts.hpp"
#include "runnel/delivery/emitters.hpp"
#include "runnel/garden/garden.hpp"
#include "runnel/units/quantity.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

// Limits against slips of the pen (a unit mistaken, a digit too many); no source.
constexpr Range any_emitter_flow_l_h{.least = 0.1, .most = 10000.0};
constexpr Range any_zone_flow_l_h{.least = 0.1, .most = 1e6};
constexpr Range any_spacing_m{.least = 0.05, .most = 50.0};
constexpr Range any_rate_mm_h{.least = 0.1, .most = 1000.0};
constexpr Range any_uniformity{.least = 0.1, .most = 1.0};
constexpr Range any_wetted_share{.least = 0.02, .most = 1.0};
constexpr int most_emitters = 100000;

/// The ways of saying how much water a zone gets. Each has its own keys.
struct Keys {
  YamlField total_flow, rate, flow, spacing, rows, count, per_container;
};

Keys take_keys(YamlMap& map) {
  return {.total_flow = map.field("total flow"),
          .rate = map.field("rate"),
          .flow = map.field("flow"),
          .spacing = map.field("spacing"),
          .rows = map.field("rows"),
          .count = map.field("count"),
          .per_container = map.field("per container")};
}

/// Reports keys that say a second time, or otherwise, what `chosen` says.
void refuse(const std::string& chosen, const std::vector<const YamlField*>& others) {
  for (const YamlField* const other : others) {
    if (!other->written()) continue;
    other->error("beside \"" + chosen + "\" this says the zone's flow a second time",
                 "leave one of the two out");
    return;
  }
}

EmitterSpec dripline(Keys& keys) {
  refuse("spacing", {&keys.count, &keys.per_container});
  const double flow = keys.flow.measure(Dimension::flow, any_emitter_flow_l_h).value_or(1.0);
  const double spacing =
      keys.spacing.needed("spacing: 30 cm").measure(Dimension::length, any_spacing_m).value_or(1.0);
  const double rows =
      keys.rows.needed("rows: 40 cm").measure(Dimension::length, any_spacing_m).value_or(1.0);
  return Dripline{.each = Flow::litres_per_hour(flow), .spacing_m = spacing, .row_spacing_m = rows};
}

EmitterSpec counted(Keys& keys, const ContainersEntry* pots) {
  const double flow = keys.flow.measure(Dimension::flow, any_emitter_flow_l_h).value_or(1.0);
  int count = 1;
  if (keys.per_container.written()) {
    refuse("per container", {&keys.count});
    if (pots == nullptr) {
      keys.per_container.error("a bed has no containers",
                               "write \"count\", of all emitters of the bed");
    } else {
      count = pots->count * keys.per_container.whole_number(1, 100).value_or(1);
    }
  } else {
    count = keys.count.whole_number(1, most_emitters).value_or(1);
  }
  return Drippers{.each = Flow::litres_per_hour(flow), .count = count};
}

EmitterSpec read_spec(YamlMap& map, const ContainersEntry* pots) {
  Keys keys = take_keys(map);
  const bool by_flow = keys.flow.written() || keys.spacing.written() || keys.rows.written() ||
                       keys.count.written() || keys.per_container.written();
  if (keys.total_flow.written()) {
    refuse("total flow",
           {&keys.rate, &keys.flow, &keys.spacing, &keys.rows, &keys.count, &keys.per_container});
    const auto flow = keys.total_flow.measure(Dimension::flow, any_zone_flow_l_h);
    return MeasuredFlow{.total = Flow::litres_per_hour(flow.value_or(1.0))};
  }
  if (keys.rate.written()) {
    refuse("rate", {&keys.flow, &keys.spacing, &keys.rows, &keys.count, &keys.per_container});
    const auto rate = keys.rate.measure(Dimension::rate, any_rate_mm_h);
    return MeasuredRate{.rate = Rate::mm_per_hour(rate.value_or(1.0))};
  }
  keys.flow.needed(by_flow ? "flow: 2 L/h"
                           : "flow: 2 L/h, or total flow: 12 L/min, or rate: 12 mm/h");
  if (!keys.flow.written()) return MeasuredFlow{};
  if (keys.spacing.written() || keys.rows.written()) return dripline(keys);
  if (!keys.count.written() && !keys.per_container.written()) {
    if (pots != nullptr) {
      keys.per_container.needed("per container: 1");
    } else {
      keys.count.needed("count: 24, or spacing: 30 cm and rows: 40 cm");
    }
  }
  return counted(keys, pots);
}

}  // namespace

EmittersEntry read_emitters(YamlField field, const ContainersEntry* pots) {
  field.needed("emitters: {type: dripline, flow: 2.1 L/h, spacing: 30 cm, rows: 40 cm}");
  EmittersEntry emitters{
      .spec = MeasuredFlow{}, .type = {}, .uniformity = std::nullopt, .at = field.place()};
  YamlMap map = field.map();
  if (!map.readable()) return emitters;
  emitters.type = emitter_type_name(map.field("type").needed("type: dripline")).value_or("");
  emitters.uniformity = map.field("uniformity")
                            .or_else("the uniformity usual for this type of emitter")
                            .measure(Dimension::share, any_uniformity);
  emitters.spec = read_spec(map, pots);
  const YamlField wetted = map.field("wetted");
  if (wetted.written() && pots != nullptr)
    wetted.error("a pot's medium is wetted as a whole", "leave \"wetted\" out");
  else
    emitters.wetted_share = wetted.measure(Dimension::share, any_wetted_share);
  map.refuse_others();
  return emitters;
}

}  // namespace runnel

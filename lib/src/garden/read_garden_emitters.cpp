#include <algorithm>
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
constexpr Range any_arc_deg{.least = 1.0, .most = 360.0};
constexpr Range any_radius_m{.least = 0.1, .most = 100.0};
constexpr Range any_hose_m{.least = 0.1, .most = 1000.0};
constexpr Range any_reading_l{.least = 0.1, .most = 1e6};
constexpr Range any_reading_min{.least = 0.1, .most = 1440.0};
constexpr int most_emitters = 100000;
constexpr int most_heads = 1000;

/// The ways of saying how much water a zone gets. Each has its own keys.
struct Keys {
  YamlField total_flow, meter_reading, rate, heads, flow_per_metre, flow_per_foot, length;
  YamlField flow, spacing, rows, count, per_container, per_plant, plants;
};

Keys take_keys(YamlMap& map) {
  return {.total_flow = map.field("total flow"),
          .meter_reading = map.field("meter reading"),
          .rate = map.field("rate"),
          .heads = map.field("heads"),
          .flow_per_metre = map.field("flow per metre"),
          .flow_per_foot = map.field("flow per foot"),
          .length = map.field("length"),
          .flow = map.field("flow"),
          .spacing = map.field("spacing"),
          .rows = map.field("rows"),
          .count = map.field("count"),
          .per_container = map.field("per container"),
          .per_plant = map.field("per plant"),
          .plants = map.field("plants")};
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

/// Litres read off a meter, or filled into a bucket, and the time it took.
EmitterSpec metered(Keys& keys) {
  YamlMap map = keys.meter_reading.map();
  const auto volume =
      map.field("volume").needed("volume: 120 L").measure(Dimension::volume, any_reading_l);
  const auto time =
      map.field("time").needed("time: 10 min").measure(Dimension::duration, any_reading_min);
  map.refuse_others();
  if (!volume || !time) return MeasuredFlow{};
  return MeasuredFlow{.total = Flow::litres_per_hour(60.0 * *volume / *time)};
}

EmitterSpec hose(Keys& keys) {
  const bool by_foot = keys.flow_per_foot.written();
  if (by_foot) refuse("flow per foot", {&keys.flow_per_metre});
  refuse(by_foot ? "flow per foot" : "flow per metre",
         {&keys.flow, &keys.spacing, &keys.rows, &keys.count, &keys.per_container, &keys.per_plant,
          &keys.plants});
  const YamlField& field = by_foot ? keys.flow_per_foot : keys.flow_per_metre;
  constexpr double m_per_foot = 0.3048;
  const double per_metre = field.measure(Dimension::flow, any_emitter_flow_l_h).value_or(1.0) /
                           (by_foot ? m_per_foot : 1.0);
  const double length =
      keys.length.needed("length: 20 m").measure(Dimension::length, any_hose_m).value_or(1.0);
  return SoakerHose{.per_metre = Flow::litres_per_hour(per_metre), .length_m = length};
}

Head read_head(const YamlField& field) {
  YamlMap map = field.map();
  const Head head{
      .arc_deg = map.field("arc").needed("arc: 180").number(any_arc_deg).value_or(360.0),
      .each = Flow::litres_per_hour(map.field("flow")
                                        .needed("flow: 2 L/min")
                                        .measure(Dimension::flow, any_emitter_flow_l_h)
                                        .value_or(1.0)),
      .count = map.field("count").whole_number(1, most_heads).value_or(1),
      .radius_m = map.field("radius").measure(Dimension::length, any_radius_m)};
  map.refuse_others();
  return head;
}

EmitterSpec heads(Keys& keys) {
  refuse("heads", {&keys.flow_per_metre, &keys.flow_per_foot, &keys.flow, &keys.spacing, &keys.rows,
                   &keys.count, &keys.per_container, &keys.per_plant, &keys.plants});
  Heads all;
  const std::vector<YamlField> items = keys.heads.list();
  if (items.empty() && keys.heads.is_list())
    keys.heads.error("there are no heads",
                     "write one for each arc, such as {arc: 90, flow: 2 L/min, count: 2}");
  for (const YamlField& item : items) all.heads.push_back(read_head(item));
  return all;
}

EmitterSpec dripline(Keys& keys) {
  refuse("spacing", {&keys.count, &keys.per_container, &keys.per_plant, &keys.plants});
  const double flow = keys.flow.measure(Dimension::flow, any_emitter_flow_l_h).value_or(1.0);
  const double spacing =
      keys.spacing.needed("spacing: 30 cm").measure(Dimension::length, any_spacing_m).value_or(1.0);
  const double rows =
      keys.rows.needed("rows: 40 cm").measure(Dimension::length, any_spacing_m).value_or(1.0);
  return Dripline{.each = Flow::litres_per_hour(flow), .spacing_m = spacing, .row_spacing_m = rows};
}

EmitterSpec counted(Keys& keys, const ContainersEntry* pots, int& per_plant) {
  const double flow = keys.flow.measure(Dimension::flow, any_emitter_flow_l_h).value_or(1.0);
  int count = 1;
  if (keys.per_container.written()) {
    refuse("per container", {&keys.count, &keys.per_plant, &keys.plants});
    if (pots == nullptr) {
      keys.per_container.error("a bed has no containers",
                               "write \"count\", of all emitters of the bed");
    } else {
      per_plant = keys.per_container.whole_number(1, 100).value_or(1);
      count = pots->count * per_plant;
    }
  } else if (keys.per_plant.written()) {
    refuse("per plant", {&keys.count});
    per_plant = keys.per_plant.whole_number(1, 100).value_or(1);
    count = per_plant *
            keys.plants.needed("plants: 12").whole_number(1, most_emitters / 100).value_or(1);
  } else {
    if (keys.plants.written())
      keys.plants.error("how many emitters a plant has is not stated",
                        "write \"per plant: 2\" beside it");
    count = keys.count.whole_number(1, most_emitters).value_or(1);
  }
  return Drippers{.each = Flow::litres_per_hour(flow), .count = count};
}

/// The first way of saying it that is written decides; the others then say it a second time.
EmitterSpec read_spec(YamlMap& map, const ContainersEntry* pots, int& per_plant) {
  Keys keys = take_keys(map);
  if (!keys.flow_per_metre.written() && !keys.flow_per_foot.written() && keys.length.written())
    keys.length.error("a length is that of a soaker hose",
                      "write \"flow per metre: 4 L/h\" beside it");
  const std::vector<const YamlField*> computed = {
      &keys.heads, &keys.flow_per_metre, &keys.flow_per_foot, &keys.flow,      &keys.spacing,
      &keys.rows,  &keys.count,          &keys.per_container, &keys.per_plant, &keys.plants};
  const auto refuse_measured_and_computed = [&](const std::string& chosen,
                                                std::vector<const YamlField*> others) {
    others.insert(others.end(), computed.begin(), computed.end());
    refuse(chosen, others);
  };
  if (keys.total_flow.written()) {
    refuse_measured_and_computed("total flow", {&keys.meter_reading, &keys.rate});
    const auto flow = keys.total_flow.measure(Dimension::flow, any_zone_flow_l_h);
    return MeasuredFlow{.total = Flow::litres_per_hour(flow.value_or(1.0))};
  }
  if (keys.meter_reading.written()) {
    refuse_measured_and_computed("meter reading", {&keys.rate});
    return metered(keys);
  }
  if (keys.rate.written()) {
    refuse_measured_and_computed("rate", {});
    const auto rate = keys.rate.measure(Dimension::rate, any_rate_mm_h);
    return MeasuredRate{.rate = Rate::mm_per_hour(rate.value_or(1.0))};
  }
  if (keys.heads.written()) return heads(keys);
  if (keys.flow_per_metre.written() || keys.flow_per_foot.written()) return hose(keys);
  const bool by_flow = std::any_of(computed.begin(), computed.end(),
                                   [](const YamlField* key) { return key->written(); });
  keys.flow.needed(by_flow ? "flow: 2 L/h"
                           : "flow: 2 L/h, or total flow: 12 L/min, or rate: 12 mm/h");
  if (!keys.flow.written()) return MeasuredFlow{};
  if (keys.spacing.written() || keys.rows.written()) return dripline(keys);
  if (!keys.count.written() && !keys.per_container.written() && !keys.per_plant.written()) {
    if (pots != nullptr) {
      keys.per_container.needed("per container: 1");
    } else {
      keys.count.needed("count: 24, or spacing: 30 cm and rows: 40 cm");
    }
  }
  return counted(keys, pots, per_plant);
}

}  // namespace

EmittersEntry read_emitters(YamlField field, const ContainersEntry* pots) {
  field.needed("emitters: {type: dripline, flow: 2.1 L/h, spacing: 30 cm, rows: 40 cm}");
  EmittersEntry emitters{
      .spec = MeasuredFlow{}, .type = {}, .uniformity = std::nullopt, .at = field.place()};
  YamlMap map = field.map("type");
  if (!map.readable()) return emitters;
  emitters.type = emitter_type_name(map.field("type").needed("type: dripline")).value_or("");
  YamlField uniformity = map.field("uniformity");
  if (!map.has("variation")) uniformity.or_else("the uniformity usual for this type of emitter");
  emitters.uniformity = uniformity.measure(Dimension::share, any_uniformity);
  emitters.spec = read_spec(map, pots, emitters.per_plant);
  const YamlField wetted = map.field("wetted");
  if (wetted.written() && pots != nullptr)
    wetted.error("a pot's medium is wetted as a whole", "leave \"wetted\" out");
  else
    emitters.wetted_share = wetted.measure(Dimension::share, any_wetted_share);
  read_pressure(map, emitters);
  map.refuse_others();
  return emitters;
}

}  // namespace runnel

#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "read_garden_parts.hpp"
#include "runnel/delivery/emitters.hpp"
#include "runnel/delivery/friction.hpp"
#include "runnel/garden/garden.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

// Limits against slips of the pen (a unit mistaken, a digit too many); no source.
constexpr Range any_pressure_kpa{.least = 10.0, .most = 2000.0};
constexpr Range any_variation{.least = 0.0, .most = 0.5};
constexpr Range any_line_m{.least = 0.1, .most = 1000.0};
constexpr Range any_bore_m{.least = 0.001, .most = 0.2};
constexpr Range any_roughness{.least = 50.0, .most = 160.0};
constexpr Range any_rise_m{.least = -100.0, .most = 100.0};
constexpr Range any_evenness{.least = 0.01, .most = 0.5};
// Flow may differ by a tenth along a line: common practice, no source.
constexpr double usual_evenness = 0.10;
constexpr int most_lines = 1000;
constexpr double most_on_a_line = 2000.0;  // as lateral_flow has it

bool has_lines(const EmitterSpec& spec) {
  return std::holds_alternative<Drippers>(spec) || std::holds_alternative<Dripline>(spec) ||
         std::holds_alternative<SoakerHose>(spec);
}

std::optional<LineEntry> read_line(const YamlField& field, const EmitterSpec& spec) {
  if (!field.written()) return std::nullopt;
  if (std::holds_alternative<Heads>(spec))
    field.error("a line carries drippers, a dripline's emitters or a soaker hose's pores",
                "leave it out");
  if (!has_lines(spec)) return std::nullopt;
  YamlMap map = field.map();
  if (!map.readable()) return std::nullopt;
  const auto length =
      map.field("length").needed("length: 40 m").measure(Dimension::length, any_line_m);
  const auto bore = map.field("inside diameter")
                        .needed("inside diameter: 13.6 mm")
                        .measure(Dimension::length, any_bore_m);
  const LineEntry line{
      .length_m = length.value_or(1.0),
      .inside_diameter_m = bore.value_or(1.0),
      .roughness_c = map.field("roughness").number(any_roughness).value_or(polyethylene_c),
      .rise_m = map.field("rise").measure(Dimension::length, any_rise_m).value_or(0.0),
      .lines = map.field("lines").whole_number(1, most_lines).value_or(1),
      .most_variation =
          map.field("within").measure(Dimension::share, any_evenness).value_or(usual_evenness),
      .at = field.place()};
  map.refuse_others();
  if (!length || !bore) return std::nullopt;
  const auto* dripline = std::get_if<Dripline>(&spec);
  if (dripline != nullptr && line.length_m / dripline->spacing_m > most_on_a_line) {
    field.error("more than 2000 emitters stand on one line", "state the length of a single line");
    return std::nullopt;
  }
  const auto* drippers = std::get_if<Drippers>(&spec);
  if (drippers != nullptr && drippers->count > most_on_a_line * line.lines) {
    field.error("more than 2000 emitters stand on one line",
                "write how many lines there are, such as lines: 4");
    return std::nullopt;
  }
  return line;
}

/// A measured flow is what comes out, whatever the pressure. (A flow whose entry is faulty is not
/// told from a measured one by its spec: it has its error already.)
bool is_measured(const YamlMap& emitters_map) {
  return emitters_map.has("total flow") || emitters_map.has("meter reading") ||
         emitters_map.has("rate");
}

}  // namespace

void read_pressure(YamlMap& emitters_map, EmittersEntry& emitters) {
  static constexpr std::array<std::string_view, 2> parts = {"driest half", "driest quarter"};
  if (emitters_map.field("enough for").one_of(parts, "part") == "driest quarter")
    emitters.enough_for = EnoughFor::driest_quarter;
  const YamlField rated = emitters_map.field("rated at");
  const YamlField compensating = emitters_map.field("pressure compensating");
  const YamlField pressure = emitters_map.field("pressure");
  const YamlField variation = emitters_map.field("variation");
  const YamlField line = emitters_map.field("line");
  if (is_measured(emitters_map)) {
    for (const YamlField* const field : {&rated, &compensating, &pressure, &variation, &line})
      if (field->written())
        field->error("a measured flow is that of the pressure there was", "leave this out");
    return;
  }
  emitters.rated_kpa = rated.measure(Dimension::pressure, any_pressure_kpa);
  emitters.compensating = compensating.yes_or_no().value_or(false);
  emitters.pressure_kpa = pressure.measure(Dimension::pressure, any_pressure_kpa);
  emitters.variation = variation.measure(Dimension::share, any_variation);
  emitters.line = read_line(line, emitters.spec);
}

}  // namespace runnel

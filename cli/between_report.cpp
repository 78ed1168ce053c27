#include <cmath>
#include <optional>

#include "compare_report.hpp"
#include "json_writer.hpp"
#include "runnel/units/csv.hpp"
#include "runnel/units/number.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

constexpr Eigen::Index week = 7;

/// A figure of both zones, and how many times the other's the zone's is.
struct Line {
  std::string what;
  double zone, other;
  std::optional<Shown> kind = {};  ///< nothing: a factor
  [[nodiscard]] double ratio() const { return zone / other; }
};

struct Between {
  std::string zone, other;  // names
  Line reference;           // mm, the same for both
  std::vector<Line> factors;
  Line depth;   // mm in the week
  Line area;    // m2
  Line litres;  // in the week
};

Between between(const GardenPlan& planned, const ZonePair& pair) {
  const PreparedZone& zone = planned.zones[pair.zone];
  const PreparedZone& other = planned.zones[pair.other];
  const double eto_mm = planned.weather.eto_mm.head(week).sum();
  const auto factors = zone.chain.mean_factors(week);
  const auto others = other.chain.mean_factors(week);
  Between all{
      .zone = zone.task.name,
      .other = other.task.name,
      .reference = {.what = "reference ET", .zone = eto_mm, .other = eto_mm, .kind = Shown::depth},
      .factors = {},
      .depth = {.what = "depth used",
                .zone = zone.chain.demand_mm().head(week).sum(),
                .other = other.chain.demand_mm().head(week).sum(),
                .kind = Shown::depth},
      .area = {.what = zone.containers || other.containers ? "area or canopy" : "area",
               .zone = zone.task.delivery.area.m2(),
               .other = other.task.delivery.area.m2(),
               .kind = Shown::area},
      .litres = {}};
  for (std::size_t i = 0; i < demand_factor_count; ++i)
    all.factors.push_back({.what = std::string(to_text(static_cast<DemandFactor>(i))),
                           .zone = factors[i],
                           .other = others[i]});
  all.litres = {.what = "used",
                .zone = all.depth.zone * all.area.zone,
                .other = all.depth.other * all.area.other,
                .kind = Shown::volume};
  return all;
}

/// "area, m2", "litres used".
std::string label(const Display& display, const Line& line) {
  if (!line.kind) return line.what;
  if (line.kind == Shown::volume)
    return (display.units == UnitSystem::us ? "gallons " : "litres ") + line.what;
  return line.what + ", " + std::string(unit_shown(display, *line.kind));
}

std::string ratio_text(const Line& line) {
  return std::isfinite(line.ratio()) ? fixed(line.ratio(), 3) : "-";
}

std::string headline(const Between& all, Date from) {
  const std::string text =
      quoted(all.zone) + " uses " + ratio_text(all.depth) + " times the depth that " +
      quoted(all.other) + " uses, " + short_date(from) + " to " +
      short_date(from + std::chrono::days{week - 1}) + " " + std::to_string(year_of(from));
  return paragraph("", text);
}

void write_members(JsonWriter& json, const Line& line) {
  json.value("zone", line.zone);
  json.value("other", line.other);
  if (std::isfinite(line.ratio())) json.value("ratio", line.ratio());
}

void write(JsonWriter& json, const char* key, const Line& line) {
  json.begin_object(key);
  write_members(json, line);
  json.end();
}

}  // namespace

std::string between_text(const Garden& garden, const GardenPlan& planned, const ZonePair& pair) {
  const Between all = between(planned, pair);
  const TextTable table(
      {{"", 20}, {all.zone, 16, true}, {all.other, 16, true}, {"RATIO", 8, true}});
  const Display& display = garden.display;
  const auto row = [&](const Line& line, int digits) {
    const auto cell = [&](double value) {
      return line.kind ? number(display, *line.kind, value, digits) : fixed(value, digits);
    };
    return table.row({label(display, line), cell(line.zone), cell(line.other), ratio_text(line)});
  };
  std::string text = headline(all, planned.weather.first_day) + "\n" + table.heading();
  text += row(all.reference, 1);
  for (const Line& factor : all.factors)
    if (factor.zone != 1.0 || factor.other != 1.0) text += row(factor, 3);
  text += row(all.depth, 1) + "\n" + row(all.area, 2) + row(all.litres, 0);
  text +=
      "\nThe factors above the depth multiply to it; factors that are 1 for both are left\n"
      "out. One zone is explained by: runnel plan GARDEN --explain ZONE\n";
  for (const std::size_t zone : {pair.zone, pair.other})
    if (garden.zones[zone].exposure.factor)
      text += printable(garden.zones[zone].name) +
              ": the garden file states its exposure; shelter is not told apart.\n";
  return text;
}

std::string between_csv(const GardenPlan& planned, const ZonePair& pair) {
  const Between all = between(planned, pair);
  const std::string names = csv_cell(all.zone) + "," + csv_cell(all.other) + ",";
  std::string text = "zone,other,figure,of_zone,of_other,ratio\n";
  const auto row = [&](const std::string& figure, const Line& line) {
    text += names + csv_cell(figure) + "," + shortest(line.zone) + "," + shortest(line.other) +
            "," + (std::isfinite(line.ratio()) ? shortest(line.ratio()) : "") + "\n";
  };
  row("eto_mm", all.reference);
  for (const Line& factor : all.factors) row(factor.what, factor);
  row("demand_mm", all.depth);
  row("area_m2", all.area);
  row("demand_l", all.litres);
  return text;
}

std::string between_json(const GardenPlan& planned, const ZonePair& pair) {
  const Between all = between(planned, pair);
  JsonWriter json;
  json.begin_object();
  json.value("zone", all.zone);
  json.value("other", all.other);
  json.value("from", iso_date(planned.weather.first_day));
  write(json, "eto_mm", all.reference);
  json.begin_array("factors");
  for (const Line& factor : all.factors) {
    json.begin_object();
    json.value("factor", factor.what);
    write_members(json, factor);
    json.end();
  }
  json.end();
  write(json, "demand_mm", all.depth);
  write(json, "area_m2", all.area);
  write(json, "demand_l", all.litres);
  json.end();
  return json.text();
}

}  // namespace runnel::cli

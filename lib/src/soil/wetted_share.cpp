#include "runnel/soil/wetted_share.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "runnel/demand/table_reader.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {
namespace {

WettedDiameter read_row(TableReader& row) {
  WettedDiameter ground{.ground = row.text("ground"),
                        .fc_from = row.number("fc_from"),
                        .diameter_m = row.number_within("diameter_m", "low_m", "high_m"),
                        .low_m = row.number_if_any("low_m").value_or(0.0),
                        .high_m = row.number_if_any("high_m").value_or(0.0),
                        .source = row.text("source")};
  if (!(ground.low_m > 0.0)) row.fault("low_m", "must be > 0");
  return ground;
}

bool above_0(double value) { return std::isfinite(value) && value > 0.0; }

}  // namespace

Read<WettedDiameterTable> parse_wetted_diameters(std::string_view csv, std::string_view name) {
  TableReader reader(csv, name, {"ground", "fc_from", "diameter_m", "low_m", "high_m", "source"});
  WettedDiameterTable table;
  while (reader.next()) {
    WettedDiameter ground = read_row(reader);
    if (table.empty() ? ground.fc_from != 0.0 : ground.fc_from <= table.back().fc_from)
      reader.fault("fc_from", "must rise from row to row, from 0");
    table.push_back(std::move(ground));
  }
  return finish(reader, std::move(table));
}

WettedDiameterTable wetted_diameter_table() {
  std::vector<Finding> findings;
  return value_or_throw(
      parse_wetted_diameters(published_table("wetted_diameter"), "wetted_diameter.csv"), findings);
}

const WettedDiameter& wetted_diameter(const WettedDiameterTable& table, double field_capacity) {
  const auto above = std::find_if(
      table.begin(), table.end(),
      [field_capacity](const WettedDiameter& ground) { return ground.fc_from > field_capacity; });
  return above == table.begin() ? table.front() : *std::prev(above);
}

double wetted_share(double diameter_m, const EmitterGrid& grid) {
  const auto [spacing_m, row_spacing_m] = grid;
  if (!above_0(diameter_m) || !above_0(spacing_m) || !above_0(row_spacing_m))
    throw std::invalid_argument("wetted_share: diameter and spacings must be above 0");
  constexpr double meet = 0.8;  // of the diameter: Keller & Bliesner 1990 (from memory)
  const bool along = spacing_m <= meet * diameter_m;
  const bool across = row_spacing_m <= meet * diameter_m;
  if (along) return std::min(1.0, diameter_m / row_spacing_m);
  if (across) return std::min(1.0, diameter_m / spacing_m);
  const double circle_m2 = 0.25 * std::numbers::pi * diameter_m * diameter_m;
  return std::min(1.0, circle_m2 / (spacing_m * row_spacing_m));
}

}  // namespace runnel

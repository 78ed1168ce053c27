#pragma once

#include <string>

#include "json_writer.hpp"
#include "remedy_report.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {

/// How the garden gets through an absence, zone by zone, and what would raise the chances; at 80
/// columns. The plan has an `away`.
[[nodiscard]] std::string away_text(const Garden& garden, const GardenPlan& planned,
                                    const Mending& mending);

/// What to see to before a garden is left alone with water under pressure.
[[nodiscard]] const char* away_caution();

/// Headings and cells that a CSV gets for an absence, each after a comma; empty without one.
[[nodiscard]] std::string away_csv_heading(const GardenPlan& planned);
[[nodiscard]] std::string away_csv_cells(const GardenPlan& planned, std::size_t zone);

/// The member "away" of an object; nothing without an absence.
void write_away(JsonWriter& json, const GardenPlan& planned);

/// "72 %": the share of futures that are not beyond, rounded down; empty when there is one future
/// only.
[[nodiscard]] std::string chance_text(int futures, int beyond);

}  // namespace runnel::cli

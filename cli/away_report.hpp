#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

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

/// Something that would raise the chance of a zone and lower none.
struct RaisedChance {
  ChanceRaised chance;
  std::string_view list;  ///< where it stands in the JSON: "away/would_raise" or "remedies"
  std::size_t index;
};
/// Under this programme and others, what does most first.
[[nodiscard]] std::vector<RaisedChance> all_that_raise(const GardenPlan& planned,
                                                       const Mending& mending);

/// What to give where no chance can be counted, for there is one future only.
[[nodiscard]] std::string how_to_have_a_chance(const Garden& garden, const AssumedWeather& weather);

/// Share of the futures that are not beyond, rounded down.
[[nodiscard]] int chance_percent(int futures, int beyond);
/// The same as "72 %".
[[nodiscard]] std::string chance_text(int futures, int beyond);

}  // namespace runnel::cli

#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel {

/// How the water arrives: drops from above seal the surface, drip does not.
enum class Arrival { overhead, drip };

/// What the ground takes in for long, and what may stand on it meanwhile.
struct SoilIntake {
  double basic_rate_mm_h;
  double surface_storage_mm;
  std::string source;
};

/// A texture's row of the intake table.
struct IntakeRow {
  std::string texture;
  Arrival arrival;
  double basic_rate_mm_h;
  std::array<double, 4> storage_mm;  ///< by slope: up to 3 %, 6 %, 12 %, steeper
  std::string source;
};
/// The rows of data/intake.csv.
using IntakeTable = std::vector<IntakeRow>;

/// Reads an intake table (data/intake.csv says how it looks); errors as parse_soil_table.
[[nodiscard]] Read<IntakeTable> parse_intake_table(std::string_view csv, std::string_view name);
/// The table compiled in. Published intake rates differ by up to four times for one texture: every
/// row names its source.
[[nodiscard]] IntakeTable intake_table();

/// @param slope_pct 0 or more. @throws std::invalid_argument when the table lacks the texture or
/// the slope is below 0.
[[nodiscard]] SoilIntake soil_intake(const IntakeTable& table, std::string_view texture,
                                     double slope_pct, Arrival arrival);

}  // namespace runnel

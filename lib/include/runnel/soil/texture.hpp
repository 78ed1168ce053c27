#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel {

/// A soil texture of the soil table. Water contents in m3/m3.
struct SoilTexture {
  std::string name;  ///< "sandy loam"
  double field_capacity_low, field_capacity_high, wilting_point_low, wilting_point_high;
  double available_low, available_high;  ///< field capacity less wilting point, as published
  double field_capacity,
      wilting_point;      ///< the pair to schedule with: the paper's examples', else mid-range
  double rew_mm, tew_mm;  ///< evaporable water of the top 0.10 m, mid-range
  char hydrologic_group;  ///< A-D, for curve numbers
  std::string source;
};
/// The rows of data/soils.csv.
using SoilTable = std::vector<SoilTexture>;

/// Reads a soil table (data/soils.csv says how it looks). Errors: whatever split_csv finds, a
/// column missing, text where a number is due, no source, a value outside the row's own range, a
/// texture twice.
[[nodiscard]] Read<SoilTable> parse_soil_table(std::string_view csv, std::string_view name);
/// The table compiled in: FAO-56 Table 19.
[[nodiscard]] SoilTable soil_table();

/// By name, without regard to case; nullptr when there is none.
[[nodiscard]] const SoilTexture* find_texture(const SoilTable& table, std::string_view name);
/// In the table's order.
[[nodiscard]] std::vector<std::string_view> names(const SoilTable& table);

}  // namespace runnel

#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel {

/// Curve numbers of one kind of ground by hydrologic soil group A-D.
struct CurveNumberRow {
  std::string cover;
  std::array<double, 4> by_group;
  std::string source;
};
/// The rows of data/curve_numbers.csv.
using CurveNumberTable = std::vector<CurveNumberRow>;

/// Reads a curve number table (data/curve_numbers.csv says how it looks); errors as
/// parse_soil_table.
[[nodiscard]] Read<CurveNumberTable> parse_curve_number_table(std::string_view csv,
                                                              std::string_view name);
/// The table compiled in: USDA NRCS TR-55 (1986) Table 2-2a. Made for design storms on catchments:
/// on a small flat bed a rough upper bound of runoff.
[[nodiscard]] CurveNumberTable curve_number_table();

/// The covers, in the table's order.
[[nodiscard]] std::vector<std::string_view> names(const CurveNumberTable& table);

/// @param group 'A'-'D'. @throws std::invalid_argument when the table lacks the cover or there is
/// no such group.
[[nodiscard]] double curve_number(const CurveNumberTable& table, std::string_view cover,
                                  char group);

}  // namespace runnel

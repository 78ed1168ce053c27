#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel {

/// Ground of one kind, and how far the water of one drip emitter spreads in it below the surface.
struct WettedDiameter {
  std::string ground;    ///< "medium"
  double fc_from;        ///< field capacity from which the row applies, m3/m3
  double diameter_m;     ///< to reckon with
  double low_m, high_m;  ///< the published range
  std::string source;
};
using WettedDiameterTable = std::vector<WettedDiameter>;  ///< by rising `fc_from`, the first 0

/// Errors: whatever split_csv finds, a column missing, text where a number is due, no source, a
/// diameter outside the row's own range or not above 0, rows that do not rise from 0.
[[nodiscard]] Read<WettedDiameterTable> parse_wetted_diameters(std::string_view csv,
                                                               std::string_view name);
/// The table compiled in (data/wetted_diameter.csv).
[[nodiscard]] WettedDiameterTable wetted_diameter_table();
/// The row for ground of that field capacity, m3/m3.
[[nodiscard]] const WettedDiameter& wetted_diameter(const WettedDiameterTable& table,
                                                    double field_capacity);

/// Emitters on a grid over the whole bed.
struct EmitterGrid {
  double spacing_m;      ///< along the row
  double row_spacing_m;  ///< between rows
};
/// Share of the root zone that they wet, above 0 and at most 1. Emitters no further apart than 0.8
/// of the wetted diameter wet a strip as wide as that (Keller & Bliesner 1990, from memory), along
/// rows or across; strips that meet wet everything. Further apart, each wets a circle of its own.
/// @throws std::invalid_argument unless all figures are finite and above 0.
[[nodiscard]] double wetted_share(double diameter_m, const EmitterGrid& grid);

}  // namespace runnel

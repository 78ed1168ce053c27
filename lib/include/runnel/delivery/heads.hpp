#pragma once

#include <optional>
#include <span>

#include "runnel/delivery/emitters.hpp"
#include "runnel/units/quantity.hpp"

namespace runnel {

/// Where sprinklers stand: rows and, along a row, heads. On an equilateral triangle the rows lie
/// sqrt(3)/2 of the spacing apart: a measured row spacing needs no such factor.
struct HeadSpacing {
  double along_row_m;     ///< > 0
  double between_rows_m;  ///< > 0
};

/// Application rate where heads of that arc overlap: flow of the full circle over the ground of one
/// head, flow x 360 / (arc x spacing x row spacing). Irrigation Association training, arc method
/// (from memory).
/// @throws std::invalid_argument unless the figures are finite and > 0, the arc at most 360.
[[nodiscard]] Rate head_rate(const Head& head, const HeadSpacing& spacing);

/// How unlike the rates of a zone's heads are. Equal rates need a flow in proportion to the arc, 90
/// : 180 : 270 : 360 = 1 : 2 : 3 : 4 (Irrigation Association).
struct RateSpread {
  double lowest_arc_deg, highest_arc_deg;
  double lowest, highest;  ///< rates over the mean of the ground the heads water; 1 when they match
  /// 1 when the rates match.
  [[nodiscard]] double ratio() const { return highest / lowest; }
};
/// Rates over the ground each reaches when every radius is known, else at equal spacing.
/// @throws std::invalid_argument when there is no head, or for a head as head_rate.
[[nodiscard]] RateSpread rate_spread(std::span<const Head> heads);

/// Sum of the circle sectors the heads reach, overlaps counted twice; nothing unless every radius
/// is known. Less than the zone's area: some of it stays dry.
[[nodiscard]] std::optional<Area> reached(std::span<const Head> heads);

}  // namespace runnel

#pragma once

#include <array>
#include <string_view>

#include "runnel/units/column.hpp"

namespace runnel {

/// The factors between the reference ET of open ground and what a zone uses, in the order in which
/// they are applied.
enum class DemandFactor {
  sun_and_sky,      ///< zone reference ET at open-ground wind over that of open ground
  shelter,          ///< zone reference ET over the same at open-ground wind
  plants,           ///< the planting's or crop's own coefficient, in full growth and normal density
  density,          ///< for how thickly it stands
  stage,            ///< for its stage of growth
  standing,         ///< of pots: apart, on hot paving, hanging
  soil_evaporation  ///< dual coefficient: ETc over Kcb x ET, wet ground and mulch (FAO-56 Eq. 69)
};
/// How many there are.
inline constexpr std::size_t demand_factor_count = 7;
/// In words: "sun and sky", "shelter from wind", ...
[[nodiscard]] std::string_view to_text(DemandFactor factor);

/// From reference ET to a zone's demand without stress, day by day.
struct DemandChain {
  DemandChain() = default;
  /// From reference ET, mm [days], with every factor 1.
  explicit DemandChain(Column eto_mm);
  Column eto_mm;                                         ///< [days] of open ground
  std::array<Column, demand_factor_count> factors = {};  ///< [days] each, by DemandFactor

  /// The factor by day, to be written to. [days]
  [[nodiscard]] Column& operator[](DemandFactor factor);
  /// The factor by day. [days]
  [[nodiscard]] const Column& operator[](DemandFactor factor) const;
  [[nodiscard]] Column demand_mm() const;  ///< [days]
  /// Zone reference ET over that of open ground: sun and sky times shelter. [days]
  [[nodiscard]] Column exposure() const;
  /// All factors after the exposure: what ETc is of the zone's reference ET. [days]
  [[nodiscard]] Column coefficient() const;

  /// One figure for each factor over the first days, each weighted by the ET that comes into it,
  /// so that their product times the sum of reference ET is the sum of the demand.
  /// A factor to which no ET comes is 1.
  [[nodiscard]] std::array<double, demand_factor_count> mean_factors(Eigen::Index days) const;
};

}  // namespace runnel

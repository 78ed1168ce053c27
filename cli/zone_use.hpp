#pragma once

#include <vector>

#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {

/// So many days are compared.
inline constexpr Eigen::Index zone_use_days = 7;

/// What one zone uses in the week.
struct ZoneUse {
  const PreparedZone* zone;
  Column mm, litres;  // [week]
  Column exposure, coefficient;
  double spare_mm;  ///< readily available water over the whole zone, mean of the week

  [[nodiscard]] double mm_a_day() const { return mm.mean(); }
  /// Days from field capacity until the readily available water is used; infinite without use.
  [[nodiscard]] double lasts_days() const { return spare_mm / mm_a_day(); }
};
/// In the garden's order; they refer to `planned`.
[[nodiscard]] std::vector<ZoneUse> zone_uses(const GardenPlan& planned);
/// Of all of them, mean of the week.
[[nodiscard]] double litres_a_day(const std::vector<ZoneUse>& all);

/// The mean, each day weighted by the ET it applies to.
[[nodiscard]] double mean_factor(const Column& factor, const Column& et);

}  // namespace runnel::cli

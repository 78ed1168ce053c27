#pragma once

#include <limits>
#include <vector>

#include "runnel/units/column.hpp"

namespace runnel {

/// A layer of soil. Water contents in m3/m3 of the fine earth between the stones.
struct SoilLayer {
  double thickness_m = std::numeric_limits<double>::infinity();
  double field_capacity, wilting_point;
  double stones = 0.0;  ///< share of the volume, 0 to < 1: holds no water
};
/// From the surface down. Below the last layer there is nothing that roots use.
using SoilProfile = std::vector<SoilLayer>;

/// How deep the profile goes, m; infinite when its last layer does.
[[nodiscard]] double depth_m(const SoilProfile& profile);

/// Total available water of roots so deep, mm: FAO-56 Eq. 82 summed over the layers they reach,
/// each less its stones; roots end where the profile does.
/// @throws std::invalid_argument on an empty profile, a thickness not above 0, a wilting point not
/// below field capacity, stones outside [0, 1), or a root depth below 0.
[[nodiscard]] double available_water_mm(const SoilProfile& profile, double root_depth_m);
/// The same by day. [days]
[[nodiscard]] Column available_water_mm(const SoilProfile& profile, const Column& root_depth_m);

}  // namespace runnel

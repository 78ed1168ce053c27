#pragma once

#include <optional>

#include "runnel/demand/climate_adjustment.hpp"
#include "runnel/demand/plants.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/column.hpp"

namespace runnel {

/// How much of the ground is under leaves, from above, and as the sun sees it at noon.
struct GroundCover {
  double share, effective;
};

/// What the coefficients depend on besides the plant.
struct Growing {
  Density density = Density::average;        ///< landscape kinds
  std::optional<WaterNeed> water_need = {};  ///< landscape kinds with classes
  std::optional<Date> planted = {};          ///< annual crops; others when young
  std::optional<Date> green_up = {};         ///< perennial crops: that day of every year
  bool southern = false;       ///< half of the earth: lawns' months and green-up shift by six
  bool in_containers = false;  ///< landscape kinds: coefficient per canopy area
  Climate climate = {.u2_m_s = 2.0, .rh_min_pct = 45.0};  ///< mean of the days; crops: Eq. 62, 65
  std::optional<GroundCover> cover = {};                  ///< when the gardener has seen it
  std::optional<double> root_ball_m = {};                 ///< in place of the table's
};

/// How deep perennials and plantings from tables without a root ball are planted. Common practice,
/// no source.
inline constexpr double usual_root_ball_m = 0.20;
/// And how long their roots take to full depth. Common practice, no source.
inline constexpr int usual_establishment_days = 730;

/// Day of the crop's season, 1 on the day of planting or green-up (perennials: the last green-up,
/// on the 15th of its month unless `green_up` states the day). 29 February counts as 28 in years
/// without it.
/// @throws std::invalid_argument when an annual crop has no planting date.
[[nodiscard]] int season_day(const Crop& crop, const Growing& growing, Date date);

/// Days until a newly planted perennial, tree, shrub, ... is established; 0 for annual crops and
/// lawns.
[[nodiscard]] int establishment_days(const Plant& plant);
/// Whether it was planted so late that it is not established yet.
[[nodiscard]] bool is_young(const Plant& plant, const Growing& growing, Date date);

/// Rooting depth of an annual crop when planted: within FAO-56's 0.15-0.20 m (from memory).
inline constexpr double seedling_root_depth_m = 0.15;

/// Rooting depth by day, m. An annual crop's roots grow with its stages from
/// `seedling_root_depth_m` at planting to full depth at mid-season (linearly; FAO-56 Annex 8 scales
/// with Kcb, which rises linearly too). Those of a newly planted perennial or landscape kind grow
/// linearly from the root ball (common practice, no source). All others are full grown. [days]
/// @throws std::invalid_argument as season_day, or when a crop of the table's has no stages.
[[nodiscard]] Column root_depth_by_day_m(const Plant& plant, const Growing& growing, double full_m,
                                         Date first_day, Eigen::Index days);

/// Height by day, m: an annual crop's follows Kcb until mid-season and never falls (FAO-56 Annex
/// 8); a young planting's grows as its roots do (common practice, no source). [days]
/// @throws std::invalid_argument as root_depth_by_day_m.
[[nodiscard]] Column height_by_day_m(const Plant& plant, const Growing& growing, Date first_day,
                                     Eigen::Index days);

}  // namespace runnel

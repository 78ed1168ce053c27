#pragma once

#include "runnel/demand/plant_growth.hpp"

namespace runnel {

/// Coefficients of bare dry soil and of what leaves add to it. FAO-56 chapter 7: 0.15-0.20.
inline constexpr double kc_min = 0.15;

/// Single coefficient by day. FAO-56 Eq. 58 with Eq. 62, 65, 66 (crops), species factor x density
/// factor (landscape), by month (lawns). With `growing.cover`: a crop's Kcb mid from Eq. 98 (never
/// above the table's), its Kcb end in proportion, Kc as far above Kcb as the table's; a planting's
/// density factor is the density coefficient of Eq. 98. [days]
/// @throws std::invalid_argument as season_day, or when a crop that is not evergreen has no stages.
[[nodiscard]] Column kc_by_day(const Plant& plant, const Growing& growing, Date first_day,
                               Eigen::Index days);

/// Basal coefficient by day, to which Ke is added. FAO-56 Eq. 70, 66 (crops). Landscape kinds and
/// lawns have none published: 0.05 below the single one where plants cover the ground, 0.10 below
/// where they are sparse or young, not below Kc min (FAO-56 Table 18, mid-season). [days]
/// @throws std::invalid_argument as kc_by_day.
[[nodiscard]] Column kcb_by_day(const Plant& plant, const Growing& growing, Date first_day,
                                Eigen::Index days);

}  // namespace runnel

#pragma once

#include "runnel/units/column.hpp"

namespace runnel {

/// Crop evapotranspiration without stress, mm/d. FAO-56 Eq. 58 (with Kcb + Ke: Eq. 69).
[[nodiscard]] double crop_et_mm_d(double kc, double eto_mm_d);

/// Kc or Kcb under a plastic mulch that lowers it by that share (FAO-56 Table 25: 0.05-0.35 of Kc;
/// 0.05-0.15 of Kcb).
[[nodiscard]] double under_plastic_mulch(double kc, double reduction);

/// Mean reference ET over the days of an evaporation pan, mm/d. FAO-56 Eq. 55. @param kp pan
/// coefficient (Table 5, 6).
/// @throws std::invalid_argument when there is no day.
[[nodiscard]] double mean_pan_eto_mm_d(const Column& pan_mm_d, double kp);

/// Mean Ks over a season that explains a harvest below the possible one. FAO-56 Eq. 90 solved for
/// Ks (Eq. 103).
/// @param ky yield response factor (Table 24).
[[nodiscard]] double ks_from_yield(double actual_over_full_yield, double ky);

}  // namespace runnel

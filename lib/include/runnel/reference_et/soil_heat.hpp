#pragma once

namespace runnel {

/// @file
/// Soil heat flux of a month, MJ m-2 d-1, from mean monthly temperatures, °C; positive when the
/// soil warms. A day and ten days take 0 (FAO-56 Eq. 42); an hour takes a share of net radiation
/// (Method).

/// From the months before and after. FAO-56 Eq. 43.
[[nodiscard]] double monthly_soil_heat_flux_mj_m2_d(double t_month_before_c,
                                                    double t_month_after_c);
/// From the month before and this one, while the next is not known. FAO-56 Eq. 44.
[[nodiscard]] double monthly_soil_heat_flux_so_far_mj_m2_d(double t_month_before_c,
                                                           double t_month_c);

}  // namespace runnel

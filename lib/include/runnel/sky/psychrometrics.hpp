#pragma once

namespace runnel {

/// Atmospheric pressure, kPa, at an elevation in m. FAO-56 Eq. 7.
[[nodiscard]] double atmospheric_pressure_kpa(double elevation_m);
/// Psychrometric constant, kPa/°C, from pressure in kPa. FAO-56 Eq. 8.
[[nodiscard]] double psychrometric_constant_kpa_c(double pressure_kpa);
/// Saturation vapour pressure, kPa, at an air temperature in °C. FAO-56 Eq. 11.
[[nodiscard]] double saturation_vapour_pressure_kpa(double t_c);
/// Mean saturation vapour pressure of a day, kPa. FAO-56 Eq. 12.
[[nodiscard]] double mean_saturation_vapour_pressure_kpa(double t_max_c, double t_min_c);
/// Slope of the saturation vapour pressure curve, kPa/°C. FAO-56 Eq. 13.
[[nodiscard]] double vapour_pressure_slope_kpa_c(double t_c);
/// Dew point, °C, of a vapour pressure in kPa > 0: the inverse of FAO-56 Eq. 11 (Eq. 3-11 of its
/// Annex 3).
[[nodiscard]] double dew_point_c(double ea_kpa);

// Actual vapour pressure, kPa, from what was measured. Relative humidities in percent,
// temperatures in °C.

/// From the dew point. FAO-56 Eq. 14.
[[nodiscard]] double vapour_pressure_from_dew_point_kpa(double t_dew_c);
/// From the day's highest and lowest humidity. FAO-56 Eq. 17.
[[nodiscard]] double vapour_pressure_from_rh_max_min_kpa(double t_max_c, double t_min_c,
                                                         double rh_max_pct, double rh_min_pct);
/// From the highest alone, where the lowest is not measured well. FAO-56 Eq. 18.
[[nodiscard]] double vapour_pressure_from_rh_max_kpa(double t_min_c, double rh_max_pct);
/// From the day's mean. FAO-56 Eq. 19.
[[nodiscard]] double vapour_pressure_from_rh_mean_kpa(double t_max_c, double t_min_c,
                                                      double rh_mean_pct);

/// Wind speed at 2 m, m/s, from a speed measured at height_m (> 0.1 m) over short grass. FAO-56
/// Eq. 47.
[[nodiscard]] double wind_at_2m_m_s(double wind_m_s, double height_m);

}  // namespace runnel

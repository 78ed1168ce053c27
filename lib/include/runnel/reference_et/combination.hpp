#pragma once

#include <cmath>

#include "runnel/reference_et/method.hpp"

namespace runnel {

/// @file
/// The equations between radiation and evapotranspiration, as templates so that one text serves an
/// hour (double) and a block of days (a fixed-size Eigen array). `T` must be a value type, not an
/// Eigen expression.

/// Of the reference crop. FAO-56 Eq. 38.
inline constexpr double grass_albedo = 0.23;
/// FAO-56 Eq. 39; Eq. 6 has 273: both as printed.
inline constexpr double kelvin_offset_of_radiation = 273.16;

/// Net short-wave radiation, same unit as `rs`. FAO-56 Eq. 38.
template <class T>
[[nodiscard]] inline T net_shortwave(const T& rs) {
  return (1.0 - grass_albedo) * rs;
}

/// T^4 in K^4 of a temperature in °C.
template <class T>
[[nodiscard]] inline T fourth_power_k4(const T& t_c) {
  const T kelvin = t_c + kelvin_offset_of_radiation;
  const T square = kelvin * kelvin;
  return square * square;
}

/// Net outgoing long-wave radiation, MJ m-2 per step of the method. FAO-56 Eq. 39.
/// @param k4 mean of T^4 over the step: of Tmax and Tmin for a day, of the mean temperature for an
/// hour.
/// @param clear_ratio Rs/Rso, already between the method's floor and 1.
template <class T>
[[nodiscard]] inline T net_longwave(const T& k4, const T& ea_kpa, const T& clear_ratio,
                                    const Method& method) {
  using std::sqrt;
  return method.stefan_boltzmann * k4 * (0.34 - 0.14 * sqrt(ea_kpa)) * (1.35 * clear_ratio - 0.35);
}

/// What Eq. 6 and 53 combine. Fluxes in MJ m-2 per step.
template <class T>
struct CombinationTerms {
  T t_c, delta_kpa_c, vapour_deficit_kpa, u2_m_s, rn_less_g_mj_m2;
};

/// The two parts of evapotranspiration, mm per step.
template <class T>
struct EtParts {
  T radiation_mm, aerodynamic_mm;
};

/// Penman-Monteith in the form that FAO-56 Eq. 6 and 53 and ASCE-EWRI 2005 Eq. 1 share.
/// @param cd_s_m the method's denominator constant of the day or the night.
template <class T>
[[nodiscard]] inline EtParts<T> penman_monteith(const CombinationTerms<T>& in, double gamma_kpa_c,
                                                double cd_s_m, const Method& method) {
  const T scale = 1.0 / (in.delta_kpa_c + gamma_kpa_c * (1.0 + cd_s_m * in.u2_m_s));
  return {.radiation_mm = 0.408 * in.delta_kpa_c * in.rn_less_g_mj_m2 * scale,
          .aerodynamic_mm = gamma_kpa_c * method.cn / (in.t_c + 273.0) * in.u2_m_s *
                            in.vapour_deficit_kpa * scale};
}

}  // namespace runnel

#pragma once

#include <cmath>

namespace runnel {

/// FAO-56 Eq. 11 and 13 as templates, so that one text serves a double and a block of days (a
/// fixed-size Eigen array). `T` must be a value type: Eigen expressions are to be evaluated into it
/// first.

/// Saturation vapour pressure, kPa, at a temperature in °C. FAO-56 Eq. 11.
template <class T>
[[nodiscard]] inline T saturation_vapour_pressure(const T& t_c) {
  using std::exp;
  const T exponent = 17.27 * t_c / (t_c + 237.3);
  return 0.6108 * exp(exponent);
}

/// Slope, kPa/°C, of that curve, from its value at the same temperature. FAO-56 Eq. 13: 4098
/// = 17.27 x 237.3.
template <class T>
[[nodiscard]] inline T vapour_pressure_slope(const T& e0_kpa, const T& t_c) {
  const T sum = t_c + 237.3;
  return 4098.0 * e0_kpa / (sum * sum);
}

}  // namespace runnel

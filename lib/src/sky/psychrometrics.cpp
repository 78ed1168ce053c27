#include "runnel/sky/psychrometrics.hpp"

#include <cmath>
#include <stdexcept>

#include "runnel/sky/vapour_equations.hpp"

namespace runnel {

double atmospheric_pressure_kpa(double elevation_m) {
  // FAO-56 Eq. 7: standard atmosphere of 293 K at sea level, lapse 0.0065 K/m. Holds below sea
  // level too.
  return 101.3 * std::pow((293.0 - 0.0065 * elevation_m) / 293.0, 5.26);
}

double psychrometric_constant_kpa_c(double pressure_kpa) { return 0.665e-3 * pressure_kpa; }

double saturation_vapour_pressure_kpa(double t_c) { return saturation_vapour_pressure(t_c); }

double mean_saturation_vapour_pressure_kpa(double t_max_c, double t_min_c) {
  return (saturation_vapour_pressure(t_max_c) + saturation_vapour_pressure(t_min_c)) / 2.0;
}

double vapour_pressure_slope_kpa_c(double t_c) {
  return vapour_pressure_slope(saturation_vapour_pressure(t_c), t_c);
}

double dew_point_c(double ea_kpa) {
  // Eq. 11 solved for T; Eq. 3-11 of Annex 3 is the same with its constants multiplied out and
  // rounded.
  const double x = std::log(ea_kpa / 0.6108);
  return 237.3 * x / (17.27 - x);
}

double vapour_pressure_from_dew_point_kpa(double t_dew_c) {
  return saturation_vapour_pressure(t_dew_c);
}

double vapour_pressure_from_rh_max_min_kpa(double t_max_c, double t_min_c, double rh_max_pct,
                                           double rh_min_pct) {
  // The highest humidity of a day goes with its lowest temperature.
  return (saturation_vapour_pressure(t_min_c) * rh_max_pct +
          saturation_vapour_pressure(t_max_c) * rh_min_pct) /
         200.0;
}

double vapour_pressure_from_rh_max_kpa(double t_min_c, double rh_max_pct) {
  return saturation_vapour_pressure(t_min_c) * rh_max_pct / 100.0;
}

double vapour_pressure_from_rh_mean_kpa(double t_max_c, double t_min_c, double rh_mean_pct) {
  return mean_saturation_vapour_pressure_kpa(t_max_c, t_min_c) * rh_mean_pct / 100.0;
}

double wind_at_2m_m_s(double wind_m_s, double height_m) {
  if (!(height_m > 0.1))
    throw std::invalid_argument("wind_at_2m_m_s: the height must be above 0.1 m");
  // FAO-56 Eq. 47. It gives 1.0002 at 2 m; taken as it is, without a jump there.
  return wind_m_s * 4.87 / std::log(67.8 * height_m - 5.42);
}

}  // namespace runnel

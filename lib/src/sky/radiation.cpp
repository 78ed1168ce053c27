#include "runnel/sky/radiation.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "runnel/sky/sun.hpp"

namespace runnel {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double solar_constant_mj_m2_min = 0.0820;  // FAO-56 Eq. 21
constexpr int days_in_table = 366;

/// FAO-56 Eq. 21. The declination's cosine and the sunset angle's sine come from their sines and
/// cosines, both angles lying where the other is not negative: a table of a year costs half of what
/// the plain form does.
double daily_ra(double sin_phi, double cos_phi, int day_of_year) {
  const double sin_delta = std::sin(declination_rad(day_of_year));
  const double cos_delta = std::sqrt(1.0 - sin_delta * sin_delta);
  const double constant = sin_phi * sin_delta;
  const double swing = cos_phi * cos_delta;
  // -tan(phi)tan(delta) without a division by zero at the poles, where swing is nearly 0.
  const double cos_omega = constant >= swing ? -1.0 : constant <= -swing ? 1.0 : -constant / swing;
  const double omega_s = std::acos(cos_omega);
  const double sin_omega = std::sqrt(1.0 - cos_omega * cos_omega);
  const double ra = 24.0 * 60.0 / pi * solar_constant_mj_m2_min *
                    inverse_relative_distance(day_of_year) *
                    (omega_s * constant + swing * sin_omega);
  return ra > 0.0 ? ra : 0.0;  // a day of a few seconds may come out as -1e-17
}

}  // namespace

double extraterrestrial_radiation_mj_m2_d(double latitude_rad, int day_of_year) {
  return daily_ra(std::sin(latitude_rad), std::cos(latitude_rad), day_of_year);
}

Column extraterrestrial_radiation_of_year_mj_m2_d(double latitude_rad) {
  const double sin_phi = std::sin(latitude_rad);
  const double cos_phi = std::cos(latitude_rad);
  Column ra(days_in_table);
  for (int day = 1; day <= days_in_table; ++day) ra[day - 1] = daily_ra(sin_phi, cos_phi, day);
  return ra;
}

double extraterrestrial_radiation_mj_m2(double latitude_rad, int day_of_year, double from_rad,
                                        double to_rad) {
  const double delta = declination_rad(day_of_year);
  const double constant = std::sin(latitude_rad) * std::sin(delta);
  const double swing = std::cos(latitude_rad) * std::cos(delta);
  const double sunset = sunset_hour_angle_rad(latitude_rad, day_of_year);
  double integral = 0.0;
  // A span that crosses midnight meets the daylight of two solar days, which matters when the
  // nights are short.
  for (const double midnight : {-2.0 * pi, 0.0, 2.0 * pi}) {
    const double w1 = std::clamp(from_rad + midnight, -sunset, sunset);
    const double w2 = std::clamp(to_rad + midnight, -sunset, sunset);
    integral += (w2 - w1) * constant + swing * (std::sin(w2) - std::sin(w1));
  }
  const double ra = 12.0 * 60.0 / pi * solar_constant_mj_m2_min *
                    inverse_relative_distance(day_of_year) * integral;
  return ra > 0.0 ? ra : 0.0;
}

double clear_sky_share(double elevation_m) { return 0.75 + 2e-5 * elevation_m; }

double radiation_from_sunshine(double ra, double sunshine_h, double daylight_h,
                               AngstromCoefficients coefficients) {
  if (!(daylight_h > 0.0)) return 0.0;
  return (coefficients.a_s + coefficients.b_s * sunshine_h / daylight_h) * ra;
}

double radiation_from_temperature(double ra, double t_max_c, double t_min_c, double k_rs_per_sqrt_c,
                                  double elevation_m) {
  const double range_c = t_max_c > t_min_c ? t_max_c - t_min_c : 0.0;
  // FAO-56 holds the estimate to the clear-sky radiation of Eq. 37.
  return std::min(k_rs_per_sqrt_c * std::sqrt(range_c), clear_sky_share(elevation_m)) * ra;
}

}  // namespace runnel

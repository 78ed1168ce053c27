#include "runnel/sky/sun.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace runnel {
namespace {

constexpr double pi = std::numbers::pi;

/// sin(phi)sin(delta) and cos(phi)cos(delta): the sine of the sun's elevation is `constant + swing
/// cos(omega)`.
struct ElevationTerms {
  double constant;
  double swing;
};

ElevationTerms elevation_terms(double latitude_rad, int day_of_year) {
  const double delta = declination_rad(day_of_year);
  return {.constant = std::sin(latitude_rad) * std::sin(delta),
          .swing = std::cos(latitude_rad) * std::cos(delta)};
}

/// By how much the mean sun at the place is ahead of the clock, -12 to 12: a clock may keep the
/// date of the other side of the date line (Chatham: 176.5 W, UTC+12:45).
double hours_before_clock(double longitude_deg, double utc_offset_h) {
  return std::remainder(longitude_deg - 15.0 * utc_offset_h, 360.0) / 15.0;
}

}  // namespace

double inverse_relative_distance(int day_of_year) {
  return 1.0 + 0.033 * std::cos(2.0 * pi / 365.0 * day_of_year);
}

double declination_rad(int day_of_year) {
  return 0.409 * std::sin(2.0 * pi / 365.0 * day_of_year - 1.39);
}

double sunset_hour_angle_at_rad(double latitude_rad, double declination_rad) {
  // Beyond the polar circles the sun may not cross the horizon; the held argument then gives 0
  // (night) or pi (day).
  const double cosine = -std::tan(latitude_rad) * std::tan(declination_rad);
  return std::acos(std::clamp(cosine, -1.0, 1.0));
}

double sunset_hour_angle_rad(double latitude_rad, int day_of_year) {
  return sunset_hour_angle_at_rad(latitude_rad, declination_rad(day_of_year));
}

double daylight_hours(double latitude_rad, int day_of_year) {
  return 24.0 / pi * sunset_hour_angle_rad(latitude_rad, day_of_year);
}

double seasonal_angle_rad(int day_of_year) {
  return 2.0 * pi * (day_of_year - 81) / 364.0;  // 81 and 364, unlike the 365 of Eq. 23 and 24
}

double seasonal_correction_h(int day_of_year) {
  const double b = seasonal_angle_rad(day_of_year);
  return 0.1645 * std::sin(2.0 * b) - 0.1255 * std::cos(b) - 0.025 * std::sin(b);
}

double solar_time_angle_rad(double clock_h, double longitude_deg, double utc_offset_h,
                            int day_of_year) {
  // FAO-56 Eq. 31 writes 0.06667 h per degree for 1/15; the exact value moves hourly ET by about
  // 1e-7 mm.
  const double solar_h = clock_h + hours_before_clock(longitude_deg, utc_offset_h) +
                         seasonal_correction_h(day_of_year);
  return pi / 12.0 * (solar_h - 12.0);
}

double solar_noon_h(double longitude_deg, double utc_offset_h, int day_of_year) {
  return 12.0 - hours_before_clock(longitude_deg, utc_offset_h) -
         seasonal_correction_h(day_of_year);
}

double sun_elevation_rad(double latitude_rad, int day_of_year, double time_angle_rad) {
  const ElevationTerms terms = elevation_terms(latitude_rad, day_of_year);
  return std::asin(std::clamp(terms.constant + terms.swing * std::cos(time_angle_rad), -1.0, 1.0));
}

SunPosition sun_position(double latitude_rad, double declination_rad, double time_angle_rad) {
  const double sin_phi = std::sin(latitude_rad);
  const double cos_phi = std::cos(latitude_rad);
  const double sin_delta = std::sin(declination_rad);
  const double cos_delta = std::cos(declination_rad);
  const double cos_omega = std::cos(time_angle_rad);
  const double up = sin_phi * sin_delta + cos_phi * cos_delta * cos_omega;
  const double north = sin_delta * cos_phi - cos_delta * sin_phi * cos_omega;
  const double east = -cos_delta * std::sin(time_angle_rad);
  const double azimuth = std::atan2(east, north);
  return {.elevation_rad = std::asin(std::clamp(up, -1.0, 1.0)),
          .azimuth_rad = azimuth < 0.0 ? azimuth + 2.0 * pi : azimuth};
}

double radiation_share_before(double latitude_rad, int day_of_year, double time_angle_rad) {
  const double sunset = sunset_hour_angle_rad(latitude_rad, day_of_year);
  const double omega = std::clamp(time_angle_rad, -pi, pi);
  if (sunset <= 0.0) return (omega + pi) / (2.0 * pi);
  const ElevationTerms terms = elevation_terms(latitude_rad, day_of_year);
  const auto since_noon = [&terms](double w) {
    return terms.constant * w + terms.swing * std::sin(w);
  };
  const double half = since_noon(sunset);
  // Half of a day so short that its radiation is lost in rounding: as the polar night.
  if (!(half > 0.0)) return (omega + pi) / (2.0 * pi);
  return std::clamp(0.5 + 0.5 * since_noon(std::clamp(omega, -sunset, sunset)) / half, 0.0, 1.0);
}

}  // namespace runnel

#pragma once

namespace runnel {

/// @file
/// Angles in radians. Day of the year 1-366; FAO-56 divides by 365 in leap years too.

[[nodiscard]] double inverse_relative_distance(int day_of_year);  ///< FAO-56 Eq. 23
[[nodiscard]] double declination_rad(int day_of_year);            ///< FAO-56 Eq. 24

/// Sunset hour angle, 0 in the polar night to pi on a polar day. FAO-56 Eq. 25, argument held
/// within [-1, 1].
[[nodiscard]] double sunset_hour_angle_rad(double latitude_rad, int day_of_year);
/// The same for a declination, radians.
[[nodiscard]] double sunset_hour_angle_at_rad(double latitude_rad, double declination_rad);
/// Hours of possible sunshine, 0 to 24. FAO-56 Eq. 34.
[[nodiscard]] double daylight_hours(double latitude_rad, int day_of_year);

/// The angle that the seasonal correction goes by, radians. FAO-56 Eq. 33.
[[nodiscard]] double seasonal_angle_rad(int day_of_year);
/// Seasonal correction of solar time, hours. FAO-56 Eq. 32.
[[nodiscard]] double seasonal_correction_h(int day_of_year);
/// Solar time angle, radians from solar noon (negative before), of a clock time in hours of the
/// standard offset.
/// @param utc_offset_h of that clock, east positive. FAO-56 Eq. 31 with longitudes counted east.
[[nodiscard]] double solar_time_angle_rad(double clock_h, double longitude_deg, double utc_offset_h,
                                          int day_of_year);
/// Clock time of solar noon, hours of a clock with that offset.
[[nodiscard]] double solar_noon_h(double longitude_deg, double utc_offset_h, int day_of_year);
/// Sun's elevation above a level horizon, radians. sin(elevation) = sin(phi)sin(delta) +
/// cos(phi)cos(delta)cos(omega).
[[nodiscard]] double sun_elevation_rad(double latitude_rad, int day_of_year, double time_angle_rad);

/// Where the sun stands, radians.
struct SunPosition {
  double elevation_rad;  ///< above a level horizon; the sun's centre, without refraction
  double azimuth_rad;    ///< 0 to 2 pi, clockwise from north
};
/// From the same triangle: the sun's direction is sin(delta)cos(phi) - cos(delta)sin(phi)cos(omega)
/// towards north and -cos(delta)sin(omega) towards east.
[[nodiscard]] SunPosition sun_position(double latitude_rad, double declination_rad,
                                       double time_angle_rad);

/// Share (0-1) of the day's extraterrestrial radiation that has arrived when the sun stands at that
/// time angle; in the polar night, the share of the 24 hours. Integral of FAO-56 Eq. 28.
[[nodiscard]] double radiation_share_before(double latitude_rad, int day_of_year,
                                            double time_angle_rad);

}  // namespace runnel

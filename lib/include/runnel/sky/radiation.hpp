#pragma once

#include "runnel/units/column.hpp"

namespace runnel {

/// Extraterrestrial radiation of a day, MJ m-2 d-1. FAO-56 Eq. 21.
[[nodiscard]] double extraterrestrial_radiation_mj_m2_d(double latitude_rad, int day_of_year);

/// The same for every day of a year, MJ m-2 d-1: row i is day of the year i + 1. [366]
[[nodiscard]] Column extraterrestrial_radiation_of_year_mj_m2_d(double latitude_rad);

/// Extraterrestrial radiation between two solar time angles (radians, from < to, within -3 pi to 3
/// pi), MJ m-2 for that span; the span is cut to the time the sun is up. FAO-56 Eq. 28 with the
/// limits of ASCE-EWRI 2005 Eq. 56.
[[nodiscard]] double extraterrestrial_radiation_mj_m2(double latitude_rad, int day_of_year,
                                                      double from_rad, double to_rad);

/// Share of extraterrestrial radiation that reaches the ground under a clear sky. FAO-56 Eq. 37.
[[nodiscard]] double clear_sky_share(double elevation_m);

/// Which share of extraterrestrial radiation arrives. FAO-56 Eq. 35.
struct AngstromCoefficients {
  double a_s;  ///< share that arrives on overcast days
  double b_s;  ///< a_s + b_s arrives on clear days
};
/// Where none are known of the site. FAO-56 chapter 3.
inline constexpr AngstromCoefficients fao56_angstrom{.a_s = 0.25, .b_s = 0.50};
/// Solar radiation from hours of bright sunshine, same unit as `ra`. FAO-56 Eq. 35.
/// @param daylight_h possible hours; 0 gives 0.
[[nodiscard]] double radiation_from_sunshine(double ra, double sunshine_h, double daylight_h,
                                             AngstromCoefficients coefficients);

/// Solar radiation from the day's temperature range, not above clear-sky radiation; same unit as
/// `ra`. FAO-56 Eq. 50.
/// @param k_rs_per_sqrt_c 0.16 inland, 0.19 at the coast.
[[nodiscard]] double radiation_from_temperature(double ra, double t_max_c, double t_min_c,
                                                double k_rs_per_sqrt_c, double elevation_m);

}  // namespace runnel

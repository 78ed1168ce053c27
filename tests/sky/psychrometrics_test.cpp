// The published figures of these functions are checked in tests/reference; here is what the tables
// do not cover.

#include "runnel/sky/psychrometrics.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>

#include "support/near.hpp"

using namespace runnel;

TEST_CASE("psychrometrics - dew point is the inverse of Eq. 11") {
  for (double t = -40.0; t <= 50.0; t += 0.5) {
    CHECK(dew_point_c(saturation_vapour_pressure_kpa(t)) == near(t, 1e-10));
  }
  // Annex 3 prints the inverse with rounded constants (Eq. 3-11, from memory): 0.011 degrees apart
  // at the most here.
  for (const double ea : {0.2, 1.0, 2.5, 4.0}) {
    const double printed = (116.91 + 237.3 * std::log(ea)) / (16.78 - std::log(ea));
    CHECK(dew_point_c(ea) == near(printed, 0.011));
  }
}

TEST_CASE("psychrometrics - Eq. 13 is the slope of Eq. 11") {
  for (double t = -30.0; t <= 50.0; t += 1.0) {
    const double step = 1e-4;
    const double slope =
        (saturation_vapour_pressure_kpa(t + step) - saturation_vapour_pressure_kpa(t - step)) /
        (2.0 * step);
    // The standard's 4098 is 17.27 x 237.3 = 4098.171 rounded.
    CHECK(vapour_pressure_slope_kpa_c(t) / slope == near(4098.0 / 4098.171, 1e-7));
  }
}

TEST_CASE("psychrometrics - pressure below sea level") {
  // Eq. 7 at -60 m: 102.0 kPa, as ASCE-EWRI 2005 Eq. 3 gives gamma 0.0678375
  // (tests/reference/asce2005_daily.csv, E13).
  CHECK(psychrometric_constant_kpa_c(atmospheric_pressure_kpa(-60.0)) == near(0.0678375, 5e-8));
}

TEST_CASE("psychrometrics - wind needs a height above the grass") {
  CHECK(wind_at_2m_m_s(0.0, 10.0) == 0.0);
  CHECK_THROWS_AS(static_cast<void>(wind_at_2m_m_s(2.0, 0.1)), std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(wind_at_2m_m_s(2.0, std::nan(""))), std::invalid_argument);
}

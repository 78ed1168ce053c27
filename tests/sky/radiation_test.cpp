#include "runnel/sky/radiation.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "runnel/sky/sun.hpp"
#include "support/near.hpp"

using namespace runnel;

namespace {

constexpr double pi = std::numbers::pi;
constexpr double degrees = pi / 180.0;

}  // namespace

TEST_CASE("radiation - the hours of a day add up to the day") {
  for (const double latitude : {-75.0, -33.9, 0.0, 51.5, 66.3, 70.0, 90.0}) {
    const double phi = latitude * degrees;
    for (int day = 1; day <= 366; day += 5) {
      double sum = 0.0;
      // From an odd start, so that one span crosses midnight.
      for (int hour = 0; hour < 24; ++hour) {
        const double from = -pi + 0.09 + hour * pi / 12.0;
        sum += extraterrestrial_radiation_mj_m2(phi, day, from, from + pi / 12.0);
      }
      CAPTURE(latitude);
      CAPTURE(day);
      CHECK(sum == near(extraterrestrial_radiation_mj_m2_d(phi, day), 1e-9));
    }
  }
}

TEST_CASE("radiation - the table of a year holds the single days") {
  for (const double latitude : {-90.0, -20.0, 45.72, 70.0}) {
    const Column year = extraterrestrial_radiation_of_year_mj_m2_d(latitude * degrees);
    REQUIRE(year.size() == 366);
    for (int day = 1; day <= 366; ++day) {
      CHECK(year[day - 1] == extraterrestrial_radiation_mj_m2_d(latitude * degrees, day));
    }
  }
}

TEST_CASE("radiation - Eq. 21 written out agrees with the form used") {
  for (const double latitude : {-60.0, -20.0, 5.0, 50.8}) {
    const double phi = latitude * degrees;
    for (int day = 1; day <= 366; ++day) {
      const double delta = declination_rad(day);
      const double omega = sunset_hour_angle_rad(phi, day);
      const double ra = 24.0 * 60.0 / pi * 0.0820 * inverse_relative_distance(day) *
                        (omega * std::sin(phi) * std::sin(delta) +
                         std::cos(phi) * std::cos(delta) * std::sin(omega));
      CHECK(extraterrestrial_radiation_mj_m2_d(phi, day) == near(ra, 1e-12));
    }
  }
}

TEST_CASE("radiation - from sunshine and from temperature") {
  CHECK(radiation_from_sunshine(30.0, 0.0, 12.0, fao56_angstrom) == 7.5);
  CHECK(radiation_from_sunshine(30.0, 12.0, 12.0, fao56_angstrom) == 22.5);
  CHECK(radiation_from_sunshine(0.0, 0.0, 0.0, fao56_angstrom) == 0.0);  // polar night: no 0 / 0
  // Eq. 50: 0.16 sqrt(16) Ra, and never above Eq. 37.
  CHECK(radiation_from_temperature(30.0, 26.0, 10.0, 0.16, 0.0) == near(19.2, 1e-12));
  CHECK(radiation_from_temperature(30.0, 40.0, 4.0, 0.19, 500.0) == clear_sky_share(500.0) * 30.0);
  CHECK(radiation_from_temperature(30.0, 10.0, 10.0, 0.16, 0.0) == 0.0);
}

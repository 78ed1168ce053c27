#include "runnel/sky/sun.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "runnel/sky/radiation.hpp"
#include "support/near.hpp"

using namespace runnel;

namespace {

constexpr double pi = std::numbers::pi;
constexpr double degrees = pi / 180.0;

}  // namespace

TEST_CASE("sun - polar day, polar night and the poles themselves") {
  const int june = 172;
  const int december = 355;
  CHECK(sunset_hour_angle_rad(70.0 * degrees, june) == pi);
  CHECK(sunset_hour_angle_rad(70.0 * degrees, december) == 0.0);
  CHECK(sunset_hour_angle_rad(-70.0 * degrees, june) == 0.0);
  CHECK(sunset_hour_angle_rad(-70.0 * degrees, december) == pi);
  CHECK(daylight_hours(90.0 * degrees, june) == 24.0);
  CHECK(daylight_hours(90.0 * degrees, december) == 0.0);
  CHECK(daylight_hours(-90.0 * degrees, june) == 0.0);
  CHECK(extraterrestrial_radiation_mj_m2_d(70.0 * degrees, december) == 0.0);
  // At the pole the sun circles at the height of its declination: Ra = 24 h of it.
  const double at_pole =
      24.0 * 60.0 * 0.0820 * inverse_relative_distance(june) * std::sin(declination_rad(june));
  CHECK(extraterrestrial_radiation_mj_m2_d(90.0 * degrees, june) == near(at_pole, 1e-9));
}

TEST_CASE("sun - every day and latitude gives a finite, ordered day") {
  for (int latitude = -90; latitude <= 90; ++latitude) {
    for (int day = 1; day <= 366; ++day) {
      const double phi = latitude * degrees;
      CAPTURE(latitude);
      CAPTURE(day);
      const double hours = daylight_hours(phi, day);
      REQUIRE(hours >= 0.0);
      REQUIRE(hours <= 24.0);
      const double ra = extraterrestrial_radiation_mj_m2_d(phi, day);
      REQUIRE(ra >= 0.0);
      REQUIRE(ra < 50.0);
      REQUIRE((ra > 0.0) == (hours > 0.0));
    }
  }
}

TEST_CASE(
    "sun - the hemispheres mirror each other half a year apart, but for the distance of the sun") {
  const double phi = 35.0 * degrees;
  for (int day = 1; day <= 366; ++day) {
    // The same declination with the opposite sign is the same day on the other side.
    CHECK(daylight_hours(phi, day) + daylight_hours(-phi, day) == near(24.0, 1e-12));
  }
}

TEST_CASE("sun - solar noon is where the solar time angle is zero") {
  for (const double longitude : {-122.3, -9.14, 0.0, 77.6}) {
    for (int day = 1; day <= 366; day += 13) {
      const double noon = solar_noon_h(longitude, 5.5, day);
      CHECK(std::abs(solar_time_angle_rad(noon, longitude, 5.5, day)) < 1e-12);
    }
  }
  // Four minutes earlier for each degree further east.
  CHECK(solar_noon_h(10.0, 1.0, 100) - solar_noon_h(11.0, 1.0, 100) == near(4.0 / 60.0, 1e-12));
}

TEST_CASE("sun - elevation at sunset is zero and at noon 90 degrees less phi and delta") {
  const double phi = 40.0 * degrees;
  for (int day = 1; day <= 366; day += 7) {
    CHECK(std::abs(sun_elevation_rad(phi, day, sunset_hour_angle_rad(phi, day))) < 1e-12);
    CHECK(sun_elevation_rad(phi, day, 0.0) == near((pi / 2.0 - phi + declination_rad(day)), 1e-12));
  }
}

TEST_CASE("sun - share of the day's radiation is that of the hourly integral") {
  for (const double latitude : {-45.0, 0.0, 38.7, 66.0, 70.0}) {
    const double phi = latitude * degrees;
    for (const int day : {1, 80, 172, 266}) {
      const double ra = extraterrestrial_radiation_mj_m2_d(phi, day);
      double previous = 0.0;
      for (double omega = -pi; omega <= pi; omega += 0.1) {
        CAPTURE(latitude);
        CAPTURE(day);
        CAPTURE(omega);
        const double share = radiation_share_before(phi, day, omega);
        REQUIRE(share >= previous);
        REQUIRE(share <= 1.0);
        if (ra > 0.0) {
          REQUIRE(share * ra == near(extraterrestrial_radiation_mj_m2(phi, day, -pi, omega), 1e-9));
        }
        previous = share;
      }
      CHECK(radiation_share_before(phi, day, 0.0) == near(0.5, 1e-12));
      CHECK(radiation_share_before(phi, day, -pi) == 0.0);
      CHECK(radiation_share_before(phi, day, pi) == near(1.0, 1e-12));
    }
  }
}

TEST_CASE("sun - in the polar night the share is that of the 24 hours") {
  CHECK(radiation_share_before(80.0 * degrees, 355, -pi / 2.0) == near(0.25, 1e-12));
}

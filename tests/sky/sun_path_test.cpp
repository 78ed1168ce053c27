#include "runnel/sky/sun_path.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "runnel/sky/diffuse.hpp"
#include "runnel/sky/radiation.hpp"
#include "runnel/units/calendar.hpp"
#include "support/near.hpp"
#include "support/reference_rows.hpp"

using namespace runnel;

namespace {

constexpr double pi = std::numbers::pi;
constexpr double degrees = pi / 180.0;

double clock_hours(const std::string& text) {
  return std::stod(text.substr(0, 2)) + std::stod(text.substr(3, 2)) / 60.0 +
         std::stod(text.substr(6, 2)) / 3600.0;
}

/// Angle between two directions of the sky, degrees.
double apart_deg(const SunPosition& a, double elevation_deg, double azimuth_deg) {
  const double b = elevation_deg * degrees;
  const double cosine =
      std::sin(a.elevation_rad) * std::sin(b) +
      std::cos(a.elevation_rad) * std::cos(b) * std::cos(a.azimuth_rad - azimuth_deg * degrees);
  return std::acos(std::clamp(cosine, -1.0, 1.0)) / degrees;
}

}  // namespace

TEST_CASE("sun path - the triangle gives the published places of the sun") {
  // With the table's own declination and equation of time: their printed digits are what is left.
  const ReferenceRows rows("sun_positions.csv");
  int checked = 0;
  for (std::size_t row = 0; row < rows.size(); ++row) {
    if (rows.text(row, "declination_deg").empty()) continue;
    CAPTURE(rows.text(row, "id"));
    const double solar_h =
        clock_hours(rows.text(row, "clock")) + rows.number(row, "equation_of_time_min") / 60.0 +
        rows.number(row, "longitude_deg") / 15.0 - rows.number(row, "utc_offset_h");
    const SunPosition sun =
        sun_position(rows.number(row, "latitude_deg") * degrees,
                     rows.number(row, "declination_deg") * degrees, (solar_h - 12.0) * pi / 12.0);
    CHECK(sun.elevation_rad / degrees == near(rows.number(row, "elevation_deg"), 0.002));
    CHECK(sun.azimuth_rad / degrees == near(rows.number(row, "azimuth_deg"), 0.003));
    ++checked;
  }
  CHECK(checked == 8);
}

TEST_CASE("sun path - FAO-56 puts the sun within a degree and a half of the published places") {
  // Eq. 24 and 32 are a sine and three terms (libnova_test.cpp measures their declination to 1.39
  // degrees): the largest distance here is that of the autumn case.
  const ReferenceRows rows("sun_positions.csv");
  double largest_deg = 0.0;
  for (std::size_t row = 0; row < rows.size(); ++row) {
    CAPTURE(rows.text(row, "id"));
    const int day = day_of_year(*parse_date(rows.text(row, "date")));
    const double angle_rad = solar_time_angle_rad(clock_hours(rows.text(row, "clock")),
                                                  rows.number(row, "longitude_deg"),
                                                  rows.number(row, "utc_offset_h"), day);
    const SunPosition sun =
        sun_position(rows.number(row, "latitude_deg") * degrees, declination_rad(day), angle_rad);
    const double apart =
        apart_deg(sun, rows.number(row, "elevation_deg"), rows.number(row, "azimuth_deg"));
    CHECK(apart <= 1.5);
    largest_deg = std::max(largest_deg, apart);
  }
  CHECK(largest_deg > 0.5);  // not the same formulas
}

TEST_CASE("sun path - the elevation is that of the day of the year") {
  for (const double latitude : {-90.0, -35.0, 0.0, 66.0, 90.0}) {
    for (int day = 1; day <= 366; day += 30) {
      for (double angle = -pi; angle <= pi; angle += 0.3) {
        const SunPosition sun = sun_position(latitude * degrees, declination_rad(day), angle);
        CHECK(sun.elevation_rad == near(sun_elevation_rad(latitude * degrees, day, angle), 1e-7));
        CHECK(sun.azimuth_rad >= 0.0);
        CHECK(sun.azimuth_rad <= 2.0 * pi);
      }
    }
  }
  // Morning in the east, evening in the west, noon in the south of the north and the reverse.
  CHECK(sun_position(40.0 * degrees, 0.0, -pi / 2.0).azimuth_rad == near(pi / 2.0, 1e-12));
  CHECK(sun_position(40.0 * degrees, 0.0, pi / 2.0).azimuth_rad == near(3.0 * pi / 2.0, 1e-12));
  CHECK(sun_position(40.0 * degrees, 0.0, 0.0).azimuth_rad == near(pi, 1e-12));
  CHECK(sun_position(-40.0 * degrees, 0.0, 0.0).azimuth_rad == near(0.0, 1e-12));
}

TEST_CASE("sun path - its sum is the day's extraterrestrial radiation") {
  // FAO-56 Eq. 21 against sum of Gsc dr sin(elevation) over the steps.
  double largest = 0.0;
  for (int latitude = -90; latitude <= 90; latitude += 5) {
    for (int day = 1; day <= 365; day += 7) {
      const double phi = latitude * degrees;
      double sum = 0.0;
      for (const SunStep& step : sun_path(phi, declination_rad(day)))
        sum += std::sin(step.sun.elevation_rad) * (step.to_rad - step.from_rad);
      const double ra = sum * 12.0 * 60.0 / pi * 0.0820 * inverse_relative_distance(day);
      const double expected = extraterrestrial_radiation_mj_m2_d(phi, day);
      CAPTURE(latitude);
      CAPTURE(day);
      if (expected < 0.01) {
        CHECK(ra == near(expected, 1e-3));
        continue;
      }
      largest = std::max(largest, std::abs(ra / expected - 1.0));
    }
  }
  CHECK(largest < 0.005);
}

TEST_CASE("sun path - shares add up to 1 and both halves of the day are alike") {
  for (const double latitude : {-70.0, -35.0, 0.0, 50.0, 67.0}) {
    for (const int day : {1, 80, 172, 266, 355}) {
      CAPTURE(latitude);
      CAPTURE(day);
      const std::vector<SunStep> path = sun_path(latitude * degrees, declination_rad(day));
      if (path.empty()) {
        CHECK(sunset_hour_angle_rad(latitude * degrees, day) < 0.01);
        continue;
      }
      for (const double diffuse : {0.0, 0.175, 0.6, 1.0}) {
        const std::vector<double> beam = beam_shares(path, diffuse);
        double sum_beam = 0.0, sum_global = 0.0, sum_diffuse = 0.0;
        for (std::size_t i = 0; i < path.size(); ++i) {
          const std::size_t mirrored = path.size() - 1 - i;
          REQUIRE(beam[i] >= 0.0);
          REQUIRE(beam[i] == near(beam[mirrored], 1e-14));
          REQUIRE(path[i].to_rad - path[i].from_rad <= pi / 144.0 + 1e-12);
          sum_beam += beam[i];
          sum_global += path[i].global_share;
          sum_diffuse += path[i].diffuse_share;
        }
        CHECK(sum_beam == near(1.0, 1e-12));
        CHECK(sum_global == near(1.0, 1e-12));
        CHECK(sum_diffuse == near(1.0, 1e-12));
      }
    }
  }
  CHECK(sun_path(70.0 * degrees, declination_rad(355)).empty());
}

TEST_CASE("sun path - shares have the published shapes") {
  for (const double latitude : {-60.0, -20.0, 0.0, 38.7, 64.0}) {
    for (const int day : {10, 100, 172, 300}) {
      CAPTURE(latitude);
      CAPTURE(day);
      const double sunset = sunset_hour_angle_rad(latitude * degrees, day);
      double global = 0.0, diffuse = 0.0;
      const std::vector<SunStep> path = sun_path(latitude * degrees, declination_rad(day));
      for (const SunStep& step : path) {
        const double middle = 0.5 * (step.from_rad + step.to_rad);
        global += global_share_per_h(sunset, middle);
        diffuse += diffuse_share_per_h(sunset, middle);
      }
      for (const SunStep& step : path) {
        const double middle = 0.5 * (step.from_rad + step.to_rad);
        REQUIRE(step.global_share == near(global_share_per_h(sunset, middle) / global, 1e-12));
        REQUIRE(step.diffuse_share == near(diffuse_share_per_h(sunset, middle) / diffuse, 1e-12));
      }
    }
  }
}

TEST_CASE("sun path - at the pole no hour is brighter than another") {
  const std::vector<SunStep> path = sun_path(pi / 2.0, declination_rad(172));
  REQUIRE(path.size() == 288);
  for (const SunStep& step : path) REQUIRE(step.global_share == near(1.0 / 288.0, 1e-12));
}

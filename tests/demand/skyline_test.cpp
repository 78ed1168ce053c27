#include "runnel/demand/skyline.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include "runnel/sky/sun.hpp"
#include "support/near.hpp"
#include "support/reference_rows.hpp"

namespace runnel {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double degrees = pi / 180.0;

Skyline all_round(double height_deg) {
  Skyline skyline;
  add_obstruction(skyline, {.from_deg = 0.0, .to_deg = 360.0, .height_deg = height_deg});
  return skyline;
}

Obstruction long_wall(double from_deg, double to_deg, double height_over_distance) {
  return {.from_deg = from_deg,
          .to_deg = to_deg,
          .height_deg = std::atan(height_over_distance) / degrees,
          .wall = true};
}

/// Minutes of the day in which the sun is above the skyline and between the two time angles, or
/// outside them.
double sunny_minutes(const Skyline& skyline, double latitude_rad, double declination_rad,
                     double from_rad, double to_rad) {
  const double sunset = sunset_hour_angle_at_rad(latitude_rad, declination_rad);
  double minutes = 0.0;
  constexpr double step = pi / 7200.0;  // a tenth of a minute
  for (double w = -sunset + 0.5 * step; w < sunset; w += step) {
    if (w < from_rad || w >= to_rad) continue;
    const SunPosition sun = sun_position(latitude_rad, declination_rad, w);
    if (sun.elevation_rad > skyline.height_at_rad(sun.azimuth_rad)) minutes += 0.1;
  }
  return minutes;
}

}  // namespace

TEST_SUITE("exposure") {
  TEST_CASE("sky view of walls and canyons is the published one") {
    const ReferenceRows rows("diffuse_light.csv");
    int checked = 0;
    for (std::size_t row = 0; row < rows.size(); ++row) {
      const std::string check = rows.text(row, "check");
      const bool canyon = check == "canyon_view";
      if (!canyon && check != "one_wall_view") continue;
      CAPTURE(rows.text(row, "id"));
      Skyline skyline;
      add_obstruction(skyline, long_wall(300.0, 120.0, rows.number(row, "first")));
      if (canyon) add_obstruction(skyline, long_wall(120.0, 300.0, rows.number(row, "first")));
      CHECK(sky_view(skyline, 0.0, 0.0) ==
            near(rows.number(row, "expected"), rows.number(row, "tolerance")));
      ++checked;
    }
    CHECK(checked == 10);
  }

  TEST_CASE("sky view of basins and slopes is the published one") {
    for (const double b : {0.0, 10.0, 35.0, 60.0, 89.0}) {
      const double cosine = std::cos(b * degrees);
      CHECK(sky_view(all_round(b), 0.0, 0.0) == near(cosine * cosine, 1e-12));
    }
    CHECK(sky_view(Skyline{}, 0.0, 1.0) == 1.0);  // exactly
    // (1 + cos s)/2, Liu and Jordan 1963 (from memory); one degree of azimuth is coarse enough to
    // show in the sixth digit.
    for (const double slope : {5.0, 15.0, 30.0, 45.0}) {
      CHECK(sky_view(Skyline{}, slope * degrees, 2.0) ==
            near((1.0 + std::cos(slope * degrees)) / 2.0, 1e-5));
    }
    // A bank with a ridge at its back as high as its own plane loses nothing more; one in front
    // does.
    Skyline behind;
    add_obstruction(behind, {.from_deg = 359.0, .to_deg = 1.0, .height_deg = 29.0});
    CHECK(sky_view(behind, 30.0 * degrees, pi) ==
          near(sky_view(Skyline{}, 30.0 * degrees, pi), 1e-12));
    CHECK(sky_view(behind, 30.0 * degrees, 0.0) < sky_view(Skyline{}, 30.0 * degrees, 0.0) - 1e-4);
  }

  TEST_CASE("obstructions pass through north and the higher counts") {
    Skyline skyline;
    add_obstruction(skyline, {.from_deg = 350.0, .to_deg = 20.0, .height_deg = 30.0});
    add_obstruction(skyline, {.from_deg = 10.0, .to_deg = 40.0, .height_deg = 12.0});
    CHECK(skyline.height_at_rad(355.5 * degrees) == near(30.0 * degrees, 1e-12));
    CHECK(skyline.height_at_rad(15.5 * degrees) == near(30.0 * degrees, 1e-12));
    CHECK(skyline.height_at_rad(30.5 * degrees) == near(12.0 * degrees, 1e-12));
    CHECK(skyline.height_at_rad(41.0 * degrees) == 0.0);
    CHECK(skyline.height_at_rad(349.0 * degrees) == 0.0);
    CHECK(skyline.height_at_rad(2.0 * pi) == skyline.height_at_rad(0.0));
  }

  TEST_CASE("a straight wall falls off to its sides") {
    // 3 m high, 2 m away, seen from 45 to 135 degrees: at 45 degrees off it is 2 sqrt(2) m away.
    Skyline skyline;
    add_obstruction(skyline, long_wall(45.0, 135.0, 1.5));
    CHECK(skyline.height_at_rad(90.2 * degrees) ==
          near(std::atan(1.5 * std::cos(0.5 * degrees)), 1e-12));
    CHECK(skyline.height_at_rad(45.2 * degrees) ==
          near(std::atan(1.5 * std::cos(44.5 * degrees)), 1e-12));
  }

  TEST_CASE("the lowest skyline reproduces what was seen") {
    const double phi = 38.72 * degrees;
    const double delta = declination_rad(166);
    // Sun from 7:00 to 11:30 solar time.
    const SunHours seen{-5.0 * pi / 12.0, -0.5 * pi / 12.0};
    const Skyline skyline = lowest_skyline(phi, {{.declination_rad = delta, .seen = {seen}}});
    CHECK(sunny_minutes(skyline, phi, delta, seen.from_rad, seen.to_rad) == near(270.0, 4.0));
    CHECK(sunny_minutes(skyline, phi, delta, -pi, seen.from_rad) < 2.0);
    CHECK(sunny_minutes(skyline, phi, delta, seen.to_rad, pi) < 2.0);
    // The lowest: no more than the margin (and what the sun climbs in a degree of azimuth) above
    // the afternoon's path.
    for (double w = 0.1; w < 1.5; w += 0.1) {
      const SunPosition sun = sun_position(phi, delta, w);
      CHECK(skyline.height_at_rad(sun.azimuth_rad) ==
            near(sun.elevation_rad + skyline_margin_deg * degrees, 1.5 * degrees));
    }
    // North was not visited: the mean of the other directions.
    double sum = 0.0;
    int visited = 0;
    const double unseen = skyline.height_at_rad(0.01);
    for (const double height : skyline.height_rad) {
      if (height == unseen) continue;
      sum += height;
      ++visited;
    }
    CHECK(visited > 200);
    CHECK(unseen == near(sum / visited, 1e-9));
  }

  TEST_CASE("what hid the sun hides it on the days around too") {
    const double phi = 38.72 * degrees;
    const SunHours seen{-5.0 * pi / 12.0, -0.5 * pi / 12.0};
    const Skyline skyline =
        lowest_skyline(phi, {{.declination_rad = declination_rad(166), .seen = {seen}}});
    for (int day = 152; day <= 195; ++day) {
      CAPTURE(day);
      CHECK(sunny_minutes(skyline, phi, declination_rad(day), -pi, pi) == near(270.0, 20.0));
    }
  }

  TEST_CASE("sun all day is open and no sun at all hides every day of the half year") {
    const double phi = 50.0 * degrees;
    const double delta = declination_rad(172);
    CHECK(lowest_skyline(phi, {{.declination_rad = delta, .seen = {{-pi, pi}}}}).height_rad ==
          Skyline{}.height_rad);
    const Skyline none = lowest_skyline(phi, {{.declination_rad = delta, .seen = {}}});
    for (int day = 1; day <= 365; day += 13)
      CHECK(sunny_minutes(none, phi, declination_rad(day), -pi, pi) < 2.0);
    CHECK(lowest_skyline(80.0 * degrees, {{.declination_rad = -0.4, .seen = {}}}).height_rad ==
          Skyline{}.height_rad);  // polar night: nothing is known
  }

  TEST_CASE("a second date adds what the first could not know") {
    const double phi = 50.0 * degrees;
    const double june = declination_rad(166);
    const double december = declination_rad(349);
    // A house to the south: June's sun passes over it, December's does not.
    const SunObservation summer{.declination_rad = june, .seen = {{-pi, pi}}};
    const SunObservation winter{.declination_rad = december, .seen = {}};
    const Skyline skyline = lowest_skyline(phi, {summer, winter});
    CHECK(sunny_minutes(skyline, phi, june, -pi, pi) ==
          near(2.0 * sunset_hour_angle_at_rad(phi, june) * 720.0 / pi, 2.0));
    CHECK(sunny_minutes(skyline, phi, december, -pi, pi) < 2.0);
    CHECK(skyline.height_at_rad(pi) ==
          near((16.6 + 1.5) * degrees, 0.3 * degrees));  // 90 - 50 - 23.4
  }

  TEST_CASE("an overhang hides the high sun and not the low one") {
    // Morning and evening seen and noon hidden, at a latitude where no direction comes twice.
    const double phi = 50.0 * degrees;
    const double delta = declination_rad(80);
    const Skyline skyline = lowest_skyline(
        phi, {{.declination_rad = delta, .seen = {{-pi, -pi / 6.0}, {pi / 6.0, pi}}}});
    CHECK(sunny_minutes(skyline, phi, delta, -pi, -pi / 6.0) == near(240.0, 6.0));
    CHECK(sunny_minutes(skyline, phi, delta, -pi / 6.0, pi / 6.0) < 6.0);
  }

  TEST_CASE("the sun overhead tells nothing of the directions it leaps over") {
    // Seen from the equator the sun of the equinox stands east, then west; here hidden from noon
    // on.
    const Skyline skyline = lowest_skyline(0.0, {{.declination_rad = 0.0, .seen = {{-pi, 0.0}}}});
    const auto [low, high] =
        std::minmax_element(skyline.height_rad.begin(), skyline.height_rad.end());
    CHECK(*low < 1.0 * degrees);
    CHECK(*high > 85.0 * degrees);
    const double unseen = skyline.height_at_rad(0.0);
    CHECK(unseen == near(45.0 * degrees, 15.0 * degrees));
    for (const double azimuth_deg : {45.0, 135.0, 180.0, 225.0, 315.0})
      CHECK(skyline.height_at_rad(azimuth_deg * degrees) == unseen);
  }

  TEST_CASE("stretches of the day count to their ends") {
    const std::vector<SunHours> hours{{-1.0, -0.5}, {0.25, 0.75}};
    CHECK(share_within({-1.0, -0.5}, hours) == near(1.0, 1e-12));
    CHECK(share_within({-1.5, -0.5}, hours) == near(0.5, 1e-12));
    CHECK(share_within({-1.0, 1.0}, hours) == near(0.5, 1e-12));
    CHECK(share_within({-0.4, 0.2}, hours) == 0.0);
    CHECK(share_within({-0.4, 0.2}, {}) == 0.0);
    // Before midnight of the day before is this day's evening.
    CHECK(share_within({pi - 0.2, pi}, {{-pi - 0.2, -pi}}) == near(1.0, 1e-9));
  }
}

}  // namespace runnel

// Expected figures: tests/reference/diffuse_light.csv, computed from the published formulas apart
// from this program; its skyline rows are checked in tests/demand/skyline_test.cpp.

#include "runnel/sky/diffuse.hpp"

#include <doctest/doctest.h>

#include <numbers>
#include <string>

#include "support/near.hpp"
#include "support/reference_rows.hpp"

using namespace runnel;

namespace {

constexpr double pi = std::numbers::pi;
constexpr double degrees = pi / 180.0;

double sum_of_mid_hours(double sunset_rad) {
  double sum = 0.0;
  for (int hour = 0; hour < 24; ++hour)
    sum += global_share_per_h(sunset_rad, (hour - 11.5) * 15.0 * degrees);
  return sum;
}

}  // namespace

TEST_CASE("diffuse - the published correlations") {
  const ReferenceRows rows("diffuse_light.csv");
  int hourly = 0;
  int daily = 0;
  int global = 0;
  for (std::size_t row = 0; row < rows.size(); ++row) {
    const std::string check = rows.text(row, "check");
    CAPTURE(rows.text(row, "id"));
    const auto expected = near(rows.number(row, "expected"), rows.number(row, "tolerance"));
    const double first = rows.number(row, "first");
    if (check == "hourly_diffuse") {
      CHECK(hourly_diffuse_share(first) == expected);
      ++hourly;
    } else if (check == "daily_diffuse") {
      CHECK(daily_diffuse_share(first, rows.number(row, "second") * degrees) == expected);
      ++daily;
    } else if (check == "global_share") {
      CHECK(global_share_per_h(first * degrees, rows.number(row, "second") * degrees) == expected);
      ++global;
    } else if (check == "global_sum") {
      CHECK(sum_of_mid_hours(first * degrees) == expected);
      ++global;
    }
  }
  CHECK(hourly == 10);
  CHECK(daily == 6);
  CHECK(global == 11);
}

TEST_CASE("diffuse - shares stay shares at the ends of the curves") {
  for (double k = -0.5; k <= 1.5; k += 0.001) {
    for (const double sunset_deg : {0.0, 60.0, 81.4, 81.5, 120.0, 180.0}) {
      const double daily = daily_diffuse_share(k, sunset_deg * degrees);
      REQUIRE(daily > 0.0);
      REQUIRE(daily <= 1.0);
    }
    REQUIRE(hourly_diffuse_share(k) > 0.0);
    REQUIRE(hourly_diffuse_share(k) <= 1.0);
  }
  CHECK(daily_diffuse_share(0.0, 90.0 * degrees) == 1.0);
  CHECK(daily_diffuse_share(0.72, 75.0 * degrees) == 0.143);
  CHECK(daily_diffuse_share(0.73, 90.0 * degrees) == 0.175);
}

TEST_CASE("diffuse - nothing comes while the sun is down") {
  for (const double sunset_deg : {0.0, 1e-9, 45.0, 90.0, 135.0}) {
    const double sunset_rad = sunset_deg * degrees;
    for (const double hour_deg : {sunset_deg, -sunset_deg, sunset_deg + 1.0, 180.0}) {
      CHECK(global_share_per_h(sunset_rad, hour_deg * degrees) == 0.0);
      CHECK(diffuse_share_per_h(sunset_rad, hour_deg * degrees) == 0.0);
    }
  }
  // Polar day: light at midnight but for the lowest point itself.
  CHECK(global_share_per_h(pi, 170.0 * degrees) > 0.0);
}

TEST_CASE("diffuse - the diffuse day is the shape of extraterrestrial radiation") {
  // Liu and Jordan take it so: the mean share over an hour is that of the integral of the shape,
  // (sin w2 - sin w1 - (w2 - w1) cos ws) / (2 (sin ws - ws cos ws)).
  for (const double sunset_deg : {60.0, 90.0, 110.0}) {
    const double ws = sunset_deg * degrees;
    double sum = 0.0;
    constexpr int steps = 3000;
    for (int i = 0; i < steps; ++i)
      sum += diffuse_share_per_h(ws, ws * (2.0 * (i + 0.5) / steps - 1.0));
    CHECK(sum * 2.0 * sunset_deg / 15.0 / steps == near(1.0, 1e-6));
  }
}

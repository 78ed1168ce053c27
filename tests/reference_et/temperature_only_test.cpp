#include "runnel/reference_et/temperature_only.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "support/near.hpp"

using namespace runnel;

namespace {

Column one(double value) { return Column::Constant(1, value); }

}  // namespace

TEST_CASE("temperature-only ET - Eq. 52") {
  using namespace std::chrono;
  // FAO-56 Example 15's place, day and temperatures: Ra is 40.6 MJ m-2 d-1 (40.5546 in full). Eq.
  // 52 by hand: 0.0023 x (20.7 + 17.8) x sqrt(11.8) x 0.408 x 40.5546 = 5.033 mm/d.
  const Site place{.latitude_deg = 45.72, .longitude_deg = 4.8, .elevation_m = 200.0};
  const Column eto =
      temperature_eto_mm_d(local_days{year{2027} / July / 15}, one(26.6), one(14.8), place);
  CHECK(eto[0] == near(5.033, 0.0005));
}

TEST_CASE("temperature-only ET - never negative, none in the polar night") {
  using namespace std::chrono;
  const Site north{.latitude_deg = 78.0, .longitude_deg = 15.0, .elevation_m = 0.0};
  CHECK(temperature_eto_mm_d(local_days{year{2027} / April / 1}, one(-25.0), one(-35.0),
                             north)[0] == 0.0);
  CHECK(temperature_eto_mm_d(local_days{year{2027} / December / 21}, one(2.0), one(-3.0),
                             north)[0] == 0.0);
}

TEST_CASE("temperature-only ET - refuses what has no root") {
  using namespace std::chrono;
  const Date first = local_days{year{2027} / July / 15};
  const Site place{.latitude_deg = 45.0, .longitude_deg = 0.0, .elevation_m = 0.0};
  CHECK_THROWS_AS(static_cast<void>(temperature_eto_mm_d(first, one(10.0), one(12.0), place)),
                  std::invalid_argument);
  CHECK_THROWS_AS(
      static_cast<void>(temperature_eto_mm_d(first, one(std::nan("")), one(2.0), place)),
      std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(temperature_eto_mm_d(first, one(10.0), Column(2), place)),
                  std::invalid_argument);
}

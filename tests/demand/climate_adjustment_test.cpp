#include "runnel/demand/climate_adjustment.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"

namespace runnel {

// The published rows (FAO-56 Examples 27, 29, Box 15, Eq. 68) are checked in tests/reference.
TEST_SUITE("demand/climate adjustment") {
  TEST_CASE("the standard climate changes nothing") {
    const Climate standard{.u2_m_s = 2.0, .rh_min_pct = 45.0};
    for (const double height_m : {0.1, 1.0, 8.0}) {
      CHECK(adjusted_kc(1.05, standard, height_m) == 1.05);
      CHECK(adjusted_kc_end(0.75, standard, height_m) == 0.75);
    }
    CHECK(alfalfa_over_grass(standard) == 1.2);
  }

  // FAO-56 Eq. 62: valid for wind of 1-6 m/s, RHmin of 20-80 % and height of 0.1-10 m.
  TEST_CASE("wind, humidity and height count within their ranges only") {
    const auto kc = [](double u2, double rh, double h) {
      return adjusted_kc(1.0, {.u2_m_s = u2, .rh_min_pct = rh}, h);
    };
    CHECK(kc(0.0, 45.0, 3.0) == kc(1.0, 45.0, 3.0));
    CHECK(kc(9.0, 45.0, 3.0) == kc(6.0, 45.0, 3.0));
    CHECK(kc(2.0, 5.0, 3.0) == kc(2.0, 20.0, 3.0));
    CHECK(kc(2.0, 95.0, 3.0) == kc(2.0, 80.0, 3.0));
    CHECK(kc(4.0, 45.0, 0.0) == kc(4.0, 45.0, 0.1));
    CHECK(kc(4.0, 45.0, 30.0) == kc(4.0, 45.0, 10.0));
    CHECK(kc(6.0, 20.0, 3.0) == near(1.0 + 0.16 + 0.1, 1e-12));  // by hand: (h/3)^0.3 is 1
    CHECK(kc(1.0, 80.0, 3.0) == near(1.0 - 0.04 - 0.14, 1e-12));
  }

  TEST_CASE("an end below 0.45 stays - FAO-56 Eq. 65") {
    const Climate windy{.u2_m_s = 5.0, .rh_min_pct = 25.0};
    CHECK(adjusted_kc_end(0.44, windy, 2.0) == 0.44);
    CHECK(adjusted_kc_end(0.45, windy, 2.0) == adjusted_kc(0.45, windy, 2.0));
    CHECK(adjusted_kc_end(0.45, windy, 2.0) > 0.45);
  }
}

}  // namespace runnel

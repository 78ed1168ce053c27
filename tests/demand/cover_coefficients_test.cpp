#include "runnel/demand/cover_coefficients.hpp"

#include <doctest/doctest.h>

#include <numbers>
#include <stdexcept>

#include "runnel/demand/crop_et.hpp"
#include "support/near.hpp"

namespace runnel {

// The published rows (FAO-56 Examples 41, 43-45) are checked in tests/reference.
TEST_SUITE("demand/cover coefficients") {
  TEST_CASE("Kcb rises with cover from bare ground to full cover - FAO-56 Eq. 98") {
    const auto kcb = [](double cover) {
      return kcb_from_cover({.cover = cover,
                             .effective_cover = cover,
                             .height_m = 0.5,
                             .kcb_full = 1.1,
                             .kc_min = 0.15});
    };
    CHECK(kcb(0.0) == 0.15);
    CHECK(kcb(1.0) == near(1.1, 1e-12));
    double before = 0.0;
    for (double cover = 0.0; cover <= 1.0; cover += 0.05) {
      CHECK(kcb(cover) >= before);
      before = kcb(cover);
    }
  }

  TEST_CASE("Kcb from leaf area - FAO-56 Eq. 97") {
    CHECK(kcb_from_leaf_area(0.0, 1.1, 0.15) == 0.15);
    CHECK(kcb_from_leaf_area(3.0, 1.15, 0.15) == near(1.15 - 0.122456, 1e-6));  // exp(-2.1)
  }

  TEST_CASE("shadows widen the cover, to the whole ground at most - FAO-56 Box 18") {
    constexpr double half_up = std::numbers::pi / 4.0;
    CHECK(effective_cover(0.3, 1.0, half_up) == near(0.6, 1e-12));
    CHECK(effective_cover(0.7, 1.0, half_up) == 1.0);
    CHECK(effective_cover(0.3, 0.0, half_up) == 0.3);
  }

  TEST_CASE("leaves of 100 s/m need no correction - FAO-56 Eq. 102") {
    CHECK(leaf_resistance_factor({.delta_kpa_c = 0.2,
                                  .gamma_kpa_c = 0.067,
                                  .u2_m_s = 2.0,
                                  .leaf_resistance_s_m = 100.0}) == 1.0);
  }

  TEST_CASE("a pan without a day is refused, a full harvest had no stress") {
    CHECK_THROWS_AS((void)mean_pan_eto_mm_d(Column(), 0.8), std::invalid_argument);
    CHECK(ks_from_yield(1.0, 1.15) == 1.0);
  }
}

}  // namespace runnel

#include "runnel/soil/root_zone.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"

namespace runnel {

// The published rows of Examples 36-38 and of the p adjustment are checked in tests/reference.
TEST_SUITE("soil/root zone") {
  TEST_CASE("Ks is 1 up to RAW and falls to 0 at TAW - FAO-56 Eq. 84") {
    CHECK(stress_coefficient(0.0, 60.0, 0.5) == 1.0);
    CHECK(stress_coefficient(30.0, 60.0, 0.5) == 1.0);
    CHECK(stress_coefficient(45.0, 60.0, 0.5) == near(0.5, 1e-12));
    CHECK(stress_coefficient(60.0, 60.0, 0.5) == 0.0);
    CHECK(stress_coefficient(70.0, 60.0, 0.5) == 0.0);
    CHECK(stress_coefficient(-5.0, 60.0, 0.5) == 1.0);
  }

  TEST_CASE("p stays within 0.1 and 0.8 and falls with demand") {
    double before = 1.0;
    for (double etc_mm = 0.0; etc_mm < 20.0; etc_mm += 0.5) {
      const double p = adjusted_p(0.5, etc_mm);
      CHECK(p >= 0.1);
      CHECK(p <= 0.8);
      CHECK(p <= before);
      before = p;
    }
  }
}

}  // namespace runnel

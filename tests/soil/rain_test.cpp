#include "runnel/soil/rain.hpp"

#include <doctest/doctest.h>

#include <limits>

#include "support/near.hpp"

namespace runnel {

TEST_SUITE("soil/rain") {
  // USDA NRCS TR-55 (1986): Q = (P - 0.2 S)^2 / (P + 0.8 S), S = 25400/CN - 254 mm, worked to three
  // decimals.
  TEST_CASE("curve number runoff - worked values") {
    CHECK(curve_number_runoff_mm(25.0, 61.0) == 0.0);
    CHECK(curve_number_runoff_mm(25.0, 74.0) == near(0.531, 0.0005));
    CHECK(curve_number_runoff_mm(50.0, 61.0) == near(1.706, 0.0005));
    CHECK(curve_number_runoff_mm(50.0, 74.0) == near(8.515, 0.0005));
    CHECK(curve_number_runoff_mm(50.0, 80.0) == near(13.802, 0.0005));
    CHECK(curve_number_runoff_mm(75.0, 39.0) == 0.0);
    CHECK(curve_number_runoff_mm(100.0, 86.0) == near(63.229, 0.0005));
    CHECK(curve_number_runoff_mm(40.0, 100.0) == near(40.0, 1e-12));
  }

  TEST_CASE("runoff grows with rain and never exceeds it") {
    for (const double cn : {30.0, 61.0, 80.0, 98.0}) {
      double before_mm = 0.0;
      for (double rain_mm = 0.0; rain_mm < 200.0; rain_mm += 1.0) {
        const double runoff_mm = curve_number_runoff_mm(rain_mm, cn);
        CHECK(runoff_mm >= before_mm);
        CHECK(runoff_mm <= rain_mm);
        before_mm = runoff_mm;
      }
    }
  }

  TEST_CASE("rain below a fifth of ETo is ignored - FAO-56 chapter 8") {
    Lanes rain(1, 3), eto = Lanes::Constant(1, 3, 5.0);
    rain << 0.99, 1.0, 7.0;
    const RainOnZone got = rain_on_zone(rain, eto, 1.0, 0.0);
    CHECK(got.entering_mm(0, 0) == 0.0);
    CHECK(got.entering_mm(0, 1) == 1.0);
    CHECK(got.entering_mm(0, 2) == 7.0);
    CHECK(got.runoff_mm.sum() == 0.0);
  }

  TEST_CASE("what reaches the zone either enters or runs off") {
    Lanes rain(2, 2), eto = Lanes::Constant(2, 2, 4.0);
    rain << 50.0, 10.0, 100.0, 0.0;
    const RainOnZone got = rain_on_zone(rain, eto, 0.5, 86.0);
    CHECK(((got.entering_mm + got.runoff_mm) == 0.5 * rain).all());
    CHECK(got.runoff_mm(1, 0) == curve_number_runoff_mm(50.0, 86.0));
  }

  TEST_CASE("broken preconditions throw") {
    const Lanes one = Lanes::Ones(1, 1);
    CHECK_THROWS_AS((void)curve_number_runoff_mm(10.0, 29.0), std::invalid_argument);
    CHECK_THROWS_AS((void)curve_number_runoff_mm(10.0, 101.0), std::invalid_argument);
    CHECK_THROWS_AS((void)curve_number_runoff_mm(10.0, std::numeric_limits<double>::quiet_NaN()),
                    std::invalid_argument);
    CHECK_THROWS_AS((void)rain_on_zone(one, Lanes::Ones(1, 2), 1.0, 0.0), std::invalid_argument);
    CHECK_THROWS_AS((void)rain_on_zone(one, one, 1.1, 0.0), std::invalid_argument);
    CHECK_THROWS_AS((void)rain_on_zone(one, one, -0.1, 0.0), std::invalid_argument);
  }
}

}  // namespace runnel

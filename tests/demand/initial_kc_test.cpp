#include "runnel/demand/initial_kc.hpp"

#include <doctest/doctest.h>

#include <stdexcept>

#include "support/near.hpp"

namespace runnel {

// The published rows (FAO-56 Examples 23-25 and 7-1) are checked in tests/reference.
TEST_SUITE("demand/initial Kc") {
  // What the paper reads off its graphs, to the half of 0.1 that a graph allows, by the equations
  // behind them (FAO-56 Examples 24, 25, Box 15, Annex 7).
  TEST_CASE("graph readings of FAO-56") {
    CHECK(initial_kc(lightly_wetted(4.0), 4.0, 2.0) == near(0.85, 0.05));
    CHECK(initial_kc(lightly_wetted(5.0), 5.0, 3.5) == near(0.55, 0.05));
    CHECK(initial_kc(lightly_wetted(5.3), 5.3, 14.0) == near(0.15, 0.05));
    // Figure 30a read as 0.70; the equation, evaluated in Example 7-1, gives 0.75.
    CHECK(initial_kc(heavily_wetted(5.0, WettedSoil::coarse), 5.0, 3.5) == near(0.75, 0.005));
  }

  TEST_CASE("wetted again within the first stage - FAO-56 Eq. 7-4") {
    CHECK(initial_kc(heavily_wetted(3.0, WettedSoil::medium_or_fine), 3.0, 1.0) == 1.15);
  }

  // FAO-56 Example 26 (from memory): as Example 24, by trickle, 12 mm every 2 days on 0.4 of the
  // ground: 30 mm there, 0.4 x 1.05 read from the graphs = 0.42.
  TEST_CASE("wetted in part - FAO-56 Eq. 60 and 61") {
    CHECK(partly_wetted_initial_kc(4.0, 2.0, 12.0, WettedSoil::medium_or_fine, 0.4) ==
          near(0.42, 0.02));
    CHECK(partly_wetted_initial_kc(4.0, 2.0, 12.0, WettedSoil::medium_or_fine, 1.0) ==
          initial_kc(4.0, 2.0, 12.0, WettedSoil::medium_or_fine));
  }

  TEST_CASE("rarer wettings never raise it, and it stays within 0 and 1.15") {
    for (const double eto : {1.0, 3.0, 6.0, 10.0}) {
      for (const double depth_mm : {3.0, 10.0, 25.0, 40.0, 60.0}) {
        double before = 1.15;
        for (double days = 0.5; days < 40.0; days += 0.5) {
          const double kc = initial_kc(eto, days, depth_mm, WettedSoil::medium_or_fine);
          CHECK(kc > 0.0);
          CHECK(kc <= before + 1e-12);
          before = kc;
        }
      }
    }
  }

  TEST_CASE("between light and heavy - FAO-56 Eq. 59") {
    CHECK(interpolated_initial_kc(25.0, 0.4, 0.8) == near(0.6, 1e-12));
    CHECK(interpolated_initial_kc(5.0, 0.4, 0.8) == 0.4);
    CHECK(interpolated_initial_kc(90.0, 0.4, 0.8) == near(0.8, 1e-12));
    CHECK_THROWS_AS((void)partly_wetted_initial_kc(5.0, 3.0, 15.0, WettedSoil::coarse, 0.0),
                    std::invalid_argument);
    CHECK_THROWS_AS((void)partly_wetted_initial_kc(5.0, 3.0, 15.0, WettedSoil::coarse, 1.1),
                    std::invalid_argument);
    CHECK_THROWS_AS((void)initial_kc(0.0, 1.0, 1.0, WettedSoil::coarse), std::invalid_argument);
    CHECK_THROWS_AS((void)initial_kc(5.0, 0.0, 1.0, WettedSoil::coarse), std::invalid_argument);
    CHECK_THROWS_AS((void)initial_kc(5.0, 1.0, -1.0, WettedSoil::coarse), std::invalid_argument);
  }
}

}  // namespace runnel

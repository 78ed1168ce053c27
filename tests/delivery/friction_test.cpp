#include "runnel/delivery/friction.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <stdexcept>

#include "support/near.hpp"

using namespace runnel;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double kpa_per_psi = 6.894757;
constexpr double l_h_per_gpm = 227.1247;  // 231 in3/min
constexpr double m_per_inch = 0.0254;
constexpr double m_per_foot = 0.3048;

}  // namespace

// psi per ft = 4.52 Q^1.852 / (C^1.852 d^4.87), Q gpm, d in: the form of NFPA and irrigation texts.
TEST_CASE("friction - agrees with the formula in US units") {
  for (const double gpm : {0.5, 2.0, 10.0, 40.0}) {
    for (const double inches : {0.5, 0.622, 1.049, 2.0}) {
      for (const double c : {100.0, 130.0, 150.0}) {
        const double us_psi = 4.52 * std::pow(gpm / c, 1.852) / std::pow(inches, 4.87) * 100.0;
        const Pipe pipe{.length_m = 100.0 * m_per_foot,
                        .inside_diameter_m = inches * m_per_inch,
                        .roughness_c = c};
        const double psi =
            friction_loss_kpa(pipe, Flow::litres_per_hour(gpm * l_h_per_gpm)) / kpa_per_psi;
        CHECK(psi / us_psi == near(1.0, 0.001));
      }
    }
  }
}

// The same equal flows, segment by segment: what Christiansen's factor stands for.
TEST_CASE("friction - Christiansen's factor is the sum over the outlets") {
  for (const int outlets : {2, 3, 5, 10, 30, 100}) {
    const double n = outlets;
    double share = 0.0;
    for (int k = 1; k <= outlets; ++k) share += std::pow(k / n, 1.852) / n;
    CHECK(christiansen_factor(outlets) == near(share, 0.001));
  }
}

TEST_CASE("friction - nothing flows and nothing is lost") {
  CHECK(friction_loss_kpa({.length_m = 10.0, .inside_diameter_m = 0.0136, .roughness_c = 140.0},
                          Flow::litres_per_hour(0.0)) == 0.0);
}

// Utah State University Extension, Drip Irrigation for Trees: 0.433 psi per foot.
TEST_CASE("friction - weight of water") {
  CHECK(kpa_per_metre_of_water * m_per_foot / kpa_per_psi == near(0.433, 0.001));
}

TEST_CASE("friction - unusable figures are refused") {
  const Flow flow = Flow::litres_per_hour(100.0);
  const auto refused = [](const Pipe& pipe, Flow through) {
    CHECK_THROWS_AS((void)friction_loss_kpa(pipe, through), std::invalid_argument);
  };
  refused({.length_m = 0.0, .inside_diameter_m = 0.0136, .roughness_c = 140.0}, flow);
  refused({.length_m = 10.0, .inside_diameter_m = not_a_number, .roughness_c = 140.0}, flow);
  refused({.length_m = 10.0, .inside_diameter_m = 0.0136, .roughness_c = -1.0}, flow);
  refused({.length_m = 10.0, .inside_diameter_m = 0.0136, .roughness_c = 140.0},
          Flow::litres_per_hour(-1.0));
  CHECK_THROWS_AS((void)christiansen_factor(0), std::invalid_argument);
}

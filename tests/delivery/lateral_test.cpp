#include "runnel/delivery/lateral.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>

#include "runnel/delivery/friction.hpp"
#include "support/near.hpp"

using namespace runnel;

namespace {

/// 13.6 mm polyethylene, an emitter of 2 L/h at 1 bar every 30 cm.
Lateral dripline(int emitters, double exponent) {
  return {
      .emitter = {.rated = Flow::litres_per_hour(2.0), .rated_kpa = 100.0, .exponent = exponent},
      .emitters = emitters,
      .spacing_m = 0.3,
      .inside_diameter_m = 0.0136,
      .roughness_c = polyethylene_c,
      .rise_m = 0.0};
}

}  // namespace

// Christiansen 1942: with equal flows the loss is F times that of a plain pipe.
TEST_CASE("lateral - with compensating emitters the loss is Christiansen's") {
  for (const int emitters : {1, 2, 10, 50, 150}) {
    const Lateral line = dripline(emitters, compensating_exponent);
    const LateralFlow flow = lateral_flow(line, 200.0);
    REQUIRE(flow.fed);
    const double plain_kpa = friction_loss_kpa(
        {.length_m = 0.3 * emitters, .inside_diameter_m = 0.0136, .roughness_c = polyethylene_c},
        Flow::litres_per_hour(2.0 * emitters));
    const double christiansen_kpa = christiansen_factor(emitters) * plain_kpa;
    CHECK(200.0 - flow.last_kpa == near(christiansen_kpa, 0.003 * christiansen_kpa + 1e-6));
    CHECK(flow.total.litres_per_hour() == near(2.0 * emitters, 1e-9));
    CHECK(flow.variation() == near(0.0, 1e-12));
  }
}

// q = k P^x (Keller & Karmeli 1974) at each emitter, and friction between the first and the last.
TEST_CASE("lateral - each emitter gives what its own pressure makes of it") {
  const LateralFlow flow = lateral_flow(dripline(150, turbulent_exponent), 150.0);
  REQUIRE(flow.fed);
  CHECK(flow.last_kpa < flow.first_kpa);
  CHECK(flow.least.litres_per_hour() == near(2.0 * std::sqrt(flow.last_kpa / 100.0), 1e-9));
  CHECK(flow.most.litres_per_hour() == near(2.0 * std::sqrt(flow.first_kpa / 100.0), 1e-9));
  CHECK(flow.variation() == near(1.0 - std::sqrt(flow.last_kpa / flow.first_kpa), 1e-9));
  CHECK(flow.total.litres_per_hour() > 150.0 * flow.least.litres_per_hour());
  CHECK(flow.total.litres_per_hour() < 150.0 * flow.most.litres_per_hour());
}

TEST_CASE("lateral - a rise takes 9.8 kPa a metre and a fall gives it") {
  Lateral line = dripline(2, turbulent_exponent);
  const double level_kpa = lateral_flow(line, 150.0).last_kpa;
  line.rise_m = 2.0;
  CHECK(level_kpa - lateral_flow(line, 150.0).last_kpa == near(2.0 * kpa_per_metre_of_water, 0.02));
  line.rise_m = -2.0;
  CHECK(lateral_flow(line, 150.0).last_kpa - level_kpa == near(2.0 * kpa_per_metre_of_water, 0.02));
  line.rise_m = 20.0;  // 196 kPa: more than there is
  CHECK_FALSE(lateral_flow(line, 150.0).fed);
}

TEST_CASE("lateral - the longest line keeps the limit and one emitter more does not") {
  const LateralLimit limit{.most_variation = 0.10, .least_kpa = 0.0};
  const int most = most_emitters(dripline(1, turbulent_exponent), 100.0, limit);
  CHECK(lateral_flow(dripline(most, turbulent_exponent), 100.0).variation() <= 0.10);
  CHECK(lateral_flow(dripline(most + 1, turbulent_exponent), 100.0).variation() > 0.10);
  Lateral wider = dripline(1, turbulent_exponent);
  wider.inside_diameter_m = 0.0176;
  CHECK(most_emitters(wider, 100.0, limit) > most);
  CHECK(most_emitters(dripline(1, laminar_exponent), 100.0, limit) < most);
}

TEST_CASE("lateral - a compensating line ends where its pressure does") {
  const LateralLimit limit{.most_variation = 0.10, .least_kpa = 69.0};
  const int most = most_emitters(dripline(1, compensating_exponent), 100.0, limit);
  CHECK(lateral_flow(dripline(most, compensating_exponent), 100.0).last_kpa >= 69.0);
  CHECK(lateral_flow(dripline(most + 1, compensating_exponent), 100.0).last_kpa < 69.0);
  CHECK(most_emitters(dripline(1, compensating_exponent), 60.0, limit) == 0);
}

TEST_CASE("lateral - a hopeless line is not fed rather than infinite") {
  Lateral line = dripline(2000, laminar_exponent);
  line.inside_diameter_m = 0.001;
  line.emitter.rated = Flow::litres_per_hour(10000.0);
  line.spacing_m = 10.0;
  const LateralFlow flow = lateral_flow(line, 100.0);
  CHECK((!flow.fed || flow.variation() > 0.99));
  CHECK(most_emitters(line, 100.0, {.most_variation = 0.1, .least_kpa = 0.0}) <= 1);
  line.emitter.exponent = compensating_exponent;
  CHECK_FALSE(lateral_flow(line, 100.0).fed);
}

TEST_CASE("lateral - unusable figures are refused") {
  CHECK_THROWS_AS((void)lateral_flow(dripline(0, 0.5), 100.0), std::invalid_argument);
  CHECK_THROWS_AS((void)lateral_flow(dripline(2001, 0.5), 100.0), std::invalid_argument);
  CHECK_THROWS_AS((void)lateral_flow(dripline(10, 1.5), 100.0), std::invalid_argument);
  CHECK_THROWS_AS((void)lateral_flow(dripline(10, 0.5), 0.0), std::invalid_argument);
  Lateral line = dripline(10, 0.5);
  line.spacing_m = 0.0;
  CHECK_THROWS_AS((void)lateral_flow(line, 100.0), std::invalid_argument);
}

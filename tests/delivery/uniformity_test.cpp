#include "runnel/delivery/uniformity.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <stdexcept>
#include <vector>

#include "runnel/delivery/emitter_flow.hpp"
#include "runnel/delivery/heads.hpp"
#include "runnel/units/published_table.hpp"
#include "support/near.hpp"

using namespace runnel;

TEST_CASE("uniformity - the low quarter is rounded to whole cans") {
  CHECK(low_quarter_count(1) == 1);
  CHECK(low_quarter_count(4) == 1);
  CHECK(low_quarter_count(9) == 2);   // 2.25
  CHECK(low_quarter_count(11) == 3);  // 2.75
  CHECK(low_quarter_count(16) == 4);
}

TEST_CASE("uniformity - equal catches are even and a dry quarter is not") {
  const std::vector<double> even(8, 3.0);
  CHECK(low_quarter_uniformity(even) == near(1.0, 1e-12));
  CHECK(christiansen_uniformity(even) == near(1.0, 1e-12));
  const std::vector<double> dry_quarter = {0, 0, 4, 4, 4, 4, 4, 4};
  CHECK(low_quarter_uniformity(dry_quarter) == 0.0);
  // Mean 3; deviations 2 x 3 and 6 x 1 of 8 cans: 1 - 12/8/3.
  CHECK(christiansen_uniformity(dry_quarter) == near(0.5, 1e-12));
}

TEST_CASE("uniformity - unusable catches are refused") {
  const double not_a_number = std::numeric_limits<double>::quiet_NaN();
  for (const std::vector<double>& catches :
       {std::vector<double>{}, std::vector<double>{0.0, 0.0}, std::vector<double>{1.0, -1.0},
        std::vector<double>{1.0, not_a_number}}) {
    CHECK_THROWS_AS((void)low_quarter_uniformity(catches), std::invalid_argument);
    CHECK_THROWS_AS((void)christiansen_uniformity(catches), std::invalid_argument);
  }
  CHECK_THROWS_AS((void)emission_uniformity({0.6, 1, 0.9}), std::invalid_argument);
  CHECK_THROWS_AS((void)emission_uniformity({0.05, 0, 0.9}), std::invalid_argument);
  CHECK_THROWS_AS((void)emission_uniformity({0.05, 1, 1.1}), std::invalid_argument);
}

// Irrigation Association, Landscape Irrigation Auditor rating table (from memory).
TEST_CASE("uniformity - words for a measured uniformity") {
  const auto ratings = uniformity_ratings(published_table("uniformity_ratings"));
  REQUIRE(ratings.size() == 3);
  CHECK(ratings[0].type == "spray");
  CHECK(rating_word(ratings[0], 0.75) == "excellent");
  CHECK(rating_word(ratings[0], 0.744) == "very good");
  CHECK(rating_word(ratings[0], 0.55) == "good");
  CHECK(rating_word(ratings[0], 0.50) == "fair");
  CHECK(rating_word(ratings[0], 0.40) == "poor");
  CHECK(rating_word(ratings[0], 0.30) == "worse than poor");
  CHECK(rating_word(ratings[1], 0.75) == "very good");
  CHECK(rating_word(ratings[2], 0.49) == "worse than poor");
}

// q = k P^x, x = 0.5 turbulent, 1 laminar, 0 compensating. Keller & Karmeli 1974 (from memory).
TEST_CASE("emitter flow - goes with the pressure to a power") {
  const auto flow = [](double exponent, double kpa) {
    return flow_at({.rated = Flow::litres_per_hour(2.0), .rated_kpa = 100.0, .exponent = exponent},
                   kpa)
        .litres_per_hour();
  };
  CHECK(flow(turbulent_exponent, 400.0) == near(4.0, 1e-12));
  CHECK(flow(laminar_exponent, 50.0) == near(1.0, 1e-12));
  CHECK(flow(compensating_exponent, 300.0) == near(2.0, 1e-12));
  CHECK(flow(compensating_exponent, 0.0) == 0.0);
  CHECK_THROWS_AS((void)flow(1.1, 100.0), std::invalid_argument);
  CHECK_THROWS_AS((void)flow(0.5, std::numeric_limits<double>::infinity()), std::invalid_argument);
}

namespace {

Head head(double arc_deg, double l_min, int count, std::optional<double> radius_m = {}) {
  return {.arc_deg = arc_deg,
          .each = Flow::litres_per_hour(60.0 * l_min),
          .count = count,
          .radius_m = radius_m};
}

}  // namespace

// Irrigation Association: 90 : 180 : 270 : 360 degrees need flows as 1 : 2 : 3 : 4; one nozzle flow
// on all arcs gives the half circle 2 and the quarter circle 4 times the full circle's depth.
TEST_CASE("heads - rates match when the flow goes with the arc") {
  const std::vector<Head> matched = {head(90, 1, 4), head(180, 2, 6), head(270, 3, 1),
                                     head(360, 4, 2)};
  CHECK(rate_spread(matched).ratio() == near(1.0, 1e-12));
  const std::vector<Head> half = {head(180, 2, 1), head(360, 2, 1)};
  CHECK(rate_spread(half).ratio() == near(2.0, 1e-12));
  const std::vector<Head> quarter = {head(360, 2, 1), head(90, 2, 1)};
  const RateSpread spread = rate_spread(quarter);
  CHECK(spread.ratio() == near(4.0, 1e-12));
  // 4 L/min over a circle and a quarter are 3.2 a circle; the heads give 8 and 2.
  CHECK(spread.highest == near(2.5, 1e-12));
  CHECK(spread.lowest == near(0.625, 1e-12));
  CHECK(spread.highest_arc_deg == 90.0);
  CHECK(spread.lowest_arc_deg == 360.0);
}

TEST_CASE("heads - with every radius known rates are those of the ground reached") {
  const std::vector<Head> heads = {head(180, 2, 2, 3.0), head(360, 1, 1, 1.5)};
  // 4 L/min over 3 m of radius, 1 over half of it: the same.
  CHECK(rate_spread(heads).ratio() == near(1.0, 1e-12));
  REQUIRE(reached(heads).has_value());
  CHECK(reached(heads)->m2() == near(3.14159265 * (9.0 + 2.25), 1e-6));
  const std::vector<Head> one_unknown = {head(180, 2, 2, 3.0), head(360, 1, 1)};
  CHECK_FALSE(reached(one_unknown).has_value());
  CHECK(rate_spread(one_unknown).ratio() == near(4.0, 1e-12));
}

TEST_CASE("heads - unusable figures are refused") {
  const std::vector<Head> none;
  CHECK_THROWS_AS((void)rate_spread(none), std::invalid_argument);
  const std::vector<Head> beyond = {head(400, 2, 1)};
  CHECK_THROWS_AS((void)rate_spread(beyond), std::invalid_argument);
  CHECK_THROWS_AS((void)head_rate(head(90, 0, 1), {3.0, 3.0}), std::invalid_argument);
  CHECK_THROWS_AS((void)head_rate(head(90, 1, 1), {0.0, 3.0}), std::invalid_argument);
}

#include "runnel/delivery/delivery.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <stdexcept>

#include "support/near.hpp"

using namespace runnel;

TEST_CASE("delivery - net depth per minute books unevenness and leaching once") {
  const Delivery delivery{.flow = Flow::litres_per_hour(360.0),
                          .area = Area::m2(18.0),
                          .multiplier = 1.25,
                          .leaching_share = 0.1};
  CHECK(delivery.rate().mm_per_hour() == near(20.0, 1e-12));
  CHECK(delivery.net_mm_per_minute() == near(20.0 / 60.0 / 1.25 * 0.9, 1e-12));
}

TEST_CASE("delivery - a multiplier needs a uniformity above 0 and at most 1") {
  CHECK(run_time_multiplier(1.0) == 1.0);
  CHECK_THROWS_AS((void)run_time_multiplier(0.0), std::invalid_argument);
  CHECK_THROWS_AS((void)run_time_multiplier(-0.5), std::invalid_argument);
  CHECK_THROWS_AS((void)run_time_multiplier(1.01), std::invalid_argument);
  CHECK_THROWS_AS((void)run_time_multiplier(std::numeric_limits<double>::quiet_NaN()),
                  std::invalid_argument);
}

// RTM table: "old practice 1/DU", 1.6667 at DU 0.60 and 2.5 at 0.40.
TEST_CASE("delivery - enough for the driest quarter takes 1 / DU") {
  CHECK(run_time_multiplier(0.60, EnoughFor::driest_quarter) == near(1.6667, 0.00005));
  CHECK(run_time_multiplier(0.40, EnoughFor::driest_quarter) == near(2.5, 0.05));
  CHECK(run_time_multiplier(0.60) == near(1.3158, 0.00005));
  CHECK_THROWS_AS((void)run_time_multiplier(0.0, EnoughFor::driest_quarter), std::invalid_argument);
}

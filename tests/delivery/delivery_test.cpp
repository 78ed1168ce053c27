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

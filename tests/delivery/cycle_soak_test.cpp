#include "runnel/delivery/cycle_soak.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>

#include "support/near.hpp"

using namespace runnel;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

Rate mm_h(double rate) { return Rate::mm_per_hour(rate); }
Intake intake(double basic_rate_mm_h, double storage_mm) {
  return {.basic_rate = mm_h(basic_rate_mm_h), .surface_storage = Depth::mm(storage_mm)};
}

}  // namespace

TEST_CASE("cycle and soak - water standing after a full cycle is the storage, and sinks in") {
  for (double rate = 2.0; rate < 50.0; rate += 1.7) {
    for (double basic_rate = 1.0; basic_rate < rate; basic_rate += 2.3) {
      const Intake ground = intake(basic_rate, 6.0);
      const CycleLimit limit = cycle_limit(mm_h(rate), ground);
      const Depth standing =
          mm_h(rate) * limit.longest_cycle - ground.basic_rate * limit.longest_cycle;
      CHECK(standing.mm() == near(6.0, 1e-9));
      CHECK((ground.basic_rate * limit.full_soak).mm() == near(6.0, 1e-9));
      CHECK(soak_after(limit.longest_cycle, mm_h(rate), ground).minutes() ==
            near(limit.full_soak.minutes(), 1e-9));
      const Duration half = limit.longest_cycle * 0.5;
      CHECK(soak_after(half, mm_h(rate), ground).minutes() ==
            near(limit.full_soak.minutes() / 2.0, 1e-9));
      CHECK(soak_after(limit.longest_cycle * 3.0, mm_h(rate), ground) == limit.full_soak);
    }
  }
}

TEST_CASE("cycle and soak - nothing may stand: no cycle at all above the intake rate") {
  CHECK(cycle_limit(mm_h(20.0), intake(10.0, 0.0)).longest_cycle.minutes() == 0.0);
  CHECK(cycle_limit(mm_h(20.0), intake(10.0, 0.0)).full_soak.minutes() == 0.0);
  CHECK(soak_after(Duration::minutes(30.0), mm_h(10.0), intake(10.0, 5.0)).minutes() == 0.0);
}

TEST_CASE("cycle and soak - unusable figures are refused") {
  CHECK_THROWS_AS((void)cycle_limit(mm_h(0.0), intake(10.0, 5.0)), std::invalid_argument);
  CHECK_THROWS_AS((void)cycle_limit(mm_h(not_a_number), intake(10.0, 5.0)), std::invalid_argument);
  CHECK_THROWS_AS((void)cycle_limit(mm_h(5.0), intake(0.0, 5.0)), std::invalid_argument);
  CHECK_THROWS_AS((void)cycle_limit(mm_h(5.0), intake(not_a_number, 5.0)), std::invalid_argument);
  CHECK_THROWS_AS((void)cycle_limit(mm_h(5.0), intake(10.0, -1.0)), std::invalid_argument);
  CHECK_THROWS_AS((void)cycle_limit(mm_h(5.0), intake(10.0, not_a_number)), std::invalid_argument);
  CHECK_THROWS_AS((void)soak_after(Duration::minutes(-1.0), mm_h(5.0), intake(10.0, 5.0)),
                  std::invalid_argument);
}

#include "runnel/demand/growth_stages.hpp"

#include <doctest/doctest.h>

#include <stdexcept>

#include "support/near.hpp"

namespace runnel {
namespace {

// FAO-56 Example 28: dry bean; its days 20, 40, 70 and 95 are checked in tests/reference.
constexpr StageLengths bean{.ini = 25, .dev = 25, .mid = 30, .late = 20};
constexpr StageValues kc{.ini = 0.15, .mid = 1.19, .end = 0.35};

}  // namespace

TEST_SUITE("demand/growth stages") {
  TEST_CASE("the turns of the curve - FAO-56 Eq. 66") {
    CHECK(bean.total() == 100);
    CHECK(stage_value(25, bean, kc) == 0.15);
    CHECK(stage_value(26, bean, kc) == near(0.15 + 1.04 / 25.0, 1e-12));  // one step up already
    CHECK(stage_value(50, bean, kc) == near(1.19, 1e-12));
    CHECK(stage_value(80, bean, kc) == near(1.19, 1e-12));
    CHECK(stage_value(81, bean, kc) == near(1.19 - 0.84 / 20.0, 1e-12));
    CHECK(stage_value(100, bean, kc) == near(0.35, 1e-12));
  }

  TEST_CASE("before planting the initial value, after the season the last") {
    for (const int day : {-400, 0, 1}) CHECK(stage_value(day, bean, kc) == 0.15);
    for (const int day : {101, 500}) CHECK(stage_value(day, bean, kc) == 0.35);
  }

  TEST_CASE("a stage of no days is a step") {
    const StageLengths fresh{.ini = 90, .dev = 45, .mid = 40, .late = 0};  // faba bean, Table 11
    CHECK(stage_value(175, fresh, kc) == near(1.19, 1e-12));
    CHECK(stage_value(176, fresh, kc) == 0.35);
    const StageLengths at_once{.ini = 0, .dev = 0, .mid = 10, .late = 10};
    CHECK(stage_value(1, at_once, kc) == near(1.19, 1e-12));
  }

  TEST_CASE("the mean of a stretch agrees with many small steps") {
    for (const auto& [from, to] :
         {std::pair{0.0, 100.0}, {13.0, 61.5}, {70.0, 140.0}, {-5.0, 4.0}}) {
      constexpr int steps = 100000;
      double sum = 0.0;
      for (int i = 0; i < steps; ++i) {
        const double t = from + (to - from) * (i + 0.5) / steps;
        sum += mean_stage_value(t - 1e-7, t + 1e-7, bean, kc);
      }
      CHECK(mean_stage_value(from, to, bean, kc) == near(sum / steps, 1e-6));
    }
    // Whole season by hand: 25 x 0.15 + 25 x 0.67 + 30 x 1.19 + 20 x 0.77, over 100.
    CHECK(mean_stage_value(0.0, 100.0, bean, kc) == near(0.716, 1e-12));
    CHECK_THROWS_AS((void)mean_stage_value(5.0, 5.0, bean, kc), std::invalid_argument);
  }
}

}  // namespace runnel

#include "runnel/sky/vapour_equations.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "runnel/units/column.hpp"
#include "support/near.hpp"

using namespace runnel;

TEST_CASE("vapour equations - the exponential of a block is that of the C library") {
  const Column x = Column::LinSpaced(20001, -8.8, 4.0);
  const Column got = exponential(x);
  double largest = 0.0;
  for (Eigen::Index i = 0; i < x.size(); ++i) {
    largest = std::max(largest, std::abs(got[i] / std::exp(x[i]) - 1.0));
  }
  CHECK(largest < 3e-14);
}

TEST_CASE("vapour equations - a block and single values agree over all weather") {
  const Column t_c = Column::LinSpaced(1501, -80.0, 70.0);
  const Column e0 = saturation_vapour_pressure(t_c);
  const Column slope = vapour_pressure_slope(e0, t_c);
  for (Eigen::Index i = 0; i < t_c.size(); ++i) {
    const double single = saturation_vapour_pressure(t_c[i]);
    CHECK(e0[i] / single == near(1.0, 3e-14));
    CHECK(slope[i] / vapour_pressure_slope(single, t_c[i]) == near(1.0, 3e-14));
  }
}

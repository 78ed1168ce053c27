#include "runnel/garden/demand_chain.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"

using runnel::Column;
using runnel::DemandChain;
using runnel::DemandFactor;
using runnel::near;

namespace {

/// A week that differs from day to day in everything.
DemandChain uneven() {
  DemandChain chain(Column::LinSpaced(7, 2.0, 8.0));
  chain[DemandFactor::sun_and_sky] = Column::LinSpaced(7, 0.9, 0.3);
  chain[DemandFactor::shelter] = Column::LinSpaced(7, 0.8, 0.95);
  chain[DemandFactor::plants] = Column::Constant(7, 0.5);
  chain[DemandFactor::stage] = Column::LinSpaced(7, 1.0, 1.3);
  chain[DemandFactor::soil_evaporation] = Column::LinSpaced(7, 1.6, 1.0);
  return chain;
}

}  // namespace

TEST_SUITE("garden") {
  TEST_CASE("demand chain - the mean factors multiply to the demand of the week") {
    const DemandChain chain = uneven();
    double product = chain.eto_mm.sum();
    for (const double factor : chain.mean_factors(7)) product *= factor;
    CHECK(product == near(chain.demand_mm().sum(), 1e-12));
    // The plain means do not: they miss that bright days weigh more.
    double means = chain.eto_mm.sum();
    for (const Column& factor : chain.factors) means *= factor.mean();
    CHECK(means != near(chain.demand_mm().sum(), 0.1));
  }

  TEST_CASE("demand chain - exposure and coefficient split the factors between them") {
    const DemandChain chain = uneven();
    const Column product_mm = chain.eto_mm * chain.exposure() * chain.coefficient();
    for (Eigen::Index day = 0; day < 7; ++day) {
      CHECK(product_mm[day] == near(chain.demand_mm()[day], 1e-12));
      CHECK(chain.exposure()[day] ==
            near(chain[DemandFactor::sun_and_sky][day] * chain[DemandFactor::shelter][day], 1e-12));
    }
  }

  TEST_CASE("demand chain - days without any ET leave every factor at 1") {
    DemandChain chain(Column::Zero(7));
    chain[DemandFactor::plants] = Column::Constant(7, 0.5);
    const auto factors = chain.mean_factors(7);
    CHECK(factors[0] == 1.0);
    CHECK(factors[static_cast<std::size_t>(DemandFactor::plants)] == 1.0);
    CHECK(chain.demand_mm().sum() == 0.0);
  }
}

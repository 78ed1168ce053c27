#include "runnel/demand/coefficient_parts.hpp"

#include <doctest/doctest.h>

#include "runnel/demand/plant_coefficients.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

using namespace std::chrono;

constexpr Date in_may = local_days{2027y / May / 20};

void check_product(const CoefficientParts& parts, const Column& whole) {
  const Column product = parts.product();
  for (Eigen::Index day = 0; day < whole.size(); ++day)
    CHECK(product[day] == near(whole[day], 1e-12));
}

}  // namespace

TEST_SUITE("demand/coefficient parts") {
  // FAO-56 Tables 11, 12, 17: tomato, Kc mid 1.15, Kcb mid 1.10, 30 days initial and 40 of
  // development around the Mediterranean.
  TEST_CASE("a crop in development stands part of the way to its mid-season coefficient") {
    const Plant tomato = find_crop(plant_table(), "tomato").value();
    const Growing growing{.planted = local_days{2027y / April / 1}};
    const auto parts = coefficient_parts(tomato, growing, CoefficientForm::single, in_may, 14);
    CHECK(parts.plants[0] == near(1.15, 1e-12));
    CHECK(parts.density.isApprox(Column::Ones(14)));
    // Day 50, half-way (Eq. 66): 0.6 + 20/40 (1.15 - 0.6) = 0.875.
    CHECK(parts.stage[0] == near(0.875 / 1.15, 1e-12));
    check_product(parts, kc_by_day(tomato, growing, in_may, 14));
    const auto basal = coefficient_parts(tomato, growing, CoefficientForm::basal, in_may, 14);
    CHECK(basal.plants[0] == near(1.10, 1e-12));
    check_product(basal, kcb_by_day(tomato, growing, in_may, 14));
  }

  // Costello et al.: shrubs, species factor moderate 0.5, density factor sparse 0.5.
  TEST_CASE("a sparse planting has its density apart") {
    const Plant shrubs = find_kind(plant_table(), "shrubs").value();
    const Growing growing{.density = Density::sparse};
    const auto parts = coefficient_parts(shrubs, growing, CoefficientForm::single, in_may, 7);
    CHECK(parts.plants[0] == near(0.5, 1e-12));
    CHECK(parts.density[0] == near(0.5, 1e-12));
    CHECK(parts.stage[0] == near(1.0, 1e-12));
    check_product(parts, kc_by_day(shrubs, growing, in_may, 7));
  }

  TEST_CASE("a lawn's month stands against the mean of its year") {
    const Plant lawn = find_kind(plant_table(), "cool-season lawn").value();
    const auto parts = coefficient_parts(lawn, {}, CoefficientForm::single, in_may, 14);
    CHECK(parts.stage[0] > 1.0);  // May 0.95 (UC ANR Table 1) is above the mean of the year
    check_product(parts, kc_by_day(lawn, {}, in_may, 14));
  }

  TEST_CASE("what the gardener states stays whole") {
    const CoefficientParts parts = stated_coefficient(0.6, 7);
    CHECK(parts.plants[6] == 0.6);
    CHECK(parts.product()[6] == 0.6);
  }
}

}  // namespace runnel

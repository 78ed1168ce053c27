#include "runnel/soil/profile.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>

#include "support/near.hpp"

namespace runnel {
namespace {

// Mid-range loam and clay of FAO-56 Table 19.
constexpr SoilLayer loam_20_cm{.thickness_m = 0.2, .field_capacity = 0.25, .wilting_point = 0.12};
constexpr SoilLayer clay_60_cm{.thickness_m = 0.6, .field_capacity = 0.36, .wilting_point = 0.22};

}  // namespace

TEST_SUITE("soil/profile") {
  // FAO-56 Example 38: sandy loam 0.23 / 0.10 holds 65 mm in 0.5 m.
  TEST_CASE("one layer is FAO-56 Eq. 82") {
    const SoilProfile sandy_loam{{.field_capacity = 0.23, .wilting_point = 0.1}};
    CHECK(available_water_mm(sandy_loam, 0.5) == near(65.0, 1e-9));
    CHECK(std::isinf(depth_m(sandy_loam)));
  }

  // By hand with Eq. 82: 0.2 m x 130 mm/m = 26 mm, then 140 mm/m.
  TEST_CASE("layers are summed as far as roots reach") {
    const SoilProfile profile{loam_20_cm, clay_60_cm};
    CHECK(depth_m(profile) == near(0.8, 1e-12));
    CHECK(available_water_mm(profile, 0.0) == 0.0);
    CHECK(available_water_mm(profile, 0.1) == near(13.0, 1e-9));
    CHECK(available_water_mm(profile, 0.2) == near(26.0, 1e-9));
    CHECK(available_water_mm(profile, 0.5) == near(26.0 + 42.0, 1e-9));
    CHECK(available_water_mm(profile, 0.8) == near(26.0 + 84.0, 1e-9));
    Column roots_m(2);
    roots_m << 0.1, 0.5;
    CHECK(available_water_mm(profile, roots_m)[0] == near(13.0, 1e-9));
    CHECK(available_water_mm(profile, roots_m)[1] == near(68.0, 1e-9));
  }

  TEST_CASE("roots end where the soil does") {
    CHECK(available_water_mm(SoilProfile{loam_20_cm}, 0.5) == near(26.0, 1e-9));
  }

  TEST_CASE("stones hold nothing") {
    SoilLayer stony = loam_20_cm;
    stony.stones = 0.2;
    CHECK(available_water_mm(SoilProfile{stony}, 0.2) == near(0.8 * 26.0, 1e-9));
  }

  TEST_CASE("layers that cannot be are refused") {
    SoilLayer all_stones = loam_20_cm;
    all_stones.stones = 1.0;
    SoilLayer no_thickness = loam_20_cm;
    no_thickness.thickness_m = 0.0;
    SoilLayer dry = loam_20_cm;
    dry.wilting_point = 0.25;
    for (const SoilLayer& layer : {all_stones, no_thickness, dry})
      CHECK_THROWS_AS((void)available_water_mm(SoilProfile{layer}, 0.3), std::invalid_argument);
    CHECK_THROWS_AS((void)available_water_mm(SoilProfile{}, 0.3), std::invalid_argument);
    CHECK_THROWS_AS((void)available_water_mm(SoilProfile{loam_20_cm}, -0.1), std::invalid_argument);
  }
}

}  // namespace runnel

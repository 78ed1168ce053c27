#include "runnel/soil/wetted_share.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <numbers>
#include <stdexcept>

#include "runnel/soil/texture.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

std::size_t faults(const std::string& rows) {
  return parse_wetted_diameters("ground,fc_from,diameter_m,low_m,high_m,source\n" + rows, "w.csv")
      .findings.size();
}

double diameter_m(const char* texture) {
  return wetted_diameter(wetted_diameter_table(),
                         find_texture(soil_table(), texture)->field_capacity)
      .diameter_m;
}

}  // namespace

TEST_SUITE("soil/wetted share") {
  // Drip guidance of extension services and FAO (from memory): about 0.3 m on coarse ground,
  // 0.6-0.9 on medium, 0.9-1.2 on fine.
  TEST_CASE("wetted diameters by texture") {
    for (const char* const coarse : {"sand", "loamy sand"})
      CHECK(diameter_m(coarse) == near(0.3, 1e-12));
    for (const char* const medium : {"sandy loam", "loam", "silt loam", "silt"})
      CHECK(diameter_m(medium) == near(0.75, 0.15));
    for (const char* const fine : {"clay loam", "silty clay loam", "silty clay", "clay"})
      CHECK(diameter_m(fine) == near(1.05, 0.15));
  }

  TEST_CASE("strips that meet wet everything") {
    CHECK(wetted_share(0.75, {.spacing_m = 0.30, .row_spacing_m = 0.40}) == 1.0);
    CHECK(wetted_share(0.75, {.spacing_m = 0.30, .row_spacing_m = 0.75}) == 1.0);
    // A line of close emitters every 1.5 m wets strips of 0.75 m: half; the same across.
    CHECK(wetted_share(0.75, {.spacing_m = 0.30, .row_spacing_m = 1.5}) == near(0.5, 1e-12));
    CHECK(wetted_share(0.75, {.spacing_m = 1.5, .row_spacing_m = 0.30}) == near(0.5, 1e-12));
    // On sand the same dripline leaves a quarter dry.
    CHECK(wetted_share(0.30, {.spacing_m = 0.24, .row_spacing_m = 0.40}) == near(0.75, 1e-12));
  }

  TEST_CASE("emitters further apart wet circles") {
    CHECK(wetted_share(0.75, {.spacing_m = 1.0, .row_spacing_m = 1.0}) ==
          near(std::numbers::pi / 4.0 * 0.75 * 0.75, 1e-12));
  }

  TEST_CASE("wider spacing never wets more, a wider circle never less") {
    for (const double diameter : {0.3, 0.75, 1.05}) {
      double before = 1.0;
      for (double spacing = 0.1; spacing < 3.0; spacing += 0.01) {
        const double share = wetted_share(diameter, {.spacing_m = spacing, .row_spacing_m = 1.2});
        CHECK(share <= before);
        CHECK(share > 0.0);
        CHECK(wetted_share(1.1 * diameter, {.spacing_m = spacing, .row_spacing_m = 1.2}) >= share);
        before = share;
      }
      CHECK(before < 0.4);
    }
  }

  TEST_CASE("figures that are not above 0 are refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (const double bad : {0.0, -1.0, nan}) {
      CHECK_THROWS_AS((void)wetted_share(bad, {.spacing_m = 1, .row_spacing_m = 1}),
                      std::invalid_argument);
      CHECK_THROWS_AS((void)wetted_share(1.0, {.spacing_m = bad, .row_spacing_m = 1}),
                      std::invalid_argument);
      CHECK_THROWS_AS((void)wetted_share(1.0, {.spacing_m = 1, .row_spacing_m = bad}),
                      std::invalid_argument);
    }
  }

  TEST_CASE("a table that cannot be used") {
    CHECK(faults("a,0,0.3,0.2,0.4,x\nb,0.2,0.5,0.4,0.6,x\n") == 0);
    CHECK(faults("a,0.1,0.3,0.2,0.4,x\n") == 1);
    CHECK(faults("a,0,0.3,0.2,0.4,x\nb,0,0.5,0.4,0.6,x\n") == 1);
    CHECK(faults("a,0,0.5,0.2,0.4,x\n") == 1);
    CHECK(faults("a,0,0.3,0,0.4,x\n") == 1);
    CHECK(faults("a,0,0.3,0.2,0.4,\n") == 1);
  }
}

}  // namespace runnel

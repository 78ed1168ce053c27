#include "runnel/soil/evaporation_layer.hpp"

#include <doctest/doctest.h>

#include "example35.hpp"
#include "reference_table.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

// The printed table mixes two chains: E, Kc, ETc and the depletions are those of REW 9 mm, while
// the text states 8 mm. Both are given in full precision beside it, with the tolerances the table
// names: 0.01 of a coefficient, 0.05 mm.
void check_chain(double rew_mm, const char* column) {
  const ReferenceTable table("fao56_example35.csv");
  const std::vector<Example35Day> days = example35(rew_mm);
  REQUIRE(days.size() == 10);
  for (std::size_t i = 0; i < days.size(); ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    const auto expected = [&](const char* symbol) {
      return table.recomputed(column, symbol, row).value;
    };
    const Example35Day& got = days[i];
    CAPTURE(column);
    CAPTURE(i + 1);
    CHECK(got.few == near(expected("few"), 0.01));
    CHECK(got.surface.start_mm == near(expected("De_start"), 0.05));
    CHECK(got.surface.kr == near(expected("Kr"), 0.01));
    CHECK(got.surface.ke == near(expected("Ke"), 0.01));
    CHECK(got.surface.e_mm / got.few == near(expected("E/few"), 0.05));
    CHECK(got.surface.drained_mm == near(expected("DPe"), 0.05));
    CHECK(got.surface.end_mm == near(expected("De_end"), 0.05));
    CHECK(got.surface.e_mm == near(expected("E"), 0.05));
    CHECK(got.kc == near(expected("Kc"), 0.01));
    CHECK(got.kc * got.day.eto_mm == near(expected("ETc"), 0.05));
  }
}

}  // namespace

TEST_SUITE("soil/evaporation layer") {
  TEST_CASE("FAO-56 Example 35 with REW 8 mm - day by day") { check_chain(8.0, "recomputed_REW8"); }
  TEST_CASE("FAO-56 Example 35 with REW 9 mm - day by day") { check_chain(9.0, "recomputed_REW9"); }

  // The columns that the printed table carries through the REW 9 chain, to its last printed digit.
  TEST_CASE("FAO-56 Example 35 - printed coefficients") {
    const ReferenceTable table("fao56_example35.csv");
    const std::vector<Example35Day> days = example35(9.0);
    for (std::size_t i = 0; i < days.size(); ++i) {
      const auto row = static_cast<Eigen::Index>(i);
      CAPTURE(i + 1);
      const Figure kc = table.printed("Kc", row), etc = table.printed("ETc", row),
                   end = table.printed("De_end", row);
      CHECK(days[i].kc == near(kc.value, kc.half_digit));
      CHECK(days[i].kc * days[i].day.eto_mm == near(etc.value, etc.half_digit));
      CHECK(days[i].surface.end_mm == near(end.value, end.half_digit));
    }
  }

  TEST_CASE("the surface closes and keeps within its water") {
    const EvaporationLayer layer{.tew_mm = 20.0, .rew_mm = 9.0};
    double depletion_mm = 3.0;
    for (int i = 0; i < 200; ++i) {
      const double rain_mm = i % 9 == 0 ? 13.0 : 0.0;
      const SurfaceDay day{.eto_mm = 0.5 * (i % 17),
                           .rain_mm = rain_mm,
                           .irrigation_mm = i % 5 == 0 ? 2.0 : 0.0,
                           .fw = 0.4,
                           .few = 0.35,
                           .kcb = 0.3,
                           .kc_max = 1.2};
      const SurfaceOutcome out = evaporate(layer, depletion_mm, day);
      const double arriving_mm = rain_mm + day.irrigation_mm / day.fw;
      CHECK(out.end_mm ==
            near(depletion_mm - arriving_mm + out.drained_mm + out.e_mm / day.few, 1e-9));
      CHECK(out.end_mm >= 0.0);
      CHECK(out.end_mm <= layer.tew_mm + 1e-12);
      depletion_mm = out.end_mm;
    }
  }

  TEST_CASE("Kr falls from 1 at REW to 0 at TEW") {
    CHECK(evaporation_reduction(0.0, 20.0, 9.0) == 1.0);
    CHECK(evaporation_reduction(9.0, 20.0, 9.0) == 1.0);
    CHECK(evaporation_reduction(14.5, 20.0, 9.0) == near(0.5, 1e-12));
    CHECK(evaporation_reduction(20.0, 20.0, 9.0) == 0.0);
    CHECK(evaporation_reduction(25.0, 20.0, 9.0) == 0.0);
  }

  TEST_CASE("floors and ceilings of chapter 7") {
    CHECK(exposed_wetted_share(0.99, 1.0) == near(0.01, 1e-12));
    CHECK(exposed_wetted_share(1.0, 1.0) == 0.01);
    CHECK(exposed_wetted_share(0.2, 0.3) == 0.3);
    CHECK(covered_share(0.15, 0.15, 1.2, 0.0) ==
          near(0.01 / 1.05, 1e-12));  // Kcb - Kc min counts 0.01 at least
    CHECK(covered_share(1.3, 0.15, 1.2, 0.5) == 0.99);
    CHECK(kc_max({.u2_m_s = 2.0, .rh_min_pct = 45.0, .height_m = 1.0, .kcb = 1.25}) ==
          near(1.30, 1e-12));
    CHECK(evaporation_coefficient(1.0, 1.2, 0.3, 0.1) == near(0.12, 1e-12));
  }
}

}  // namespace runnel

#include "runnel/soil/mulch.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"

namespace runnel {
namespace {

std::size_t faults(const std::string& row) {
  const std::string header =
      "mulch,saves,saves_low,saves_high,kcb_factor,kcb_low,kcb_high,source\n";
  return parse_mulch_table(header + row + "\n", "mulches.csv").findings.size();
}

}  // namespace

TEST_SUITE("soil/mulch") {
  TEST_CASE("FAO-56 chapter 10 - organic mulch saves 5 % for each 10 % of the ground covered") {
    const MulchTable table = mulch_table();
    for (const char* const name : {"bark", "wood chips", "straw", "compost", "leaves", "Gravel"}) {
      CAPTURE(name);
      const Mulch* mulch = find_mulch(table, name);
      REQUIRE(mulch != nullptr);
      CHECK(evaporation_share(*mulch, 0.1) == near(0.95, 1e-12));
      CHECK(evaporation_share(*mulch, 0.5) == near(0.75, 1e-12));  // its example: 50 % gives 25 %
      CHECK(evaporation_share(*mulch, 0.0) == 1.0);
      CHECK(kcb_share(*mulch, 1.0) == 1.0);
    }
    CHECK(find_mulch(table, "moss") == nullptr);
  }

  TEST_CASE("FAO-56 chapter 10 - plastic: evaporation 50-80 % and Kcb 5-15 % lower") {
    const MulchTable table = mulch_table();
    const Mulch* plastic = find_mulch(table, "plastic");
    REQUIRE(plastic != nullptr);
    CHECK(plastic->saves_low == 0.5);
    CHECK(plastic->saves_high == 0.8);
    CHECK(evaporation_share(*plastic, 1.0) == near(0.35, 1e-12));
    // Example 45: cucumber's Kcb mid 0.95 and end 0.70, 10 % lower: 0.86 and 0.63.
    CHECK(0.95 * kcb_share(*plastic, 1.0) == near(0.86, 0.00525));
    CHECK(0.70 * kcb_share(*plastic, 1.0) == near(0.63, 0.005));
  }

  TEST_CASE("a table that cannot be used") {
    CHECK(faults("a,0.5,0.4,0.6,1,1,1,x") == 0);
    CHECK(faults("a,0.7,0.4,0.6,1,1,1,x") == 1);
    CHECK(faults("a,0.5,0.4,1.6,1,1,1,x") == 1);
    CHECK(faults("a,0.5,0.4,0.6,0.1,0,1,x") == 1);
    CHECK(faults("a,0.5,0.4,0.6,1,1,1,") == 1);
    CHECK(faults("a,0.5,0.4,0.6,1,1,1,x\nA,0.5,0.4,0.6,1,1,1,x") == 1);
  }
}

}  // namespace runnel

#include "runnel/soil/feel.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"

namespace runnel {
namespace {

std::size_t faults(const std::string& row) {
  const std::string header = "feel,available,available_low,available_high,source\n";
  return parse_feel_table(header + row + "\n", "feel_classes.csv").findings.size();
}

}  // namespace

TEST_SUITE("soil/feel") {
  // USDA NRCS, Estimating Soil Moisture by Feel and Appearance (1998), class limits from memory.
  TEST_CASE("NRCS classes by feel - four quarters of the available water, the middle taken") {
    const FeelTable table = feel_table();
    double low = 0.0;
    for (const char* const name : {"dry", "slightly moist", "moist", "wet"}) {
      CAPTURE(name);
      const FeelClass* feel = find_feel(table, name);
      REQUIRE(feel != nullptr);
      CHECK(feel->available_low == near(low, 1e-12));
      CHECK(feel->available_high == near(low + 0.25, 1e-12));
      CHECK(feel->available == near(low + 0.125, 1e-12));
      low = feel->available_high;
    }
    CHECK(table.size() == 4);
    CHECK(find_feel(table, "Slightly Moist") == find_feel(table, "slightly moist"));
    CHECK(find_feel(table, "soggy") == nullptr);
  }

  // USDA NRCS Montana, Estimating Soil Moisture by Feel and Appearance, example table row 1: of
  // 1.4 in available water 1.0 in is gone (71.4 %, printed as 70 %): the class of 25-50 %.
  TEST_CASE("NRCS worked row - a sandy loam short of 1.0 in of 1.4 in is slightly moist") {
    const double available = 1.0 - 1.0 / 1.4;
    const FeelTable table = feel_table();
    const FeelClass* feel = find_feel(table, "slightly moist");
    REQUIRE(feel != nullptr);
    CHECK(available >= feel->available_low);
    CHECK(available <= feel->available_high);
  }

  TEST_CASE("a table of feel that cannot be used") {
    CHECK(faults("a,0.5,0.4,0.6,x") == 0);
    CHECK(faults("a,0.7,0.4,0.6,x") == 1);
    CHECK(faults("a,0.5,0.4,1.6,x") == 1);
    CHECK(faults("a,0.5,-0.4,0.6,x") == 1);
    CHECK(faults("a,0.5,0.4,0.6,") == 1);
    CHECK(faults("a,0.5,0.4,0.6,x\nA,0.5,0.4,0.6,x") == 1);
  }
}

}  // namespace runnel

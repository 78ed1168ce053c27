#include "runnel/soil/texture.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "runnel/soil/curve_numbers.hpp"
#include "runnel/soil/intake.hpp"
#include "runnel/soil/root_zone.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

constexpr std::string_view header =
    "soil,fc_low,fc_high,wp_low,wp_high,rew_low,rew_high,tew_low,tew_high,awc_low,awc_high,fc,wp,"
    "hydrologic_group,"
    "source\n";
constexpr std::string_view textures[] = {
    "sand", "loamy sand", "sandy loam",      "loam",       "silt loam",
    "silt", "clay loam",  "silty clay loam", "silty clay", "clay"};

std::vector<Finding> faults(std::string_view row) {
  return parse_soil_table(std::string{header} + std::string{row} + "\n", "soils.csv").findings;
}

}  // namespace

TEST_SUITE("soil/texture") {
  TEST_CASE("sandy loam holds 65 mm in half a metre") {
    const SoilTable table = soil_table();
    const SoilTexture* soil = find_texture(table, "Sandy Loam");
    REQUIRE(soil != nullptr);
    CHECK(available_water_mm(soil->field_capacity, soil->wilting_point, 0.5) ==
          near(65.0, 1e-9));  // FAO-56 Example 38
    CHECK(soil->hydrologic_group == 'A');
    CHECK(find_texture(table, "sandy lome") == nullptr);
  }

  TEST_CASE("every texture is in all three tables, with a source") {
    const SoilTable soils = soil_table();
    const IntakeTable intakes = intake_table();
    const CurveNumberTable numbers = curve_number_table();
    CHECK(soils.size() == std::size(textures));
    CHECK(intakes.size() == 2 * std::size(textures));
    for (const std::string_view texture : textures) {
      CAPTURE(std::string{texture});
      const SoilTexture* soil = find_texture(soils, texture);
      REQUIRE(soil != nullptr);
      CHECK(!soil->source.empty());
      CHECK(soil->rew_mm < soil->tew_mm);
      const SoilIntake drip = soil_intake(intakes, texture, 0.0, Arrival::drip);
      const SoilIntake overhead = soil_intake(intakes, texture, 0.0, Arrival::overhead);
      CHECK(drip.basic_rate_mm_h >= overhead.basic_rate_mm_h);
      CHECK(drip.surface_storage_mm == overhead.surface_storage_mm);
      CHECK(!drip.source.empty());
      CHECK(curve_number(numbers, "lawn", soil->hydrologic_group) >= 39.0);
    }
  }

  TEST_CASE("a soil row is refused for each fault") {
    CHECK(faults("s,0.1,0.2,0.02,0.08,2,7,6,12,0.06,0.12,0.15,0.05,A,somewhere").empty());
    CHECK(faults("s,0.1,0.2,0.02,0.08,2,7,6,12,0.06,0.12,0.15,0.05,A,").size() == 1);  // no source
    CHECK(faults("s,0.1,0.2,0.02,0.08,2,7,6,12,0.06,0.12,0.21,0.05,A,somewhere").size() ==
          1);  // fc outside its range
    CHECK(faults("s,0.1,0.2,0.02,0.08,2,7,6,12,0.06,0.12,0.15,0.09,A,somewhere").size() ==
          1);  // wp outside its range
    CHECK(faults("s,0.1,0.2,0.02,0.08,2,7,6,12,0.06,0.12,0.15,0.05,E,somewhere").size() == 1);
    CHECK(faults("s,0.1,x,0.02,0.08,2,7,6,12,0.06,0.12,0.15,0.05,A,somewhere").size() >= 1);
    CHECK(parse_soil_table("soil,fc\nsand,0.1\n", "soils.csv").findings.size() ==
          1);  // a column missing
    const auto twice = std::string{header} +
                       "s,0.1,0.2,0.02,0.08,2,7,6,12,0.06,0.12,0.15,0.05,A,x\n" +
                       "S,0.1,0.2,0.02,0.08,2,7,6,12,0.06,0.12,0.15,0.05,A,x\n";
    const Read<SoilTable> read = parse_soil_table(twice, "soils.csv");
    REQUIRE(read.findings.size() == 1);
    CHECK(read.findings[0].at.line == 3);
    CHECK(!read.value.has_value());
  }
}

TEST_SUITE("soil/intake") {
  TEST_CASE("slope classes") {
    const IntakeTable table = intake_table();
    const auto storage_mm = [&](double slope_pct) {
      return soil_intake(table, "sandy loam", slope_pct, Arrival::overhead).surface_storage_mm;
    };
    // 0.33, 0.29, 0.24 and 0.20 in of the Irrigation Association table.
    for (const double slope : {0.0, 3.0}) CHECK(storage_mm(slope) == near(8.382, 1e-9));
    for (const double slope : {3.1, 6.0}) CHECK(storage_mm(slope) == near(7.366, 1e-9));
    for (const double slope : {6.1, 12.0}) CHECK(storage_mm(slope) == near(6.096, 1e-9));
    for (const double slope : {12.1, 45.0}) CHECK(storage_mm(slope) == near(5.08, 1e-9));
    CHECK(soil_intake(table, "sandy loam", 0.0, Arrival::overhead).basic_rate_mm_h ==
          near(10.16, 1e-9));  // 0.4 in/h
    CHECK(soil_intake(table, "sandy loam", 0.0, Arrival::drip).basic_rate_mm_h == 25.0);
    CHECK_THROWS_AS((void)storage_mm(-1.0), std::invalid_argument);
    CHECK_THROWS_AS((void)soil_intake(table, "peat", 0.0, Arrival::drip), std::invalid_argument);
  }

  TEST_CASE("every row lies in its range and has a source") {
    for (const SoilTexture& soil : soil_table()) {
      CAPTURE(soil.name);
      CHECK(soil.field_capacity >= soil.field_capacity_low);
      CHECK(soil.field_capacity <= soil.field_capacity_high);
      CHECK(soil.wilting_point >= soil.wilting_point_low);
      CHECK(soil.wilting_point <= soil.wilting_point_high);
      CHECK(soil.available_low < soil.available_high);
    }
    for (const IntakeRow& row : intake_table()) {
      CAPTURE(row.texture);
      CHECK(!row.source.empty());
      // Steeper ground lets less water stand.
      CHECK(std::is_sorted(row.storage_mm.rbegin(), row.storage_mm.rend()));
    }
    for (const CurveNumberRow& row : curve_number_table()) {
      CAPTURE(row.cover);
      CHECK(!row.source.empty());
      CHECK(std::is_sorted(row.by_group.begin(), row.by_group.end()));
    }
  }

  TEST_CASE("curve numbers by group") {
    const CurveNumberTable table = curve_number_table();
    CHECK(names(table).size() == table.size());
    CHECK(curve_number(table, "planting", 'C') == 79.0);  // TR-55 Table 2-2a: fair
    CHECK(curve_number(table, "bare", 'B') == 82.0);      // TR-55 Table 2-2a: dirt
    CHECK(curve_number(table, "lawn", 'B') == 61.0);      // TR-55 Table 2-2a
    CHECK(curve_number(table, "paving", 'A') == 98.0);
    CHECK_THROWS_AS((void)curve_number(table, "lawn", 'E'), std::invalid_argument);
    CHECK_THROWS_AS((void)curve_number(table, "moss", 'A'), std::invalid_argument);
  }
}

}  // namespace runnel

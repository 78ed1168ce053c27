#include "runnel/delivery/catch_cans.hpp"

#include <doctest/doctest.h>

#include <stdexcept>
#include <string>
#include <vector>

#include "support/near.hpp"

using namespace runnel;

namespace {

CatchCanLayout layout(double minutes = 10.0, double mouth_m2 = 0.01) {
  return {.run = Duration::minutes(minutes), .mouth = Area::m2(mouth_m2)};
}

std::string four_cans(const std::string& last) {
  return "can,volume [mL]\n1,100\n2,110\n3,120\n" + last + "\n";
}

std::vector<Finding> errors_of(const std::string& csv, const CatchCanLayout& of = layout()) {
  const auto read = parse_catch_cans(csv, "cans.csv", of);
  CHECK(read.value.has_value() != has_error(read.findings));
  std::vector<Finding> errors;
  for (const Finding& finding : read.findings)
    if (finding.kind == Finding::Kind::error) errors.push_back(finding);
  return errors;
}

/// That the file has this fault alone, at that place, with something to do about it.
void check_fault(const std::string& csv, int line, int column, const std::string& says,
                 const CatchCanLayout& of = layout()) {
  const std::vector<Finding> errors = errors_of(csv, of);
  REQUIRE(errors.size() == 1);
  CAPTURE(to_text(errors[0]));
  CHECK(errors[0].at.line == line);
  CHECK(errors[0].at.column == column);
  CHECK(errors[0].says.find(says) != std::string::npos);
  CHECK_FALSE(errors[0].mend.empty());
}

}  // namespace

TEST_CASE("catch cans - volumes become depths over the mouth") {
  const auto read = parse_catch_cans(four_cans("4,130"), "cans.csv", layout());
  REQUIRE(read.value.has_value());
  // 0.1 L over 0.01 m2 is 10 mm.
  CHECK(read.value->cans[0].depth_mm == near(10.0, 1e-12));
  CHECK_FALSE(read.value->has_positions());
  const CatchCanResult result = catch_can_result(*read.value);
  CHECK(result.mean_mm == near(11.5, 1e-12));
  CHECK(result.rate.mm_per_hour() == near(69.0, 1e-12));
  REQUIRE(read.findings.size() == 1);  // fewer than twenty
  CHECK(read.findings[0].kind == Finding::Kind::doubt);
  CHECK(read.findings[0].mend.find("at least 20") != std::string::npos);
}

TEST_CASE("catch cans - the file's own lines state time and mouth and the command line overrides") {
  const std::string csv =
      "# a still morning\n# run: 0.25 h\n# mouth: 100 cm2\n" + four_cans("4,130");
  const auto stated = parse_catch_cans(csv, "cans.csv", {});
  REQUIRE(stated.value.has_value());
  CHECK(stated.value->run.minutes() == near(15.0, 1e-12));
  CHECK(stated.value->cans[0].depth_mm == near(10.0, 1e-12));
  const auto overridden = parse_catch_cans(csv, "cans.csv", layout(5.0, 0.02));
  REQUIRE(overridden.value.has_value());
  CHECK(overridden.value->run.minutes() == 5.0);
  CHECK(overridden.value->cans[0].depth_mm == near(5.0, 1e-12));
}

TEST_CASE("catch cans - semicolons with a decimal comma and depths in inches and places") {
  const auto read = parse_catch_cans(
      "x [ft];y [ft];can;depth (in)\n0;0;a;0,5\n10;0;b;0,4\n0;10;c;0,5\n10;10;d;0,6\n", "cans.csv",
      layout());
  REQUIRE(read.value.has_value());
  CHECK(read.value->has_positions());
  CHECK(read.value->cans[1].x_m == 3.048);
  CHECK(read.value->cans[0].depth_mm == near(12.7, 1e-12));
}

TEST_CASE("catch cans - a mouth by its area or across") {
  CHECK(parse_mouth("16.6 sq in").mouth->m2() == near(16.6 * 0.0254 * 0.0254, 1e-12));
  CHECK(parse_mouth("10 cm").mouth->m2() == near(3.14159265 / 4.0 * 0.01, 1e-9));
  CHECK_FALSE(parse_mouth("10").mouth.has_value());
  CHECK_FALSE(parse_mouth("10 mL").mouth.has_value());
}

TEST_CASE("catch cans - faults at their place") {
  check_fault(four_cans("4,lots"), 5, 3, "\"lots\" is not a number");
  check_fault(four_cans("4,"), 5, 3, "the volume is missing");
  check_fault(four_cans("4,-3"), 5, 3, "less than nothing");
  check_fault(four_cans("4,1e308"), 5, 3, "no can holds 10 m");
  check_fault("can,depth [mm],x [m],y [m]\n1,1,0,0\n2,1,1e9,1\n3,1,0,3\n4,1,1,1\n", 3, 5,
              "100 km away");
  check_fault(four_cans("2,130"), 5, 1, "twice, first on line 3");
  check_fault(four_cans(",130"), 5, 1, "no name");
  check_fault("can,volume [mL]\n1,100\n2,110\n3,120\n", 1, 1, "3 cans are too few");
  check_fault("can,volume [mL]\n1,0\n2,0\n3,0\n4,0\n", 1, 1, "no can caught any water");
  check_fault("can,volume\n1,100\n2,110\n3,120\n4,130\n", 1, 5, "has no unit");
  check_fault("can,volume [kg]\n1,100\n2,110\n3,120\n4,130\n", 1, 5, "\"kg\" is no unit of volume");
  check_fault("volume [mL]\n1\n2\n3\n4\n", 1, 1, "no column \"can\"");
  check_fault("can,caught [mL]\n1,1\n2,2\n3,3\n4,4\n", 1, 1, "no column \"volume\"");
  check_fault("can,volume [mL],depth [mm]\n1,1,1\n", 1, 1, "both");
  check_fault("can,volume [mL],x [m]\n1,1,1\n", 1, 1, "both \"x\" and \"y\"");
  check_fault("can,depth [mm],x [m],y [m]\n1,1,0,0\n2,1,0,1\n3,1,0,0\n4,1,1,1\n", 4, 5,
              "first on line 2");
}

TEST_CASE("catch cans - time and mouth are needed and above nothing") {
  check_fault(four_cans("4,130"), 1, 1, "how long the valve ran",
              {.run = {}, .mouth = Area::m2(1)});
  check_fault(four_cans("4,130"), 1, 1, "size of the cans' mouths",
              {.run = Duration::minutes(5.0), .mouth = {}});
  check_fault("# run: 0 min\n" + four_cans("4,130"), 1, 8, "no time at all",
              {.run = {}, .mouth = Area::m2(1)});
  check_fault("# run: 15\n" + four_cans("4,130"), 1, 8, "15 has no unit",
              {.run = {}, .mouth = Area::m2(1)});
  check_fault("# mouth: 0 cm\n" + four_cans("4,130"), 1, 10, "larger than 0",
              {.run = Duration::minutes(5.0), .mouth = {}});
  check_fault("# run: 9 d\n" + four_cans("4,130"), 1, 8, "more than a day",
              {.run = {}, .mouth = Area::m2(1)});
  check_fault("# mouth: 95 m2\n" + four_cans("4,130"), 1, 10, "between 1 cm2 and 1 m2",
              {.run = Duration::minutes(5.0), .mouth = {}});
  CHECK(errors_of("").size() == 1);
  const CatchCanTest no_time{.cans = {{.name = "1", .depth_mm = 1.0, .x_m = {}, .y_m = {}}},
                             .run = Duration::minutes(0.0)};
  CHECK_THROWS_AS((void)catch_can_result(no_time), std::invalid_argument);
}

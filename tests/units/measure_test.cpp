#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <string_view>

#include "runnel/units/unit_table.hpp"

using runnel::Dimension;
using runnel::MeasureOrFault;
using runnel::parse_measure;

namespace {

double read(std::string_view text, Dimension dimension) {
  const MeasureOrFault measure = parse_measure(text, dimension);
  CAPTURE(text);
  CHECK(measure.fault == "");
  CHECK(measure.mend == "");
  return measure.value;
}

void check_fault(std::string_view text, Dimension dimension, std::string_view fault,
                 std::string_view mend) {
  const MeasureOrFault measure = parse_measure(text, dimension);
  CHECK(measure.fault == fault);
  CHECK(measure.mend == mend);
}

bool near(double got, double expected) {
  return std::abs(got - expected) <= 1e-12 * std::abs(expected);
}

}  // namespace

TEST_SUITE("units") {
  TEST_CASE("measure - number and unit as people write them") {
    CHECK(read("24 m2", Dimension::area) == 24.0);
    CHECK(read("24m2", Dimension::area) == 24.0);
    CHECK(read("24 m²", Dimension::area) == 24.0);
    CHECK(near(read("260 sq ft", Dimension::area), 24.1547904));
    CHECK(near(read("260  SQ \t ft ", Dimension::area), 24.1547904));
    CHECK(near(read("0.5 gph", Dimension::flow), 1.892705892));
    CHECK(read("16 L/min", Dimension::flow) == 960.0);
    CHECK(read("2 l/h", Dimension::flow) == 2.0);
    CHECK(near(read("35 psi", Dimension::pressure), 241.3165052608926));
    CHECK(read("2.8 bar", Dimension::pressure) == 280.0);
    CHECK(near(read("12in", Dimension::depth), 304.8));
    CHECK(near(read("1 inch", Dimension::length), 0.0254));
    CHECK(read("-3 degC", Dimension::temperature) == -3.0);
    CHECK(read("+3 °C", Dimension::temperature) == 3.0);
    CHECK(std::abs(read("212 F", Dimension::temperature) - 100.0) < 1e-12);
    CHECK(std::abs(read("32 degF", Dimension::temperature)) < 1e-12);
    CHECK(read("1e3 L", Dimension::volume) == 1000.0);
    CHECK(read(".5 h", Dimension::duration) == 30.0);
    CHECK(read("90 min", Dimension::duration) == 90.0);
    CHECK(read("24\xC2\xA0m2", Dimension::area) == 24.0);      // no-break space
    CHECK(read("24\xE2\x80\xAFm2", Dimension::area) == 24.0);  // narrow no-break space
  }

  TEST_CASE("measure - a share may be bare") {
    CHECK(read("30 %", Dimension::share) == doctest::Approx(0.3).epsilon(1e-15));
    CHECK(read("30%", Dimension::share) == doctest::Approx(0.3).epsilon(1e-15));
    CHECK(read("0.3", Dimension::share) == 0.3);
    CHECK(read("0", Dimension::share) == 0.0);
    CHECK(read("1", Dimension::share) == 1.0);
    CHECK(read("120 %", Dimension::share) == doctest::Approx(1.2).epsilon(1e-15));
    check_fault("30", Dimension::share, "30 is not a share between 0 and 1",
                "write \"30 %\" if percent is meant");
  }

  TEST_CASE("measure - a bare number is told how to be written") {
    check_fault("18", Dimension::area, "18 has no unit",
                "write it with a unit of area, such as \"18 m2\" or \"260 sq ft\"");
    check_fault(" 2.5 ", Dimension::flow, "2.5 has no unit",
                "write it with a unit of flow, such as \"2.5 L/h\" or \"0.5 gph\"");
    check_fault("5e-1", Dimension::duration, "5e-1 has no unit",
                "write it with a unit of time, such as \"5e-1 min\" or \"2 h\"");
    check_fault("0.33333333333333333333333333", Dimension::rate, "0.3333333333333333 has no unit",
                "write it with a unit of depth per hour, such as \"0.3333333333333333 mm/h\" or "
                "\"0.5 in/h\"");
  }

  TEST_CASE("measure - a unit that measures something else") {
    check_fault("24 bar", Dimension::area, "bar is a unit of pressure, not of area",
                "write it with a unit of area, such as \"24 m2\" or \"260 sq ft\"");
    check_fault("24 m", Dimension::area, "m is a unit of length, not of area",
                "write it with a unit of area, such as \"24 m2\" or \"260 sq ft\"");
    check_fault("24 %", Dimension::area, "% is a unit of share, not of area",
                "write it with a unit of area, such as \"24 m2\" or \"260 sq ft\"");
    check_fault("24 mm", Dimension::share, "mm is a unit of length, not of share",
                "write it as a share, such as \"30 %\" or 0.3");
  }

  TEST_CASE("measure - a slip is offered its unit, an unknown unit the list") {
    check_fault("24 m 2", Dimension::area, "\"m 2\" is not a unit of area",
                "did you mean \"24 m2\"?");
    check_fault("260 sqftt", Dimension::area, "\"sqftt\" is not a unit of area",
                "did you mean \"260 sqft\"?");
    check_fault("5 ML", Dimension::volume, "\"ML\" is not a unit of volume",
                "did you mean \"5 mL\"?");
    check_fault("24 kg", Dimension::area, "\"kg\" is not a unit of area",
                "the units of area are m2, sq ft, acre, ha, cm2, sq in");
    check_fault("2.1.3 L", Dimension::volume, "\".3 L\" is not a unit of volume",
                "the units of volume are L, mL, m3, gal, imp gal");
    check_fault("5 ft 6 in", Dimension::length, "\"ft 6 in\" is not a unit of length",
                "the units of length are m, cm, mm, km, in, ft, yd");
  }

  TEST_CASE("measure - commas in numbers") {
    check_fault("0,5 gph", Dimension::flow, "\"0,5 gph\" has a comma in its number",
                "write a decimal point, \"0.5 gph\"");
    check_fault("1,000 m2", Dimension::area, "\"1,000 m2\" has a comma in its number",
                "write a decimal point, \"1.000 m2\", or no comma, \"1000 m2\"");
  }

  TEST_CASE("measure - what is no number") {
    const std::string mend = "write it with a unit of area, such as \"12 m2\" or \"260 sq ft\"";
    check_fault("", Dimension::area, "nothing is written", mend);
    check_fault(" \t\n", Dimension::area, "nothing is written", mend);
    for (const char* text : {"m2", "--5 m2", "+-5 m2", "nan m2", "inf m2", "-inf m2", "- 5 m2", ".",
                             "-", "+", "about 5 m2", "½ m2", "\xFF\xFE"}) {
      CAPTURE(text);
      const auto measure = parse_measure(text, Dimension::area);
      CHECK(measure.fault.ends_with("does not begin with a number"));
      CHECK(measure.mend == mend);
    }
    check_fault("1e999 m2", Dimension::area,
                "\"1e999\" is a number too large or too small to be meant", "");
    CHECK_FALSE(parse_measure("0x10 m2", Dimension::area).fault.empty());
    CHECK_FALSE(parse_measure(std::string("5 m2\0", 5), Dimension::area).fault.empty());
  }

  TEST_CASE("measure - huge text ends in a short message") {
    for (const std::string& text :
         {std::string(1'000'000, '9') + " m2", "5 " + std::string(1'000'000, 'm'),
          std::string(1'000'000, 'x'), "5" + std::string(1'000'000, ',') + "m2",
          "5," + std::string(1'000'000, '1')}) {
      const auto measure = parse_measure(text, Dimension::area);
      CHECK_FALSE(measure.fault.empty());
      CHECK(measure.fault.size() < 200);
      CHECK(measure.mend.size() < 300);
    }
    CHECK(read("5" + std::string(1'000'000, ' ') + "m2", Dimension::area) == 5.0);
  }
}

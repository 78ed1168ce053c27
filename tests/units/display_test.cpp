// Figures and times of day as people read them.
#include "runnel/units/display.hpp"

#include <doctest/doctest.h>

#include <string>

#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

constexpr Display metric{};
constexpr Display us{.units = UnitSystem::us};
constexpr Display twelve{.twelve_hours = true};

std::string at(const Display& display, int hour, int minute) {
  return clock(display, WallTime{60 * hour + minute});
}

}  // namespace

TEST_SUITE("units") {
  TEST_CASE("display - metric figures are the program's own") {
    CHECK(measure(metric, Shown::depth, 20.58, 1) == "20.6 mm");
    CHECK(measure(metric, Shown::volume, 430.4, 0) == "430 L");
    CHECK(measure(metric, Shown::supply_flow, 960.0, 1) == "16.0 L/min");
    CHECK(measure(metric, Shown::pressure, 280.0, 1) == "2.8 bar");
    CHECK(measure(metric, Shown::size, 0.45, 0) == "45 cm");
    CHECK(measure(metric, Shown::bore, 0.0136, 1) == "13.6 mm");
    CHECK(measure(metric, Shown::temperature, -0.04, 1) == "0.0 degC");
  }

  TEST_CASE("display - US figures by the factors of NIST SP 811 Appendix B.8") {
    // 1 in = 25.4 mm, 1 gal = 3.785412 L, 1 ft2 = 0.09290304 m2, 1 psi = 6.894757 kPa,
    // 1 mi/h = 0.44704 m/s, 1 ft = 0.3048 m, t/degF = 1.8 t/degC + 32: worked by hand.
    CHECK(measure(us, Shown::depth, 25.4, 1) == "1.00 in");
    CHECK(measure(us, Shown::depth, 20.58, 1) == "0.81 in");         // 0.8102
    CHECK(measure(us, Shown::depth, 1.2, 0) == "0.05 in");           // 0.0472, not 0.0
    CHECK(measure(us, Shown::daily_depth, 6.1, 1) == "0.24 in/d");   // 0.2402
    CHECK(measure(us, Shown::rate, 17.5, 1) == "0.69 in/h");         // 0.6890
    CHECK(measure(us, Shown::volume, 430.4, 0) == "113.7 gal");      // 113.70
    CHECK(measure(us, Shown::area, 18.0, 2) == "193.8 sq ft");       // 193.750
    CHECK(measure(us, Shown::emitter_flow, 2.1, 1) == "0.55 gph");   // 0.5548
    CHECK(measure(us, Shown::supply_flow, 960.0, 1) == "4.23 gpm");  // 16 L/min, 4.2268
    CHECK(measure(us, Shown::pressure, 280.0, 1) == "41 psi");       // 40.61
    CHECK(measure(us, Shown::temperature, 2.0, 1) == "35.6 degF");
    CHECK(measure(us, Shown::speed, 5.0, 1) == "11.2 mph");    // 11.185
    CHECK(measure(us, Shown::height, 95.0, 0) == "312 ft");    // 311.68
    CHECK(measure(us, Shown::size, 0.45, 0) == "17.7 in");     // 17.717
    CHECK(measure(us, Shown::bore, 0.0136, 1) == "0.535 in");  // 0.5354
  }

  TEST_CASE("display - what is printed reads back, by the unit it names") {
    struct Case {
      Shown kind;
      Dimension dimension;
      double value, step;  // the least that a metric reader sees
    };
    for (const Case& one : {Case{Shown::depth, Dimension::depth, 32.5, 0.1},
                            {Shown::rate, Dimension::rate, 17.5, 0.1},
                            {Shown::volume, Dimension::volume, 85.6, 0.1},
                            {Shown::area, Dimension::area, 12.3, 0.1},
                            {Shown::emitter_flow, Dimension::flow, 2.1, 0.1},
                            {Shown::supply_flow, Dimension::flow, 972.0, 6.0},
                            {Shown::pressure, Dimension::pressure, 280.0, 10.0},
                            {Shown::temperature, Dimension::temperature, 1.3, 0.1},
                            {Shown::speed, Dimension::speed, 5.2, 0.1},
                            {Shown::height, Dimension::length, 1.9, 0.1},
                            {Shown::size, Dimension::length, 0.451, 0.001},
                            {Shown::bore, Dimension::length, 0.0136, 0.0001}})
      for (const Display& display : {metric, us}) {
        const std::string text = measure(display, one.kind, one.value, 1);
        CAPTURE(text);
        const MeasureOrFault read = parse_measure(text, one.dimension);
        REQUIRE(read.fault.empty());
        // The last digit of a US figure is worth at most three times the metric one's.
        CHECK(std::abs(read.value - one.value) <= 3.0 * one.step / 2.0 + 1e-9);
      }
  }

  TEST_CASE("display - what is there does not round to nothing") {
    CHECK(some(metric, Shown::depth, 0.05, 1) == "0.1 mm");
    CHECK(some(metric, Shown::depth, 0.049, 1) == "under 0.1 mm");
    CHECK(some(metric, Shown::volume, 0.3, 0) == "under 1 L");
    CHECK(some(us, Shown::depth, 0.1, 1) == "under 0.01 in");
    CHECK(some(us, Shown::depth, 10.9, 1) == "0.43 in");
  }

  TEST_CASE("display - times of day, where noon and midnight cannot be mistaken") {
    CHECK(at(metric, 5, 45) == "05:45");
    CHECK(at(twelve, 5, 45) == "5:45 am");
    CHECK(at(twelve, 0, 0) == "midnight");
    CHECK(at(twelve, 0, 1) == "12:01 am");
    CHECK(at(twelve, 11, 59) == "11:59 am");
    CHECK(at(twelve, 12, 0) == "noon");
    CHECK(at(twelve, 12, 1) == "12:01 pm");
    CHECK(at(twelve, 23, 5) == "11:05 pm");
    CHECK(at(twelve, 24, 0) == "midnight");
    CHECK(at(twelve, 24, 30) == "12:30 am");
    CHECK(clock_span(metric, WallTime{1230}, WallTime{1440}) == "20:30-24:00");
    CHECK(clock_span(twelve, WallTime{1230}, WallTime{1440}) == "8:30 pm-midnight");
    CHECK(clock_span(metric, WallTime{0}, WallTime{480}) == "00:00-08:00");
  }
}

}  // namespace runnel

#include "runnel/units/unit_table.hpp"

#include <doctest/doctest.h>
#include <udunits2.h>

#include <array>
#include <cmath>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <string_view>
#include <utility>

using runnel::Dimension;
using runnel::find_unit;
using runnel::Unit;
using runnel::unit_table;

namespace {

struct FreeSystem {
  void operator()(ut_system* system) const { ut_free_system(system); }
};
struct FreeUnit {
  void operator()(ut_unit* unit) const { ut_free(unit); }
};
struct FreeConverter {
  void operator()(cv_converter* converter) const { cv_free(converter); }
};
using System = std::unique_ptr<ut_system, FreeSystem>;
using UdUnit = std::unique_ptr<ut_unit, FreeUnit>;
using Converter = std::unique_ptr<cv_converter, FreeConverter>;

System udunits() {
  ut_set_error_message_handler(ut_ignore);
  return System(ut_read_xml(nullptr));
}

UdUnit parsed(const System& system, std::string_view spelling) {
  return UdUnit(ut_parse(system.get(), std::string(spelling).c_str(), UT_UTF8));
}

/// UDUNITS' spelling of the dimension's base unit: that of its first row.
std::string_view base_spelling(Dimension dimension) {
  for (const Unit& unit : unit_table()) {
    if (unit.dimension == dimension) return unit.udunits;
  }
  return {};
}

double factor_of(std::string_view name, Dimension dimension) {
  const Unit* unit = find_unit(name, dimension);
  REQUIRE(unit != nullptr);
  return unit->factor;
}

constexpr std::array all_dimensions = {Dimension::length,
                                       Dimension::depth,
                                       Dimension::area,
                                       Dimension::volume,
                                       Dimension::flow,
                                       Dimension::pressure,
                                       Dimension::temperature,
                                       Dimension::speed,
                                       Dimension::rate,
                                       Dimension::daily_depth,
                                       Dimension::daily_radiation,
                                       Dimension::hourly_radiation,
                                       Dimension::angle,
                                       Dimension::duration,
                                       Dimension::share};

}  // namespace

TEST_SUITE("units") {
  TEST_CASE("unit table - every row agrees with UDUNITS-2") {
    const System system = udunits();
    REQUIRE(system);
    for (const Unit& unit : unit_table()) {
      CAPTURE(unit.name);
      CAPTURE(unit.udunits);
      REQUIRE_FALSE(unit.udunits.empty());  // no unit of the table is unknown to UDUNITS
      const UdUnit from = parsed(system, unit.udunits);
      const UdUnit to = parsed(system, base_spelling(unit.dimension));
      REQUIRE(from);
      REQUIRE(to);
      const Converter converter(ut_get_converter(from.get(), to.get()));
      REQUIRE(converter);
      for (const double value : {-40.0, -1.0, 0.0, 0.37, 1.0, 12.5, 451.0, 98'765.4321}) {
        const double expected = cv_convert_double(converter.get(), value);
        const double got = value * unit.factor + unit.offset;
        // Relative to the largest part, for a sum that cancels to nearly nothing (32 degF).
        const double scale = std::abs(value * unit.factor) + std::abs(unit.offset);
        CHECK(std::abs(got - expected) <= 1e-12 * scale);
      }
    }
  }

  TEST_CASE("unit table - the factors are the published exact ones") {
    // NIST SP 811 (2008), Appendix B.8, factors printed in bold (exact) or to seven digits.
    CHECK(factor_of("in", Dimension::depth) == 25.4);
    CHECK(factor_of("ft", Dimension::length) == 0.3048);
    CHECK(factor_of("yd", Dimension::length) == 0.9144);
    CHECK(std::abs(factor_of("sq ft", Dimension::area) - 0.09290304) < 1e-16);
    CHECK(std::abs(factor_of("gal", Dimension::volume) - 3.785412) < 5e-7);
    CHECK(factor_of("imp gal", Dimension::volume) == 4.54609);
    CHECK(std::abs(factor_of("psi", Dimension::pressure) - 6.894757) < 5e-7);
    CHECK(std::abs(factor_of("mmHg", Dimension::pressure) - 0.1333224) < 5e-8);
    CHECK(std::abs(factor_of("mph", Dimension::speed) - 0.44704) < 1e-15);
    CHECK(std::abs(factor_of("knots", Dimension::speed) - 0.5144444) < 5e-8);
    // 43 560 square feet of the international foot; the retired survey acre is 4046.873.
    CHECK(std::abs(factor_of("acre", Dimension::area) - 4046.8564224) < 1e-9);
    // FAO-56 Table 3: 1 cal cm-2 day-1 = 4.1868 10-2 MJ m-2 day-1, 1 W m-2 = 0.0864 MJ m-2 day-1.
    CHECK(factor_of("langley/d", Dimension::daily_radiation) == 4.1868e-2);
    CHECK(factor_of("W/m2", Dimension::daily_radiation) == 0.0864);
    CHECK(factor_of("W/m2", Dimension::hourly_radiation) == 0.0036);
  }

  TEST_CASE("unit table - the langley is not the thermochemical one of UDUNITS") {
    const System system = udunits();
    REQUIRE(system);
    const UdUnit from = parsed(system, "langley/day");
    const UdUnit to = parsed(system, base_spelling(Dimension::daily_radiation));
    const Converter converter(ut_get_converter(from.get(), to.get()));
    REQUIRE(converter);
    CHECK(std::abs(cv_convert_double(converter.get(), 1.0) - 0.04184) < 1e-14);
  }

  TEST_CASE("unit table - no spelling twice, base units first and without conversion") {
    std::set<std::pair<Dimension, std::string_view>> seen;
    for (const Unit& unit : unit_table()) {
      CAPTURE(unit.name);
      CHECK(seen.emplace(unit.dimension, unit.name).second);
      CHECK(unit.factor > 0.0);
      CHECK(find_unit(unit.name, unit.dimension) == &unit);
    }
    for (const Dimension dimension : all_dimensions) {
      const Unit* base = find_unit(runnel::base_unit(dimension), dimension);
      REQUIRE(base != nullptr);
      CHECK(base->factor == 1.0);
      CHECK(base->offset == 0.0);
      CHECK_FALSE(runnel::units_of(dimension).empty());
    }
  }

  TEST_CASE("unit table - case matters only where it must") {
    CHECK(find_unit("l/h", Dimension::flow)->name == "L/h");
    CHECK(find_unit("LPH", Dimension::flow)->name == "lph");
    CHECK(find_unit("MM", Dimension::depth)->name == "mm");
    CHECK(find_unit("DEGF", Dimension::temperature)->name == "degF");
    CHECK(find_unit("Sq Ft", Dimension::area)->name == "sq ft");
    CHECK(find_unit("kpa", Dimension::pressure)->name == "kPa");
    CHECK(find_unit("ml", Dimension::volume)->name == "mL");
    CHECK(find_unit("MJ/M2/D", Dimension::daily_radiation)->name == "MJ/m2/d");
    CHECK(find_unit("Min", Dimension::duration)->name == "min");
    // A megalitre, a megametre and a megabar.
    CHECK(find_unit("ML", Dimension::volume) == nullptr);
    CHECK(find_unit("ML/min", Dimension::flow) == nullptr);
    CHECK(find_unit("Mm", Dimension::length) == nullptr);
    CHECK(find_unit("Mbar", Dimension::pressure) == nullptr);
  }

  TEST_CASE("unit table - a unit of another dimension, and no unit at all, is not found") {
    CHECK(find_unit("bar", Dimension::area) == nullptr);
    CHECK(find_unit("", Dimension::area) == nullptr);
    CHECK(find_unit("m2 ", Dimension::area) == nullptr);
    CHECK(find_unit(std::string(1'000'000, 'm'), Dimension::length) == nullptr);
    CHECK(find_unit("", Dimension::share) != nullptr);
  }

  TEST_CASE("unit table - lists for messages name each unit once") {
    CHECK(runnel::units_of(Dimension::flow) == "L/h, L/min, L/s, m3/h, mL/min, gph, gpm");
    CHECK(runnel::units_of(Dimension::temperature) == "degC, degF, K");
    CHECK(runnel::units_of(Dimension::share) == "%");
    CHECK(runnel::base_unit(Dimension::area) == "m2");
    CHECK(runnel::base_unit(Dimension::temperature) == "degC");
    CHECK(runnel::base_unit(Dimension::share).empty());
  }
}

#include <doctest/doctest.h>

#include <string>

#include "runnel/delivery/delivery.hpp"
#include "runnel/delivery/emitters.hpp"
#include "runnel/demand/table_reader.hpp"
#include "support/near.hpp"
#include "support/reference_text.hpp"

using namespace runnel;

namespace {

constexpr double mm_per_inch = 25.4;

Flow flow(TableReader& row, std::string_view column) {
  return Flow::litres_per_hour(row.measure(column, Dimension::flow));
}
Area area(TableReader& row) { return Area::m2(row.measure("area", Dimension::area)); }
double in_unit(TableReader& row, Rate of) {
  return row.text("unit") == "in/h" ? of.mm_per_hour() / mm_per_inch : of.mm_per_hour();
}

double computed(TableReader& row, const std::string& check) {
  if (check == "run_time_multiplier") return run_time_multiplier(row.number("du"));
  if (check == "rate_of_flow") {
    return in_unit(row, zone_flow(MeasuredFlow{flow(row, "flow")}, area(row)) / area(row));
  }
  if (check == "rate_of_two_drippers") {
    const Drippers two{.each = flow(row, "each"), .count = 2};
    return in_unit(row, zone_flow(two, area(row)) / area(row));
  }
  if (check == "rate_of_dripline") {
    const Dripline line{.each = flow(row, "each"),
                        .spacing_m = row.measure("spacing", Dimension::length),
                        .row_spacing_m = row.measure("rows", Dimension::length)};
    const Area any = Area::m2(7.0);
    return in_unit(row, zone_flow(line, any) / any);
  }
  REQUIRE(check == "time_for_10_gal");
  return (Volume::litres(37.85411784) / flow(row, "flow")).minutes();
}

}  // namespace

TEST_CASE("delivery - application rates and multipliers as published") {
  const std::string text = reference_text("application_rates.csv");
  TableReader row(text, "application_rates.csv", {"id", "check", "expected", "tolerance"});
  int rows = 0;
  while (row.next()) {
    ++rows;
    CAPTURE(row.text("id"));
    CHECK(computed(row, row.text("check")) ==
          near(row.number("expected"), row.number("tolerance")));
  }
  CHECK(rows == 18);
  CHECK(row.take_findings().empty());
}

#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <sstream>
#include <string>

#include "runnel/delivery/cycle_soak.hpp"
#include "runnel/delivery/delivery.hpp"
#include "runnel/delivery/emitters.hpp"
#include "runnel/demand/table_reader.hpp"
#include "support/near.hpp"

using namespace runnel;

namespace {

constexpr double mm_per_inch = 25.4;

std::string reference_text(const std::string& name) {
  std::ifstream file{std::string{RUNNEL_REFERENCE_DIR} + "/" + name, std::ios::binary};
  REQUIRE(file.good());
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

Flow flow(TableReader& row, std::string_view column) {
  return Flow::litres_per_hour(row.measure(column, Dimension::flow));
}
Area area(TableReader& row) { return Area::m2(row.measure("area", Dimension::area)); }
Rate rate(TableReader& row, std::string_view column) {
  return Rate::mm_per_hour(row.measure(column, Dimension::rate));
}
double in_unit(TableReader& row, Rate of) {
  return row.text("unit") == "in/h" ? of.mm_per_hour() / mm_per_inch : of.mm_per_hour();
}

double cycle_and_soak(TableReader& row, const std::string& check) {
  const Rate application = rate(row, "rate");
  const Intake intake{.basic_rate = rate(row, "intake"),
                      .surface_storage = Depth::mm(row.measure("storage", Dimension::depth))};
  if (check == "longest_cycle") return cycle_limit(application, intake).longest_cycle.minutes();
  const Duration cycle = Duration::minutes(row.measure("cycle", Dimension::duration));
  return soak_after(cycle, application, intake).minutes();
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
  if (check == "time_for_10_gal") {
    return (Volume::litres(37.85411784) / flow(row, "flow")).minutes();
  }
  return cycle_and_soak(row, check);
}

}  // namespace

TEST_CASE("delivery - application rates, multipliers, cycles and soaks as published") {
  const std::string text = reference_text("application_rates.csv");
  TableReader row(text, "application_rates.csv", {"id", "check", "expected", "tolerance"});
  int rows = 0;
  while (row.next()) {
    ++rows;
    CAPTURE(row.text("id"));
    const std::string check = row.text("check");
    if (check == "no_cycles") {
      const Intake intake{.basic_rate = rate(row, "intake"),
                          .surface_storage = Depth::mm(row.measure("storage", Dimension::depth))};
      CHECK(std::isinf(cycle_limit(rate(row, "rate"), intake).longest_cycle.minutes()));
      CHECK(cycle_limit(rate(row, "rate"), intake).full_soak.minutes() == 0.0);
      continue;
    }
    CHECK(computed(row, check) == near(row.number("expected"), row.number("tolerance")));
  }
  CHECK(rows == 42);
  CHECK(row.take_findings().empty());
}

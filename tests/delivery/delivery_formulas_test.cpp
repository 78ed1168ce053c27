#include <doctest/doctest.h>

#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "runnel/delivery/catch_cans.hpp"
#include "runnel/delivery/delivery.hpp"
#include "runnel/delivery/friction.hpp"
#include "runnel/delivery/heads.hpp"
#include "runnel/delivery/uniformity.hpp"
#include "runnel/demand/crop_et.hpp"
#include "runnel/demand/table_reader.hpp"
#include "support/near.hpp"
#include "support/reference_text.hpp"

using namespace runnel;

namespace {

constexpr double mm_per_inch = 25.4;
constexpr double kpa_per_psi = 6.894757;
constexpr double litres_per_gallon = 3.785411784;

/// The row's catches as a user's file: volumes when the cans have a mouth, else depths in inches.
std::string file_of_cans(TableReader& row) {
  const bool volumes = !row.text_if_any("mouth").empty();
  std::string csv = "# run: " + row.text("run") + "\n";
  if (volumes) csv += "# mouth: " + row.text("mouth") + "\n";
  csv += volumes ? "can,volume [mL]\n" : "can,depth [in]\n";
  std::istringstream catches(row.text("catches"));
  int can = 0;
  for (std::string one; catches >> one;) csv += std::to_string(++can) + "," + one + "\n";
  return csv;
}

double of_cans(TableReader& row, const std::string& check) {
  const std::string csv = file_of_cans(row);
  const auto read = parse_catch_cans(csv, "cans.csv", {});
  REQUIRE(read.value.has_value());
  const CatchCanResult result = catch_can_result(*read.value);
  if (check == "cans_low") return static_cast<double>(result.low_cans);
  if (check == "cans_du") return result.du;
  if (check == "cans_rate") return result.rate.mm_per_hour() / mm_per_inch;
  if (check == "cans_multiplier") return run_time_multiplier(result.du);
  if (check == "cans_mean_in") return result.mean_mm / mm_per_inch;
  if (check == "cans_minutes_for")
    return (Depth::mm(row.measure("depth", Dimension::depth)) / result.rate).minutes();
  REQUIRE(check == "cans_mean_ml");
  return 1000.0 * result.mean_mm * row.measure("mouth", Dimension::area);
}

/// Depth to apply for that of the row when that share of it leaches.
Depth leached_depth(TableReader& row) {
  const Delivery delivery{.flow = Flow::litres_per_hour(100.0),
                          .area = Area::m2(10.0),
                          .multiplier = 1.0,
                          .leaching_share = row.number("share")};
  const double net_mm = row.measure("depth", Dimension::depth);
  return delivery.rate() * Duration::minutes(net_mm / delivery.net_mm_per_minute());
}

/// Water of a share of reference ET over an area.
Volume allowance(TableReader& row) {
  const double eto_mm = row.measure("depth", Dimension::depth);
  return Depth::mm(crop_et_mm_d(row.number("share"), eto_mm)) *
         Area::m2(row.measure("area", Dimension::area));
}

double computed(TableReader& row, const std::string& check) {
  if (check == "head_rate") {
    const Head head{.arc_deg = row.number("arc"),
                    .each = Flow::litres_per_hour(row.measure("flow", Dimension::flow)),
                    .count = 1,
                    .radius_m = {}};
    return head_rate(head, {.along_row_m = row.measure("spacing", Dimension::length),
                            .between_rows_m = row.measure("rows", Dimension::length)})
               .mm_per_hour() /
           mm_per_inch;
  }
  if (check == "emission_uniformity")
    return 100.0 *
           emission_uniformity({.manufacturing_variation = row.number("cv"),
                                .emitters_per_plant = static_cast<int>(row.number("per_plant")),
                                .least_over_mean = row.number("least_over_mean")});
  if (check == "friction")
    return friction_loss_kpa({.length_m = row.measure("length", Dimension::length),
                              .inside_diameter_m = row.measure("diameter", Dimension::length),
                              .roughness_c = row.number("c")},
                             Flow::litres_per_hour(row.measure("flow", Dimension::flow))) /
           kpa_per_psi;
  if (check == "christiansen") return christiansen_factor(static_cast<int>(row.number("outlets")));
  if (check == "leached_depth") return leached_depth(row).mm() / mm_per_inch;
  if (check == "allowance") return allowance(row).litres() / litres_per_gallon;
  return of_cans(row, check);
}

/// "PR7" of "PR7 half by arc".
std::string formula_of(const std::string& id) { return id.substr(0, id.find(' ')); }

}  // namespace

TEST_CASE("delivery formulas - uniformity and catch cans and friction and heads as worked") {
  const std::string text = reference_text("delivery_formulas.csv");
  TableReader row(text, "delivery_formulas.csv", {"id", "check", "expected", "tolerance"});
  int rows = 0;
  while (row.next()) {
    ++rows;
    CAPTURE(row.text("id"));
    CHECK(row.text("source").size() > 5);
    CHECK(computed(row, row.text("check")) ==
          near(row.number("expected"), row.number("tolerance")));
  }
  CHECK(rows == 34);
  CHECK(row.take_findings().empty());
}

// Rates of sprinklers 3 and of drippers 4, run-time multipliers 9, catch cans 3, emission
// uniformity 2, friction 1, Christiansen's factor 13, leaching requirement 2, landscape water
// allowance 1. Of the leaching requirement the gross depth is checked, not the share itself: garden
// files state that.
TEST_CASE("delivery formulas - all 38 worked examples are checked") {
  std::set<std::string> ids;
  for (const std::string name : {"application_rates.csv", "delivery_formulas.csv"}) {
    const std::string text = reference_text(name);
    TableReader row(text, name, {"id"});
    while (row.next()) ids.insert(formula_of(row.text("id")));
  }
  const std::set<std::string> wanted = {
      "PR5",    "PR6",    "PR7",    "DR2",    "DR3",    "DR5",    "DR7",    "RTM040",
      "RTM050", "RTM055", "RTM060", "RTM070", "RTM075", "RTM080", "RTM090", "RTM100",
      "AU1",    "AU3",    "AU4",    "EU4",    "EU5",    "HW4",    "CF001",  "CF002",
      "CF003",  "CF004",  "CF005",  "CF008",  "CF010",  "CF012",  "CF020",  "CF025",
      "CF030",  "CF050",  "CF100",  "LR2",    "LR4",    "WB3"};
  CHECK(wanted.size() == 38);
  CHECK(ids == wanted);
}

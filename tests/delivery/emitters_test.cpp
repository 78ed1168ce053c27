#include "runnel/delivery/emitters.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <stdexcept>
#include <string>

#include "runnel/units/published_table.hpp"
#include "support/near.hpp"

using namespace runnel;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr std::string_view header =
    "type,drip,du,du_low,du_high,rate_low_mm_h,rate_high_mm_h,fw,fw_low,fw_high,source\n";

Flow l_h(double flow) { return Flow::litres_per_hour(flow); }

std::size_t faults_in(const std::string& rows) {
  try {
    (void)emitter_types(std::string(header) + rows);
  } catch (const InputError& error) {
    return error.findings().size();
  }
  return 0;
}

}  // namespace

TEST_CASE("emitters - flow of a zone from each way of stating it") {
  const Area area = Area::m2(18.0);
  CHECK(zone_flow(Drippers{.each = l_h(2.0), .count = 9}, area) == l_h(18.0));
  const Dripline line{.each = l_h(2.1), .spacing_m = 0.30, .row_spacing_m = 0.40};
  CHECK(zone_flow(line, area).litres_per_hour() == near(315.0, 1e-9));  // 2.1 / 0.12 * 18
  CHECK(zone_flow(SoakerHose{.per_metre = l_h(6.0), .length_m = 25.0}, area) == l_h(150.0));
  const Heads heads{{{.arc_deg = 90.0, .each = l_h(120.0), .count = 2, .radius_m = {}},
                     {.arc_deg = 180.0, .each = l_h(240.0), .count = 1, .radius_m = {}}}};
  CHECK(zone_flow(heads, area) == l_h(480.0));
  CHECK(zone_flow(MeasuredFlow{l_h(320.0)}, area) == l_h(320.0));
  CHECK(zone_flow(MeasuredRate{Rate::mm_per_hour(15.0)}, area) == l_h(270.0));
}

TEST_CASE("emitters - figures that are not above 0 are refused") {
  const Area area = Area::m2(18.0);
  const auto refused = [](const EmitterSpec& spec, Area over) {
    CHECK_THROWS_AS((void)zone_flow(spec, over), std::invalid_argument);
  };
  refused(Drippers{.each = l_h(0.0), .count = 9}, area);
  refused(Drippers{.each = l_h(2.0), .count = 0}, area);
  refused(Dripline{.each = l_h(not_a_number), .spacing_m = 0.3, .row_spacing_m = 0.4}, area);
  refused(Dripline{.each = l_h(2.0), .spacing_m = 0.0, .row_spacing_m = 0.4}, area);
  refused(Dripline{.each = l_h(2.0), .spacing_m = 0.3, .row_spacing_m = -0.4}, area);
  refused(SoakerHose{.per_metre = l_h(6.0), .length_m = 0.0}, area);
  refused(SoakerHose{.per_metre = l_h(0.0), .length_m = 20.0}, area);
  refused(Heads{}, area);
  refused(Heads{{{.arc_deg = 90.0, .each = l_h(0.0), .count = 2, .radius_m = {}}}}, area);
  refused(Heads{{{.arc_deg = 90.0, .each = l_h(9.0), .count = 0, .radius_m = {}}}}, area);
  refused(MeasuredFlow{l_h(-1.0)}, area);
  refused(MeasuredRate{Rate::mm_per_hour(not_a_number)}, area);
  refused(MeasuredRate{Rate::mm_per_hour(10.0)}, Area::m2(0.0));
}

TEST_CASE("emitters - the published table") {
  const std::vector<EmitterType> types = emitter_types(published_table("emitters"));
  CHECK(types.size() == 7);
  for (const EmitterType& type : types) {
    CAPTURE(type.name);
    CHECK(type.source.size() > 20);
    CHECK(type.du_low < type.du_high);
    CHECK(type.rate_low_mm_h < type.rate_high_mm_h);
  }
  const EmitterType* spray = find_emitter_type(types, "Spray");
  REQUIRE(spray != nullptr);
  CHECK_FALSE(spray->drip);
  CHECK(spray->du == 0.65);  // US EPA WaterSense Water Budget Approach (from memory)
  // City of College Station, Smart Watering Tips: fixed spray, from 1.25 in/h.
  CHECK(spray->rate_low_mm_h / 25.4 == near(1.25, 0.005));
  // California State University Fresno, Center for Irrigation Technology: pop-up spray, 1.7 in/h.
  CHECK(spray->rate_high_mm_h / 25.4 == near(1.7, 0.05));
  REQUIRE(find_emitter_type(types, " dripline ") != nullptr);
  CHECK(find_emitter_type(types, "dripline")->drip);
  CHECK(find_emitter_type(types, "drip") == nullptr);
  // FAO-56 Table 20: sprinkler 1.0, trickle 0.3-0.4.
  CHECK(spray->fw == 1.0);
  CHECK(find_emitter_type(types, "dripline")->fw_low == 0.3);
  CHECK(find_emitter_type(types, "dripper")->fw_high == 0.4);
}

TEST_CASE("emitters - faults of a table are all found") {
  CHECK(faults_in("a,yes,0.8,0.7,0.9,5,10,1,1,1,x\n") == 0);
  CHECK(faults_in("a,maybe,0.8,0.7,0.9,5,10,1,1,1,x\n") == 1);
  CHECK(faults_in("a,yes,0.95,0.7,0.9,5,10,1,1,1,x\n") == 1);
  CHECK(faults_in("a,yes,0.8,0.7,1.9,5,10,1,1,1,x\n") == 1);
  CHECK(faults_in("a,yes,0.8,0,0.9,5,10,1,1,1,x\n") == 1);
  CHECK(faults_in("a,yes,0.8,0.7,0.9,15,10,1,1,1,x\n") == 1);
  CHECK(faults_in("a,yes,0.8,0.7,0.9,5,ten,1,1,1,x\n") ==
        2);  // not a number, and so below the low one
  CHECK(faults_in("a,yes,0.8,0.7,0.9,5,10,1,1,1,\n") == 1);
  CHECK(faults_in("a,yes,0.8,0.7,0.9,5,10,1,1,1,x\nA,no,0.8,0.7,0.9,5,10,1,1,1,x\n") == 1);
  CHECK(faults_in("a,yes,0.8,0.7,0.9,5,10,0.2,0.3,0.4,x\n") == 1);  // fw below its own range
  CHECK(faults_in("a,yes,0.8,0.7,0.9,5,10,0.5,0,1.2,x\n") == 2);
  CHECK(faults_in("a,,0.8,0.7,0.9,5,10,1,1,1,x\nb,perhaps,2,0.7,0.9,5,10,1,1,1,x\n") == 3);
}

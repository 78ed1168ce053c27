// What the weather asks beside the programme: against depletions summed by hand.
#include "runnel/garden/advice.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <filesystem>
#include <string>
#include <vector>

#include "runnel/garden/plan_garden.hpp"
#include "support/temporary_folder.hpp"

namespace runnel {
namespace {

using std::chrono::days;

const Date monday = *parse_date("2027-06-14");

/// Days from `first` on, a row each.
std::string weather(Date first, const std::string& columns, const std::vector<std::string>& rows) {
  std::string text = "date," + columns + "\n";
  for (std::size_t day = 0; day < rows.size(); ++day)
    text += iso_date(first + days{static_cast<int>(day)}) + "," + rows[day] + "\n";
  return text;
}

/// A bed that can hold 200 mm and spare half, 100 mm; half of the reference ET; 12 mm/h brought
/// evenly on 10 m2: 0.2 mm and 2 L a minute. Ground that takes in what comes.
std::string bed(const std::string& depletion, const std::string& more = "") {
  return "  - {name: bed, valve: 1, area: 10 m2, plants: {kind: mixed shrubs, coefficient: 0.5, "
         "root depth: 1 m}, exposure: {factor: 1}, soil: {texture: loam, field capacity: 0.30, "
         "wilting point: 0.10}, emitters: {type: spray, rate: 12 mm/h, uniformity: 100 %}, "
         "depletion: " +
         depletion + more + "}\n";
}

GardenPlan planned(const std::string& observed, const std::string& forecast,
                   const std::string& rule, const std::string& zones,
                   const std::string& hours = "[\"05:00-08:00\"]") {
  const TemporaryFolder folder;
  const std::string observed_file = folder.write("observed.csv", observed);
  const std::string forecast_file = folder.write("forecast.csv", forecast);
  const Read<Garden> read = read_garden(
      "garden: advised\nsite: {latitude: 38.72, longitude: -9.14, elevation: 95 m, timezone: "
      "Europe/Lisbon}\nweather: {observed: " +
          observed_file + (forecast.empty() ? "" : ", forecast: " + forecast_file) +
          "}\nwatering hours: " + hours + "\n" + rule + "zones:\n" + zones,
      "advised.yaml");
  for (const Finding& finding : read.findings)
    if (finding.kind == Finding::Kind::error) FAIL(to_text(finding));
  return plan_garden(*read.value, {.from = monday});
}

const std::string tuesdays = "rules: [{days: [Tue]}]\n";

/// Seven days of 7 mm, the last with so much rain.
std::string seven_days(const std::string& last_rain) {
  std::vector<std::string> rows(7, "0,7");
  rows.back() = last_rain + ",7";
  return weather(monday - days{7}, "rain,reference_et", rows);
}

/// A week of 12 to 20 degC but for the lowest of Tuesday and Wednesday.
std::string cold_week(const std::string& tuesday_c, const std::string& wednesday_c) {
  std::vector<std::string> rows(7, "20,12,0");
  rows[1] = "20," + tuesday_c + ",0";
  rows[2] = "20," + wednesday_c + ",0";
  return weather(monday, "tmax [degC],tmin [degC],rain [mm]", rows);
}

std::string mild_days() {
  return weather(monday - days{7}, "tmax [degC],tmin [degC],rain [mm]",
                 std::vector<std::string>(7, "20,12,0"));
}

}  // namespace

TEST_SUITE("garden/advice") {
  // 3.5 mm a day from 60 mm: without Tuesday's water 60 + 8 x 3.5 = 88 mm by the Tuesday after,
  // within 100 mm.
  TEST_CASE("advice - after rain the first watering is left out where the ground lasts") {
    const GardenPlan rained = planned(seven_days("9"), "", tuesdays, bed("60 mm"));
    REQUIRE(rained.plan.zones[0].watering_days == 1);
    REQUIRE(rained.advice.waterings.size() == 1);
    const WateringAdvice& advice = rained.advice.waterings[0];
    CHECK(advice.why == WateringAdvice::Why::rain);
    CHECK(advice.leave_out);
    CHECK(iso_date(advice.date) == "2027-06-15");
    CHECK(advice.zones == std::vector<std::size_t>{0});
    CHECK(advice.rained_mm == doctest::Approx(9.0));
    CHECK(advice.rain_expected_mm == 0.0);
    CHECK_FALSE(advice.start_assumed);
    int minutes = 0;
    for (const ValveTimes::Opening& opening : rained.plan.valves[0].openings)
      minutes += static_cast<int>(opening.length.count());
    CHECK(advice.litres == doctest::Approx(2.0 * minutes).epsilon(1e-9));
    CHECK(rained.advice.frost.empty());

    // Light rain (FAO-56 chapter 8: below 0.2 of 7 mm, 1.4 mm) and none are no reason.
    CHECK(planned(seven_days("1.3"), "", tuesdays, bed("60 mm")).advice.empty());
    CHECK(planned(seven_days("0"), "", tuesdays, bed("60 mm")).advice.empty());
    // Nor is rain that does not get there.
    CHECK(planned(seven_days("9"), "", tuesdays, bed("60 mm, rain reaches: 0 %")).advice.empty());
  }

  // From 78 mm: on Monday the week after 78 + 7 x 3.5 = 102.5 mm, past the plan but before the
  // next watering. From 71 mm: 71 + 8 x 3.5 = 99 mm on that Tuesday evening, still within.
  TEST_CASE("advice - the ground must last until the watering after is given") {
    const GardenPlan dry = planned(seven_days("9"), "", tuesdays, bed("78 mm"));
    REQUIRE(dry.plan.zones[0].watering_days == 1);
    CHECK(dry.advice.empty());
    CHECK(planned(seven_days("9"), "", tuesdays, bed("71 mm")).advice.waterings.size() == 1);
  }

  // 30 mm of rain on Wednesday: from 92 mm, Tuesday ends at 99, Wednesday after the rain at 72.5,
  // the Tuesday after at 93.5 mm. Without it the limit is passed on Wednesday.
  TEST_CASE("advice - rain in the forecast counts where it comes in time") {
    const auto forecast = [](const std::string& wednesday, const std::string& friday) {
      std::vector<std::string> rows(14, "0,7");
      rows[2] = wednesday + ",7";
      rows[4] = friday + ",7";
      return weather(monday, "rain,reference_et", rows);
    };
    const GardenPlan in_time =
        planned(seven_days("0"), forecast("30", "0"), tuesdays, bed("92 mm"));
    REQUIRE(in_time.plan.zones[0].watering_days == 1);
    REQUIRE(in_time.advice.waterings.size() == 1);
    CHECK(in_time.advice.waterings[0].rain_expected_mm == doctest::Approx(30.0));
    CHECK(in_time.advice.waterings[0].rained_mm == 0.0);
    const GardenPlan late = planned(seven_days("0"), forecast("0", "30"), tuesdays, bed("92 mm"));
    REQUIRE(late.plan.zones[0].watering_days == 1);
    CHECK(late.advice.empty());
  }

  TEST_CASE("advice - a valve of two zones is left shut when both last") {
    const auto two = [](const std::string& second) {
      std::string zones = bed("60 mm", ", shared valve: yes");
      std::string other = bed(second, ", shared valve: yes");
      other.replace(other.find("name: bed"), 9, "name: plot");
      return zones + other;
    };
    const GardenPlan both = planned(seven_days("9"), "", tuesdays, two("60 mm"));
    REQUIRE(both.advice.waterings.size() == 1);
    CHECK(both.advice.waterings[0].zones == std::vector<std::size_t>{0, 1});
    CHECK(planned(seven_days("9"), "", tuesdays, two("78 mm")).advice.empty());
  }

  TEST_CASE("advice - frost is named at 4 degC and below, and its watering left out") {
    const GardenPlan cold = planned(mild_days(), cold_week("4.0", "4.1"), tuesdays, bed("60 mm"));
    REQUIRE(cold.plan.zones[0].watering_days == 1);
    REQUIRE(cold.advice.frost.size() == 1);
    CHECK(iso_date(cold.advice.frost[0].date) == "2027-06-15");
    CHECK(cold.advice.frost[0].lowest_c == doctest::Approx(4.0));
    REQUIRE(cold.advice.waterings.size() == 1);
    CHECK(cold.advice.waterings[0].why == WateringAdvice::Why::frost);
    CHECK(iso_date(cold.advice.waterings[0].date) == "2027-06-15");
    // Eight days of at most 5 mm x 0.5 are 20 mm: 80 mm at most.
    CHECK(cold.weather.eto_mm.maxCoeff() < 5.0);
    CHECK(cold.advice.waterings[0].leave_out);

    // On Wednesday no valve is open: the caution alone.
    const GardenPlan dry_day = planned(mild_days(), cold_week("5", "-4"), tuesdays, bed("60 mm"));
    REQUIRE(dry_day.advice.frost.size() == 1);
    CHECK(iso_date(dry_day.advice.frost[0].date) == "2027-06-16");
    CHECK(dry_day.advice.waterings.empty());
    CHECK(planned(mild_days(), cold_week("5", "5"), tuesdays, bed("60 mm")).advice.empty());
  }

  // From 97 mm: Monday brings it to 98.5 or more (3 mm x 0.5), Tuesday and Wednesday past 100.
  TEST_CASE("advice - a watering into frost that the ground cannot do without is needed") {
    const GardenPlan cold = planned(mild_days(), cold_week("1", "8"), tuesdays, bed("97 mm"));
    REQUIRE(cold.plan.zones[0].watering_days == 1);
    CHECK(cold.weather.eto_mm.head(3).minCoeff() > 2.5);
    REQUIRE(cold.advice.waterings.size() == 1);
    CHECK_FALSE(cold.advice.waterings[0].leave_out);
  }

  TEST_CASE("advice - water of the evening before lies there on the frosty morning") {
    const GardenPlan evening =
        planned(mild_days(), cold_week("8", "-1"), tuesdays, bed("85 mm"), "[\"19:00-22:00\"]");
    REQUIRE(evening.plan.zones[0].watering_days == 1);
    REQUIRE(evening.advice.waterings.size() == 1);
    CHECK(iso_date(evening.advice.waterings[0].date) == "2027-06-15");
    CHECK(iso_date(evening.advice.frost.at(0).date) == "2027-06-16");
    // That day's own evening is past its cold morning.
    CHECK(planned(mild_days(), cold_week("-1", "8"), tuesdays, bed("85 mm"), "[\"19:00-22:00\"]")
              .advice.waterings.empty());
  }
}

}  // namespace runnel

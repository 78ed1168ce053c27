// What the water log makes of the days since a plan. All depletions are summed on paper: 3.5 mm a
// day (7 mm of reference ET x 0.5), 2 mm from the valve on 4, 7 and 10 July, 20 mm dry on 3 July,
// so 33.5 mm on the morning of the 8th; FAO-56 Eq. 85 without runoff or drainage.
#include <doctest/doctest.h>

#include <algorithm>
#include <optional>
#include <string>

#include "plain_bed.hpp"
#include "runnel/garden/carry_on.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/garden/plan_file.hpp"
#include "support/near.hpp"
#include "support/temporary_folder.hpp"

namespace runnel {
namespace {

using std::chrono::days;

constexpr double without_log_mm = 33.5;

WaterLog log_of(const std::string& rows, const Garden& garden) {
  std::vector<Finding> findings;
  return value_or_throw(read_water_log("date,zone,what,amount\n" + rows, "log.csv", garden),
                        findings);
}

/// On the morning of 8 July.
double depletion_mm(const std::string& rows, const Garden& garden = plain_bed(),
                    Date date = july(8)) {
  std::vector<Finding> findings;
  const SiteWeather weather = read_site_weather(garden, findings);
  PastWater water = planned_water(plain_plan(), date);
  water.log = log_of(rows, garden);
  return states_at(garden, weather, plain_plan(), date, water, findings).at(0)->depletion_mm;
}

/// The plain bed with a log of its own.
class Logged {
 public:
  explicit Logged(const std::string& rows, const std::string& more = "")
      : garden_(plain_bed(more)) {
    garden_.log = folder_.write("log.csv", "date,zone,what,amount\n" + rows);
  }
  [[nodiscard]] const Garden& garden() const { return garden_; }
  [[nodiscard]] GardenPlan plan(const std::optional<SavedPlan>& after, Date from = july(8)) const {
    return plan_garden(garden_, {.from = from, .after = after});
  }

 private:
  TemporaryFolder folder_;
  Garden garden_;
};

std::string source_of_start(const GardenPlan& planned) {
  for (const Fact& fact : planned.zones.at(0).facts)
    if (fact.what == "depletion at the start") return fact.source;
  return {};
}

std::string doubts(const GardenPlan& planned) {
  return says_all(planned.findings, Finding::Kind::doubt);
}
std::string remarks(const GardenPlan& planned) {
  return says_all(planned.findings, Finding::Kind::remark);
}

}  // namespace

TEST_SUITE("log since plan") {
  TEST_CASE("log since plan - what ran otherwise makes the bed drier or moister by its depth") {
    CHECK(depletion_mm("") == near(without_log_mm, 1e-9));
    CHECK(depletion_mm("2026-07-04,bed,did not run,\n") == near(35.5, 1e-9));
    CHECK(depletion_mm("2026-07-04,bed,did not run,\n2026-07-07,,did not run,\n") ==
          near(37.5, 1e-9));
    CHECK(depletion_mm("2026-07-04,bed,ran,20 min\n") == near(31.5, 1e-9));    // 4 mm for 2
    CHECK(depletion_mm("2026-07-05,bed,ran,20 min\n") == near(29.5, 1e-9));    // 4 mm for none
    CHECK(depletion_mm("2026-07-05,bed,by hand,30 L\n") == near(30.5, 1e-9));  // over 10 m2
    CHECK(depletion_mm("2026-07-04,valve 1,by hand,15 min\n") == near(30.5, 1e-9));
    CHECK(depletion_mm("2026-07-05,bed,by hand,1 mm\n2026-07-05,bed,by hand,2 mm\n") ==
          near(30.5, 1e-9));
  }

  TEST_CASE("log since plan - a run by hand that the plan asked for") {
    SavedPlan plan = plain_plan();
    plan.by_hand = {{.date = plan.from, .valve = 1, .minutes = 15}};  // 3 mm
    const auto planned = [&plan](const std::string& rows) { return Logged(rows).plan(plan); };
    const auto start_mm = [](const GardenPlan& from) {
      return from.plan.zones.at(0).start_depletion_mm;
    };
    const GardenPlan as_asked = planned("");
    CHECK(start_mm(as_asked) == near(without_log_mm - 3.0, 1e-9));
    const std::string date = iso_date(plan.from);
    const GardenPlan not_done = planned(date + ",bed,by hand,0 min\n");
    CHECK(start_mm(not_done) == near(without_log_mm, 1e-9));
    CHECK(remarks(not_done).find("in place of the 15 min by hand") != std::string::npos);
    const GardenPlan with_can = planned(date + ",bed,by hand,10 L\n");
    CHECK(start_mm(with_can) == near(without_log_mm - 1.0, 1e-9));
    CHECK(remarks(with_can).find("in place of the 15 min by hand") != std::string::npos);
    // On a day that asked for none.
    const GardenPlan of_nothing = planned("2026-07-05,bed,by hand,0 mm\n");
    CHECK(start_mm(of_nothing) == near(without_log_mm - 3.0, 1e-9));
    CHECK(doubts(of_nothing).find("no run by hand was asked for") != std::string::npos);
  }

  TEST_CASE("log since plan - gauges of the garden and of the zone") {
    CHECK(depletion_mm("2026-07-06,,rain,6 mm\n") == near(27.5, 1e-9));
    // Half of the rain reaches the bed: 3 of the garden's 6 mm; its own gauge caught 4.
    const Garden eaves = plain_bed(", rain reaches: 50 %");
    CHECK(depletion_mm("2026-07-06,,rain,6 mm\n", eaves) == near(30.5, 1e-9));
    CHECK(depletion_mm("2026-07-06,,rain,6 mm\n2026-07-06,bed,rain,4 mm\n", eaves) ==
          near(29.5, 1e-9));
    // 13 and 14 July were not observed: 2 mm of use each, 2 mm from the valve on the 13th, and the
    // 3 mm of rain that the plan assumed for the 14th.
    const double on_13_mm = depletion_mm("", plain_bed(), july(13));
    CHECK(depletion_mm("", plain_bed(), july(15)) == near(on_13_mm + 4.0 - 2.0 - 3.0, 1e-9));
    CHECK(depletion_mm("2026-07-14,,rain,0 mm\n2026-07-13,,rain,5 mm\n", plain_bed(), july(15)) ==
          near(on_13_mm + 4.0 - 2.0 - 5.0, 1e-9));
  }

  // Loam holds (0.25 - 0.12) x 1 m = 130 mm (FAO-56 Eq. 82); moist: 62.5 % of it still there.
  TEST_CASE("log since plan - the bed goes on from what was found in the evening") {
    CHECK(depletion_mm("2026-07-05,bed,depletion,8 mm\n") == near(8.0 + 2 * 3.5 - 2.0, 1e-9));
    CHECK(depletion_mm("2026-07-05,bed,feel,moist\n") == near(0.375 * 130.0 + 2 * 3.5 - 2.0, 1e-9));
    CHECK(depletion_mm("2026-07-07,bed,depletion,8 mm\n") == 8.0);
    const GardenPlan planned = Logged("2026-07-07,bed,depletion,8 mm\n").plan(plain_plan());
    REQUIRE_FALSE(planned.past.at(0).empty());
    CHECK(planned.past.at(0).back().end_mm == near(without_log_mm, 1e-9));
    CHECK(planned.past.at(0).back().found_mm == 8.0);
    CHECK_FALSE(planned.past.at(0).front().found_mm);
    CHECK(depletion_mm("2026-07-04,bed,depletion,50 mm\n2026-07-05,bed,depletion,8 mm\n") ==
          near(8.0 + 2 * 3.5 - 2.0, 1e-9));
    // The evening before the plan's first day; what was found before that is past.
    CHECK(depletion_mm("2026-07-02,bed,depletion,10 mm\n") == near(10.0 + 5 * 3.5 - 4.0, 1e-9));
    CHECK(depletion_mm("2026-07-01,bed,depletion,10 mm\n") == near(without_log_mm, 1e-9));
    CHECK(depletion_mm("2026-07-08,bed,depletion,10 mm\n") == near(without_log_mm, 1e-9));
    // What ran before a reading is in it.
    CHECK(depletion_mm("2026-07-04,bed,did not run,\n2026-07-04,bed,depletion,25 mm\n") ==
          near(25.0 + 3 * 3.5 - 2.0, 1e-9));
  }

  TEST_CASE("log since plan - a reading leaves the dry part and the surface as they were") {
    const std::string path = std::string(RUNNEL_SOURCE_DIR) + "/examples/kitchen/garden.yaml";
    const Garden garden = read(read_file(path), path);
    std::vector<Finding> findings;
    const SiteWeather weather = read_site_weather(garden, findings);
    const Date last = weather.observed.last_day() + days{1};
    const SavedPlan saved = saved_plan(garden, plan_garden(garden, {.from = last - days{10}}));
    PastWater water = planned_water(saved, last);
    const auto without = states_at(garden, weather, saved, last, water, findings);
    // Neither looks at the root zone's depletion: so they stay the same after a cut in the middle.
    for (const int ago : {1, 5}) {
      std::string rows;
      for (const Zone& zone : garden.zones)
        rows += iso_date(last - days{ago}) + "," + zone.name + ",depletion,1.5 mm\n";
      water.log = log_of(rows, garden);
      const auto with = states_at(garden, weather, saved, last, water, findings);
      for (std::size_t z = 0; z < with.size(); ++z) {
        CAPTURE(garden.zones[z].name);
        if (ago == 1) CHECK(with[z]->depletion_mm == 1.5);
        CHECK(without[z]->depletion_mm != near(1.5, 0.1));
        CHECK(with[z]->dry_mm == near(without[z]->dry_mm, 1e-9));
        CHECK(with[z]->surface_mm == near(without[z]->surface_mm, 1e-9));
        CHECK(with[z]->surface_fw == without[z]->surface_fw);
      }
    }
    CHECK(std::any_of(without.begin(), without.end(),
                      [](const auto& state) { return state->surface_mm > 0.0; }));
  }

  TEST_CASE("log since plan - a plan begins from the log's state and says what corrected it") {
    const Logged logged("2026-07-04,bed,did not run,\n2026-07-05,bed,feel,moist\n");
    const GardenPlan planned = logged.plan(plain_plan());
    CHECK(planned.plan.zones.at(0).start_depletion_mm == near(0.375 * 130.0 + 5.0, 1e-9));
    CHECK(source_of_start(planned) ==
          "carried on from plan.yaml over 5 days, corrected by the finger test of Sun 5 Jul");
    CHECK(doubts(planned) == doubts(Logged("").plan(plain_plan())));
    // Saved, it begins from there whatever stands in the log of the days before it.
    std::vector<Finding> findings;
    const SavedPlan second = value_or_throw(
        read_plan_file(plan_file_text(logged.garden(), planned), "second.yaml"), findings);
    const GardenPlan third = logged.plan(second, july(9));
    const BalanceTrace& first_day = planned.plan.zones[0].trace;
    CHECK(third.plan.zones[0].start_depletion_mm == near(first_day.end_mm[0], 1e-9));
    CHECK(source_of_start(third) == "carried on from second.yaml over 1 day");
    CHECK(has(remarks(third),
              "2 entries before 2026-07-08 are not looked at: taken to be in "
              "second.yaml"));
  }

  TEST_CASE("log since plan - what was found the evening before is where a plan begins") {
    const Logged logged("2026-07-07,bed,depletion,8 mm\n");
    const GardenPlan first = logged.plan(std::nullopt);
    CHECK(first.plan.zones.at(0).start_depletion_mm == 8.0);
    CHECK(source_of_start(first) == "moisture reading of Tue 7 Jul");
    CHECK_FALSE(first.zones[0].start_assumed);
    CHECK_FALSE(has(remarks(first), "half the limit"));
    // A change of the garden is planned from there too.
    const std::size_t bed = 0;
    const Plan again = plan_again(logged.garden(), first, {&bed, 1}, {.from = july(8)});
    CHECK(again.zones[0].start_depletion_mm == 8.0);
    const GardenPlan too_late = logged.plan(std::nullopt, july(9));
    CHECK(too_late.zones[0].start_assumed);
    CHECK(has(doubts(too_late), "bed: the moisture reading of Tue 7 Jul is not looked at"));
    CHECK(doubts(first) == doubts(Logged("").plan(std::nullopt)));

    SavedPlan today = plain_plan();
    today.from = july(8);
    const GardenPlan anew = logged.plan(today);
    CHECK(anew.plan.zones[0].start_depletion_mm == 8.0);
    CHECK(source_of_start(anew) ==
          "carried on from plan.yaml over 0 days, corrected by the moisture reading of Tue 7 Jul");
    SavedPlan other = plain_plan();
    other.zones[0].name = "gone";
    CHECK(logged.plan(other).plan.zones[0].start_depletion_mm == 8.0);
    const GardenPlan stated =
        Logged("2026-07-07,bed,depletion,8 mm\n", ", depletion: 5 mm").plan({});
    CHECK(stated.plan.zones[0].start_depletion_mm == 8.0);
    CHECK(has(remarks(stated), "written in the garden file is not looked at"));
  }

  TEST_CASE("log since plan - the garden's gauge is in the weather of the plan itself") {
    const Logged logged("2026-07-06,,rain,6 mm\n");
    const GardenPlan planned = logged.plan(std::nullopt);
    CHECK(planned.weather.rain_before_mm.size() == 7);
    CHECK(planned.weather.rain_before_mm[5] == 6.0);  // 1 July is the first
    CHECK(planned.weather.rain_before_mm.sum() == 6.0);
    CHECK(planned.observed_digest != Logged("").plan(std::nullopt).observed_digest);
    CHECK(logged.plan(std::nullopt, july(6)).weather.rain_before_mm.sum() == 0.0);
  }

  // 12 mm/h over 10 m2 are 2 L a minute: 20 L on 4 and on 7 July.
  TEST_CASE("log since plan - a meter tells of a leak and of a blocked line") {
    const std::string before = "2026-07-02,,meter,1000 L\n";
    const auto says = [&](const std::string& rows) {
      return doubts(Logged(before + rows).plan(plain_plan()));
    };
    CHECK(has(says("2026-07-07,,meter,1100 L\n"),
              "counted 100 L from Fri 3 Jul to Tue 7 Jul, expected were 40 L: 60 L or 150 % more, "
              "a leak is likely"));
    CHECK_FALSE(has(says("2026-07-07,,meter,1040 L\n"), "meter"));
    CHECK(has(remarks(Logged(before + "2026-07-07,,meter,1040 L\n").plan(plain_plan())),
              "the meter counted 40 L"));
    // All that the log says is expected: 20 L more by hand, 60 L of a longer run for 20 L.
    const std::string more = "2026-07-05,bed,by hand,20 L\n2026-07-04,bed,ran,30 min\n";
    CHECK(has(says(more + "2026-07-07,,meter,1060 L\n"),
              "expected were 100 L: 40 L or 40 % less, a blocked line is likely"));
    CHECK_FALSE(has(says(more + "2026-07-07,,meter,1100 L\n"), "meter"));
  }

  TEST_CASE("log since plan - a meter that cannot be compared is remarked") {
    const std::string alone = remarks(Logged("2026-07-07,,meter,1100 L\n").plan(plain_plan()));
    CHECK(has(alone, "the meter of Tue 7 Jul is not compared"));
    const GardenPlan straddling =
        Logged("2026-07-01,,meter,0 L\n2026-07-07,,meter,1100 L\n").plan(plain_plan());
    CHECK(has(remarks(straddling), "there is no reading of Thu 2 Jul or later"));
    CHECK_FALSE(has(doubts(straddling), "meter"));
    SavedPlan plan = plain_plan();
    plan.zones.push_back(plan.zones[0]);
    plan.zones[1].name = "gone";
    const GardenPlan gone = Logged("2026-07-02,,meter,0 L\n2026-07-07,,meter,1100 L\n").plan(plan);
    CHECK(has(remarks(gone), "the flow of \"gone\", which is no longer in the garden"));
    CHECK_FALSE(has(doubts(gone), "meter"));
  }

  TEST_CASE("log since plan - entries that cannot count are doubted") {
    const auto says = [](const std::string& rows, const std::string& more = "") {
      return doubts(Logged(rows, more).plan(plain_plan()));
    };
    CHECK(has(says("2026-07-08,bed,by hand,5 mm\n2026-07-09,bed,by hand,5 mm\n"),
              "2 entries from 2026-07-08 on are not looked at: the plan begins on 2026-07-08"));
    CHECK(has(says("2026-07-05,bed,did not run,\n"), "nothing was planned for Sun 5 Jul in bed"));
    CHECK(has(says("2026-07-05,,did not run,\n"), "nothing was planned for Sun 5 Jul"));
    CHECK_FALSE(has(says("2026-07-04,,did not run,\n"), "nothing was planned"));
    CHECK(has(says("2026-07-05,bed,depletion,400 mm\n"),
              "bed: 400.0 mm are missing, but its root zone holds no more than 130.0 mm"));
    const std::string last_evening = says("2026-07-07,bed,depletion,400 mm\n");
    CHECK(has(last_evening, "400.0 mm"));
    CHECK(last_evening.find("400.0 mm") == last_evening.rfind("400.0 mm"));  // once
    CHECK(has(says("2026-07-05,bed,rain,4 mm\n", ", rain reaches: 0 %"), "that none reaches it"));
    CHECK_FALSE(has(says("2026-07-05,bed,rain,4 mm\n"), "reaches it"));
  }

  TEST_CASE("log since plan - a log that is not there changes nothing and one with faults stops") {
    Garden garden = plain_bed();
    const GardenPlan none = plan_garden(garden, {.from = july(8), .after = plain_plan()});
    const TemporaryFolder folder;
    garden.log = folder / "log.csv";
    const GardenPlan missing = plan_garden(garden, {.from = july(8), .after = plain_plan()});
    CHECK(plan_file_text(garden, missing) == plan_file_text(garden, none));
    CHECK(doubts(missing) == doubts(none));
    CHECK(has(remarks(missing), "nothing has been logged"));
    folder.write("log.csv", "date,zone,what,amount\n2026-07-04,bde,did not run,\n");
    CHECK_THROWS_WITH_AS(
        static_cast<void>(plan_garden(garden, {.from = july(8), .after = plain_plan()})),
        doctest::Contains("log.csv:2:12: error: no zone is called \"bde\""), InputError);
  }
}

}  // namespace runnel

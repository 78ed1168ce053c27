// From one week's plan to the next: the soil's state through the days between.
#include "runnel/garden/carry_on.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "plain_bed.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/garden/plan_file.hpp"
#include "runnel/garden/plan_garden.hpp"
#include "support/near.hpp"
#include "support/temporary_folder.hpp"

namespace runnel {
namespace {

using std::chrono::days;

struct Carried {
  double depletion_mm;
  std::vector<Finding> findings;
};
Carried carried_to(Date date, const Garden& garden, const SavedPlan& plan, PastWater water) {
  std::vector<Finding> ignored;
  const SiteWeather weather = read_site_weather(garden, ignored);
  Carried carried{};
  const auto states = states_at(garden, weather, plan, date, water, carried.findings);
  REQUIRE(states.at(0));
  carried.depletion_mm = states[0]->depletion_mm;
  return carried;
}
Carried carried_to(Date date, const SavedPlan& plan = plain_plan()) {
  return carried_to(date, plain_bed(), plan, planned_water(plan, date));
}

std::string refusal(Date date) {
  try {
    static_cast<void>(carried_to(date));
  } catch (const InputError& error) {
    return error.findings().at(0).says;
  }
  return {};
}

/// The terrace of the examples in a folder of its own, its forecast become weather.
class Terrace {
 public:
  Terrace() {
    std::filesystem::copy(RUNNEL_SOURCE_DIR "/examples/terrace", folder_.path(),
                          std::filesystem::copy_options::recursive);
  }
  [[nodiscard]] std::string file(const std::string& name) const { return folder_ / name; }
  [[nodiscard]] Garden garden() const {
    return read(read_file(file("garden.yaml")), file("garden.yaml"));
  }
  void observe_days_of_forecast(int count) const {
    const std::string forecast = read_file(file("forecast.csv"));
    std::string rows;
    std::size_t at = forecast.find("\n20") + 1;
    for (int day = 0; day < count; ++day) {
      const std::size_t end = forecast.find('\n', at) + 1;
      rows += forecast.substr(at, end - at);
      at = end;
    }
    std::ofstream(file("weather.csv"), std::ios::app) << rows;
  }

 private:
  TemporaryFolder folder_;
};

}  // namespace

TEST_SUITE("carry on") {
  // FAO-56 Eq. 85, with neither rain nor runoff nor drainage: D_i = D_(i-1) - I_i + ETc_i, worked
  // by hand: 20 + 3.5 mm a day - 2 mm on 4, 7 and 10 July.
  TEST_CASE("carry on - a bed's depletion through watered days is that worked by hand") {
    CHECK(carried_to(july(3)).depletion_mm == 20.0);
    CHECK(carried_to(july(4)).depletion_mm == near(23.5, 1e-9));
    CHECK(carried_to(july(5)).depletion_mm == near(25.0, 1e-9));
    CHECK(carried_to(july(8)).depletion_mm == near(33.5, 1e-9));
    CHECK(carried_to(july(10)).findings.empty());
    // Beyond the plan's last day the programme goes on.
    const Carried later = carried_to(july(11));
    CHECK(later.depletion_mm == near(42.0, 1e-9));
    CHECK(
        has(says_all(later.findings, Finding::Kind::remark), "run on unchanged after 2026-07-09"));
  }

  TEST_CASE("carry on - what ran otherwise than planned counts, and so does the garden's gauge") {
    SavedPlan plan = plain_plan();
    plan.by_hand = {{.date = july(5), .valve = 1, .minutes = 15},  // 3 mm
                    {.date = july(5), .valve = 2, .minutes = 15}};
    CHECK(carried_to(july(8), plan).depletion_mm == near(30.5, 1e-9));
    plan.percentage = 150;  // 15 minutes for 10: 1 mm more, twice
    CHECK(carried_to(july(8), plan).depletion_mm == near(28.5, 1e-9));

    PastWater water = planned_water(plain_plan(), july(8));
    REQUIRE(water.runs.size() == 2);
    water.runs.pop_back();
    // Above 0.2 ETo, below what runs off.
    water.log.entries = {{.date = july(6),
                          .what = LogWhat::rain,
                          .zones = {},
                          .amount = Depth::mm(6.0),
                          .note = {},
                          .at = {}}};
    CHECK(carried_to(july(8), plain_bed(), plain_plan(), water).depletion_mm ==
          near(33.5 + 2.0 - 6.0, 1e-9));
  }

  TEST_CASE("carry on - days not observed are as the plan assumed, and doubted") {
    // 12 July is the last day observed; 13 and 14 July of 4 mm reference ET, 2 mm of the bed's,
    // with 3 mm of rain on the 14th and 2 mm from the valve on the 13th.
    const double known_mm = carried_to(july(13)).depletion_mm;
    const Carried later = carried_to(july(15));
    CHECK(later.depletion_mm == near(known_mm + 2 * 2.0 - 3.0 - 2.0, 1e-9));
    const std::string doubts = says_all(later.findings, Finding::Kind::doubt);
    CHECK(has(doubts, "2 days from 2026-07-13 to 2026-07-14 not observed"));
  }

  TEST_CASE("carry on - a day before the plan, or one that nobody knows, is refused") {
    CHECK(has(refusal(july(2)), "the plan begins on 2026-07-03, after 2026-07-02"));
    CHECK(refusal(july(17)).empty());
    CHECK(has(refusal(july(18)), "the weather of 2026-07-17 is not known"));
    CHECK(has(refusal(july(5, 2027)), "more than a year before 2027-07-05"));
  }

  TEST_CASE("carry on - another garden's plan is refused by name, changes are remarked") {
    std::vector<Finding> findings;
    const Garden garden = plain_bed();
    const SiteWeather weather = read_site_weather(garden, findings);
    const GardenPlan planned = plan_garden(garden, {.from = july(6)});
    SavedPlan plan = saved_plan(garden, planned);
    findings.clear();
    compare_with_plan(garden, weather, plan, july(8), findings);
    CHECK(findings.empty());

    const Garden changed = plain_bed(", rain reaches: 90 %");
    SiteWeather corrected = weather;
    corrected.observed.rain_mm[7] = 2.0;  // 8 July, after the plan's beginning
    compare_with_plan(changed, corrected, plan, july(8), findings);
    CHECK(has(says_all(findings, Finding::Kind::remark), "the garden file has changed"));
    CHECK(findings.size() == 1);
    corrected.observed.rain_mm[4] = 2.0;  // 5 July, before
    compare_with_plan(garden, corrected, plan, july(8), findings);
    CHECK(has(says_all(findings, Finding::Kind::remark), "the days before 2026-07-06"));
    CHECK(findings.size() == 2);

    plan.garden = "another";
    CHECK_THROWS_WITH_AS(compare_with_plan(garden, weather, plan, july(8), findings),
                         doctest::Contains("plan for \"another\""), InputError);
  }

  TEST_CASE("carry on - a zone new in the garden begins as without a plan") {
    SavedPlan plan = plain_plan();
    plan.zones[0].name = "gone";
    const GardenPlan planned = plan_garden(plain_bed(), {.from = july(8), .after = plan});
    const std::string remarks = says_all(planned.findings, Finding::Kind::remark);
    CHECK(has(remarks, "bed: is not in the plan before"));
    CHECK(has(remarks, "its zone \"gone\" is no longer in the garden"));
    CHECK(has(remarks, "half the limit"));
    CHECK(planned.zones[0].start_assumed);
  }

  TEST_CASE("carry on - the plan's state comes before a depletion written in the garden file") {
    const GardenPlan planned =
        plan_garden(plain_bed(", depletion: 5 mm"), {.from = july(8), .after = plain_plan()});
    CHECK(planned.plan.zones[0].start_depletion_mm == near(33.5, 1e-9));
    CHECK(has(says_all(planned.findings, Finding::Kind::remark), "is not looked at"));
  }

  TEST_CASE("carry on - a second week starts where the first was expected to end") {
    const Terrace terrace;
    const Garden garden = terrace.garden();
    const GardenPlan week_1 = plan_garden(garden, {});
    std::vector<Finding> findings;
    const SavedPlan saved =
        value_or_throw(read_plan_file(plan_file_text(garden, week_1), "w1.yaml"), findings);
    terrace.observe_days_of_forecast(7);
    const GardenPlan week_2 = plan_garden(terrace.garden(), {.from = std::nullopt, .after = saved});
    CHECK(week_2.plan.from == week_1.plan.until + days{1});
    REQUIRE(week_2.plan.zones.size() == 3);
    for (std::size_t z = 0; z < 3; ++z) {
      CAPTURE(week_2.plan.zones[z].name);
      CHECK(week_1.plan.zones[z].end_depletion_mm !=
            near(week_1.plan.zones[z].start_depletion_mm, 0.1));
      CHECK(week_2.plan.zones[z].start_depletion_mm ==
            near(week_1.plan.zones[z].end_depletion_mm, 1e-9));
      CHECK_FALSE(week_2.zones[z].start_assumed);
      const auto source =
          std::find_if(week_2.zones[z].facts.begin(), week_2.zones[z].facts.end(),
                       [](const Fact& fact) { return fact.what == "depletion at the start"; });
      REQUIRE(source != week_2.zones[z].facts.end());
      CHECK(source->source == "carried on from w1.yaml over 7 days");
    }
    CHECK_FALSE(has(says_all(week_2.findings, Finding::Kind::remark), "half the limit"));
    CHECK(says_all(week_2.findings, Finding::Kind::doubt).find("not observed") ==
          std::string::npos);
  }

  // The dual coefficient and a dry part beside the emitters have more state than a depletion.
  TEST_CASE("carry on - all parts of a kitchen garden's state are carried through its days") {
    const std::string path = std::string(RUNNEL_SOURCE_DIR) + "/examples/kitchen/garden.yaml";
    const Garden garden = read(read_file(path), path);
    std::vector<Finding> findings;
    const SiteWeather weather = read_site_weather(garden, findings);
    const Date last = weather.observed.last_day() + days{1};
    const GardenPlan planned = plan_garden(garden, {.from = last - days{10}});
    const SavedPlan saved = saved_plan(garden, planned);
    const auto in_one =
        states_at(garden, weather, saved, last, planned_water(saved, last), findings);
    // The same days in two parts, the second from where the first ends.
    const Date middle = last - days{3};
    const auto half =
        states_at(garden, weather, saved, middle, planned_water(saved, middle), findings);
    SavedPlan second = saved;
    second.from = middle;
    for (std::size_t z = 0; z < half.size(); ++z) second.zones[z].start = half[z].value();
    const auto in_two =
        states_at(garden, weather, second, last, planned_water(second, last), findings);
    bool surface = false;
    for (std::size_t z = 0; z < in_one.size(); ++z) {
      CAPTURE(garden.zones[z].name);
      // The climate and the wetted surface are means of the days looked at: hence not to the last
      // digit.
      CHECK(in_two[z]->depletion_mm == near(in_one[z]->depletion_mm, 0.5));
      CHECK(in_two[z]->dry_mm == near(in_one[z]->dry_mm, 0.5));
      CHECK(in_two[z]->surface_mm == near(in_one[z]->surface_mm, 0.5));
      CHECK(in_two[z]->surface_fw == near(in_one[z]->surface_fw, 0.05));
      surface = surface || in_one[z]->surface_mm > 0.0;
    }
    CHECK(surface);
  }
}

}  // namespace runnel

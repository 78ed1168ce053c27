// Absences: worked on paper, counted in invented records, over a change of clocks and of months.
#include "runnel/garden/away.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "runnel/garden/plan_file.hpp"
#include "runnel/garden/plan_garden.hpp"
#include "runnel/schedule/changes.hpp"
#include "support/temporary_folder.hpp"

namespace runnel {
namespace {

using std::chrono::days;

Date date_of(const char* text) { return *parse_date(text); }
const Date monday = date_of("2026-07-06");

struct Summer {
  int year;
  double et_mm_d;
};

/// May to September of each year, every day alike, without rain.
std::string summers(const std::vector<Summer>& years) {
  std::string text = "date,rain,reference_et\n";
  for (const Summer& summer : years)
    for (Date day = date_of((std::to_string(summer.year) + "-05-01").c_str());
         day <= date_of((std::to_string(summer.year) + "-09-30").c_str()); day += days{1})
      text += iso_date(day) + ",0," + std::to_string(summer.et_mm_d) + "\n";
  return text;
}

/// Days of 3 mm from a date on, rain on one of them.
std::string days_of_3_mm(Date first, int length, int rainy, double rain_mm) {
  std::string text = "date,rain,reference_et\n";
  for (int day = 0; day < length; ++day)
    text +=
        iso_date(first + days{day}) + "," + std::to_string(day == rainy ? rain_mm : 0.0) + ",3\n";
  return text;
}

Garden read(const std::string& yaml) {
  Read<Garden> garden = read_garden(yaml, "away.yaml");
  for (const Finding& finding : garden.findings)
    if (finding.kind == Finding::Kind::error) FAIL(to_text(finding));
  return *garden.value;
}

/// 65 mm to hold, 32.5 of them to spare, half gone at the start; 0.5 mm and 10 L a minute; water on
/// Mondays alone.
Garden bed(const std::string& weather, const std::string& timer) {
  return read(
      "garden: away\nsite: {latitude: 38.72, longitude: -9.14, elevation: 95 m, timezone: "
      "Europe/Lisbon}\nweather: {" +
      weather + "}\nwatering hours: [\"05:00-08:00\"]\ntimer: {" + timer +
      "}\nrules:\n  - {days: [Mon]}\nzones:\n"
      "  - {name: bed, valve: 1, area: 20 m2, plants: {kind: mixed shrubs, coefficient: 1.0, root "
      "depth: 50 cm, allowable depletion: 50 %}, exposure: {factor: 1.0}, soil: {texture: sand, "
      "field capacity: 23 %, wilting point: 10 %},\n"
      "     emitters: {type: spray, rate: 30 mm/h, uniformity: 100 %}}\n");
}

/// The bed on a record of summers, after ten days of 3 mm.
struct OnRecord {
  TemporaryFolder folder;
  Garden garden;
  OnRecord(const std::vector<Summer>& years, const std::string& timer)
      : garden(bed("observed: " +
                       folder.write("observed.csv", days_of_3_mm(monday - days{10}, 10, -1, 0.0)) +
                       ", record: " + folder.write("record.csv", summers(years)),
                   timer)) {}
};

int minutes_of(const ValveTimes& times) {
  int sum = 0;
  for (const ValveTimes::Opening& opening : times.openings)
    sum += static_cast<int>(opening.length.count());
  return sum;
}

/// Three zones on the open data of New York.
Garden in_new_york(const std::string& pots, const std::string& more = "") {
  const std::string file = std::string(RUNNEL_REFERENCE_DIR) + "/new-york-weather.csv";
  return read(
      "garden: g\nsite: {latitude: 40.78, longitude: -73.97, elevation: 40 m, timezone: "
      "America/New_York}\nweather: {observed: " +
      file + ", record: " + file + R"(}
watering hours: ["04:30-08:00", "20:30-22:30"]
)" + more +
      R"(zones:
  - {name: bed, valve: 1, area: 18 m2, plants: {kind: mixed shrubs}, soil: {texture: loam},
     emitters: {type: dripline, flow: 2.1 L/h, spacing: 30 cm, rows: 40 cm}}
  - {name: pots, valve: 2, plants: {kind: annual flowers}, containers: {count: 6, diameter: 32 cm, canopy: 45 cm, medium: peat mix, volume: )" +
      pots + R"(, emitters: {type: dripper, flow: 2 L/h, per container: 1}}
)");
}

/// The plan of the same first day, before which it has a valve run by hand.
SavedPlan after_run_by_hand(const Garden& garden, const PlanRequest& request, int valve,
                            int minutes) {
  SavedPlan plan = saved_plan(garden, plan_garden(garden, request));
  plan.by_hand = {{.date = plan.from, .valve = valve, .minutes = minutes}};
  return plan;
}

const PlanRequest five_weeks{.from = date_of("2015-06-29"), .until = date_of("2015-08-02")};

std::string clock_doubt(const GardenPlan& planned) {
  for (const Finding& finding : planned.findings)
    if (finding.says.find("clocks change") != std::string::npos) return finding.says;
  return {};
}

}  // namespace

TEST_SUITE("garden/away") {
  // On paper: 3 mm a day, 0.5 mm a minute on the five Mondays of four weeks and the day of coming
  // home. With 33 minutes (16.5 mm) 16.25 mm become 2.75 on the first Monday's evening, then 7.25,
  // 11.75, 16.25 and 20.75 mm; the driest morning is the last Sunday's, at 16.25 + 15 = 31.25 of
  // 32.5 mm. With 32 it would be 18.25 + 15 = 33.25 mm. The two weeks of a plan that someone
  // changes have but two Mondays: 26 minutes leave 6.25 and 14.25 mm, and 32.25 at the end, where
  // 25 leave 33.25.
  TEST_CASE("away - four weeks of the same weather worked on paper") {
    const OnRecord alike({{2023, 3.0}, {2024, 3.0}, {2025, 3.0}}, "days: [weekdays]");
    const PlanRequest request{.from = monday, .until = monday + days{27}};
    const GardenPlan planned = plan_garden(alike.garden, request);
    REQUIRE(planned.away);
    CHECK(planned.plan.unharmed());
    CHECK(planned.plan.until == monday + days{27});
    CHECK(minutes_of(planned.plan.valves[0]) == 33);
    CHECK(planned.plan.zones[0].days_judged == 29);
    CHECK(planned.plan.zones[0].end_depletion_mm == doctest::Approx(16.25 + 18.0));
    CHECK(planned.away->futures == 63);  // three years, twenty-one days each
    CHECK(planned.away->record_years == 3);
    CHECK(planned.plan.zones[0].futures_beyond == 0);
    CHECK(planned.away->unharmed_futures == 63);
    CHECK(planned.away->zones[0].brought_l == doctest::Approx(4 * 33 * 10.0));
    CHECK(planned.away->zones[0].needless_l == 0.0);
    CHECK(planned.away->raised.empty());
    CHECK(minutes_of(plan_garden(alike.garden, {.from = monday}).plan.valves[0]) == 26);
  }

  // In the dry summer 12 mm a day go. After Monday's 17.5 mm mornings stand at 10.75, 22.75 and, on
  // Thursday, 34.75 mm of 32.5.
  TEST_CASE("away - the chance is the share of summers that are not dry") {
    const OnRecord one_dry({{2023, 3.0}, {2024, 12.0}, {2025, 3.0}},
                           "days: [weekdays], starts per valve: 1, minutes: {most: 35}");
    PlanRequest request{.from = monday, .until = monday + days{27}};
    const GardenPlan planned = plan_garden(one_dry.garden, request);
    const ZonePlan& zone = planned.plan.zones[0];
    CHECK(minutes_of(planned.plan.valves[0]) == 35);
    CHECK(zone.futures == 63);
    CHECK(zone.futures_beyond == 21);
    CHECK(planned.away->unharmed_futures == 42);
    CHECK_FALSE(planned.plan.unharmed());
    CHECK(zone.first_beyond == monday + days{3});
    // A third may be harmed: then 21 of 63 are no more than floor(0.4 x 64) - 1.
    request.risk = 0.4;
    const GardenPlan bold = plan_garden(one_dry.garden, request);
    CHECK(bold.plan.unharmed());
    CHECK(bold.plan.zones[0].futures_beyond == 21);

    const OnRecord two_dry({{2023, 12.0}, {2024, 12.0}, {2025, 3.0}},
                           "days: [weekdays], starts per valve: 1, minutes: {most: 35}");
    CHECK(plan_garden(two_dry.garden, request).plan.zones[0].futures_beyond == 42);
  }

  // 35 minutes or nothing, on Mondays. Without rain evenings go 1.75 (Monday) to 19.75, 5.25 to
  // 23.25, ... 20 mm on the second Tuesday find 5.25 + 3: 11.75 mm drain. Without the second
  // Monday's 17.5 mm that morning is at 19.75 mm, the next at 22.75, and the rain leaves 5.75:
  // nothing drains, and no morning is beyond 32.5 mm. None of the others can be left out. 11.75 mm
  // on 20 m2 are 235 L.
  TEST_CASE("away - water that rain makes needless worked on paper") {
    const TemporaryFolder folder;
    const Garden garden = bed(
        "observed: " + folder.write("observed.csv", days_of_3_mm(monday - days{10}, 10, -1, 0.0)) +
            ", forecast: " + folder.write("forecast.csv", days_of_3_mm(monday, 29, 8, 20.0)),
        "days: [weekdays], starts per valve: 1, minutes: {choices: [35]}");
    const GardenPlan planned = plan_garden(garden, {.from = monday, .until = monday + days{27}});
    CHECK(minutes_of(planned.plan.valves[0]) == 35);
    CHECK(planned.away->zones[0].brought_l == doctest::Approx(1400.0));
    CHECK(planned.away->zones[0].needless_l == doctest::Approx(235.0));
    CHECK(planned.away->futures == 1);
    CHECK(planned.away->record_years == 0);
  }

  // As above, with 10 mm by hand before the first Monday. That one drains 27.5 - 16.25 - 3 = 8.25
  // mm, and the rain of the second Tuesday 20 - 3.5 - 3 = 13.5. After the run by hand, which stays,
  // both Mondays can be left out: mornings then stand at 27.25, 10.25 after the rain, and 28.25 mm.
  TEST_CASE("away - what was run by hand is no watering that rain makes needless") {
    const TemporaryFolder folder;
    const Garden garden = bed(
        "observed: " + folder.write("observed.csv", days_of_3_mm(monday - days{10}, 10, -1, 0.0)) +
            ", forecast: " + folder.write("forecast.csv", days_of_3_mm(monday, 29, 8, 20.0)),
        "days: [weekdays], starts per valve: 1, minutes: {choices: [35]}");
    const GardenPlan planned =
        plan_garden(garden, {.from = monday,
                             .after = after_run_by_hand(garden, {.from = monday}, 1, 20),
                             .until = monday + days{27}});
    CHECK(minutes_of(planned.plan.valves[0]) == 35);
    CHECK(planned.away->zones[0].brought_l == doctest::Approx(1400.0 + 200.0));
    CHECK(planned.away->zones[0].needless_l == doctest::Approx(20.0 * (8.25 + 13.5)));
  }

  TEST_CASE("away - an absence of up to a week is the ordinary plan") {
    const Garden garden = in_new_york("20 L}");
    const Plan ordinary = plan_garden(garden, {.from = five_weeks.from}).plan;
    for (const int length : {7, 4}) {
      const GardenPlan planned = plan_garden(
          garden, {.from = five_weeks.from, .until = *five_weeks.from + days{length - 1}});
      CHECK(planned.plan.cost == ordinary.cost);
      for (std::size_t v = 0; v < ordinary.valves.size(); ++v) {
        CHECK(planned.plan.valves[v].days == ordinary.valves[v].days);
        CHECK(planned.plan.valves[v].openings == ordinary.valves[v].openings);
      }
      CHECK(planned.plan.zones[0].days_judged == length + 1);
      CHECK(planned.plan.zones[0].futures_beyond <= ordinary.zones[0].futures_beyond);
    }
  }

  // Nobody is there to change what goes wrong in the second week: it counts whole, where in the
  // ordinary plan it counts a fifth.
  TEST_CASE("away - in a fortnight no more futures than may are harmed on any day") {
    const Garden garden = in_new_york("20 L}");
    const Plan ordinary = plan_garden(garden, {.from = five_weeks.from}).plan;
    const Plan away =
        plan_garden(garden, {.from = five_weeks.from, .until = *five_weeks.from + days{12}}).plan;
    REQUIRE(away.unharmed());
    REQUIRE(ordinary.unharmed());
    int more_in_ordinary = 0;
    for (std::size_t z = 0; z < away.zones.size(); ++z) {
      CHECK(away.zones[z].days_judged == 14);
      CHECK(away.zones[z].futures_beyond <= allowed_beyond(63, 0.10));
      more_in_ordinary += ordinary.zones[z].futures_beyond - away.zones[z].futures_beyond;
    }
    CHECK(more_in_ordinary > 0);
  }

  TEST_CASE("away - no more futures than may are harmed on any day of five weeks") {
    const Garden garden = in_new_york("20 L}");
    const GardenPlan planned = plan_garden(garden, five_weeks);
    REQUIRE(planned.plan.unharmed());
    for (std::size_t z = 0; z < 2; ++z) {
      const ZoneTask& task = planned.zones[z].task;
      REQUIRE(task.horizon.et_mm.cols() == 36);
      const Waterings given =
          waterings_of(task, planned.plan.valves[z], planned.constraints.hours, planned.plan.from);
      const Outcome whole = balance(task.root_zone, task.start, task.model, task.horizon, given);
      CHECK((whole.days_beyond > 0).count() == planned.plan.zones[z].futures_beyond);
      CHECK(planned.plan.zones[z].futures_beyond <= allowed_beyond(63, 0.10));
    }
    // What lies within the risk can still be had with more water.
    REQUIRE_FALSE(planned.away->raised.empty());
    const ChanceRaised& more = planned.away->raised.front();
    PlanRequest none = five_weeks;
    none.risk = 0.0;
    const GardenPlan safe = plan_garden(garden, none);
    CHECK(more.does == "more water: plan with --risk 0%");
    CHECK(more.litres == doctest::Approx(planned_litres(safe.plan)));
    for (std::size_t z = 0; z < 2; ++z)
      CHECK(more.futures_beyond[z] == safe.plan.zones[z].futures_beyond);
  }

  TEST_CASE("away - shade and larger pots have the chance of the garden that has them") {
    const GardenPlan planned = plan_garden(in_new_york("9 L}"), five_weeks);
    CHECK_FALSE(planned.plan.unharmed());
    const auto chance_in = [&](const std::string& pots) {
      const GardenPlan changed = plan_garden(in_new_york(pots), five_weeks);
      const ZoneTask& task = changed.zones[1].task;
      const Outcome outcome = balance(
          task.root_zone, task.start, task.model, task.horizon,
          waterings_of(task, planned.plan.valves[1], planned.constraints.hours, planned.plan.from));
      return static_cast<int>((outcome.days_beyond > 0).count());
    };
    const auto raised = [&](const std::string& words) {
      for (const ChanceRaised& one : planned.away->raised)
        if (one.does.find(words) != std::string::npos) return one;
      FAIL(words);
      return ChanceRaised{};
    };
    const int now = planned.plan.zones[1].futures_beyond;
    const ChanceRaised shade = raised("part shade");
    CHECK(shade.futures_beyond[1] == chance_in("9 L}, exposure: part shade"));
    CHECK(shade.futures_beyond[1] < now);
    CHECK(shade.futures_beyond[0] == planned.plan.zones[0].futures_beyond);
    const ChanceRaised larger = raised("L instead of 9.0 (");
    CHECK(larger.futures_beyond[1] < now);
  }

  // The pots are nearly as dry as they may be on a Monday on which no valve may open.
  TEST_CASE("away - changed zones are judged with the run by hand before them") {
    const std::string rules = "rules:\n  - {days: [Tue, Wed, Fri, Sat, Sun]}\n";
    const Garden garden = in_new_york("12 L}", rules);
    PlanRequest request = five_weeks;
    request.after = after_run_by_hand(garden, {.from = five_weeks.from}, 2, 60);
    request.after->zones[1].start.depletion_mm = 6.0;
    const GardenPlan planned = plan_garden(garden, request);
    const ZoneTask task =
        plan_garden(in_new_york("12 L}, exposure: part shade", rules), request).zones[1].task;
    const auto beyond = [&](int by_hand_min) {
      const Waterings given = with_hand_run(
          task,
          waterings_of(task, planned.plan.valves[1], planned.constraints.hours, planned.plan.from),
          by_hand_min);
      return static_cast<int>(
          (balance(task.root_zone, task.start, task.model, task.horizon, given).days_beyond > 0)
              .count());
    };
    REQUIRE(beyond(60) < beyond(0));
    const auto shade = std::find_if(
        planned.away->raised.begin(), planned.away->raised.end(),
        [](const ChanceRaised& one) { return one.does.find("part shade") != std::string::npos; });
    REQUIRE(shade != planned.away->raised.end());
    CHECK(shade->futures_beyond[1] == beyond(60));
  }

  // Clocks: IANA tz database, Lisbon 2027: 28 March one hour on, 31 October one hour back, within
  // the fortnights. By the old clock of the timer, 05:00 to 06:30 on the wall is then 04:00 to
  // 05:30, or 06:00 to 07:30.
  TEST_CASE("away - a timer whose clock nobody sets keeps to the hours before and after") {
    const TemporaryFolder folder;
    struct Change {
      const char *from, *until, *on;
      int least_min, most_min;
    };
    for (const Change& change :
         {Change{"2027-03-22", "2027-04-04", "2027-03-28", 5 * 60, 5 * 60 + 30},
          Change{"2027-10-25", "2027-11-07", "2027-10-31", 6 * 60, 6 * 60 + 30}}) {
      CAPTURE(change.from);
      const Date from = date_of(change.from);
      const std::string file = folder.write(std::string(change.from) + ".csv",
                                            days_of_3_mm(from - days{10}, 10, -1, 0.0));
      const Garden garden = read(
          "garden: clock\nsite: {latitude: 38.72, longitude: -9.14, elevation: 50 m, timezone: "
          "Europe/Lisbon}\nweather: {observed: " +
          file +
          "}\nwatering hours: [\"05:00-06:30\"]\nzones:\n"
          "  - {name: pots, valve: 1, plants: {kind: annual flowers}, containers: {count: 6, "
          "volume: 9 L, diameter: 22 cm, canopy: 30 cm, medium: peat mix}, emitters: {type: "
          "dripper, flow: 2 L/h, per container: 1}}\n");
      const GardenPlan planned =
          plan_garden(garden, {.from = from, .until = date_of(change.until)});
      CHECK(planned.plan.unharmed());
      REQUIRE_FALSE(planned.plan.valves[0].openings.empty());
      for (const ValveTimes::Opening& opening : planned.plan.valves[0].openings) {
        CHECK(opening.start.count() >= change.least_min);
        CHECK((opening.start + opening.length).count() <= change.most_min);
      }
      CHECK(clock_doubt(planned).find(std::string("the clocks change on ") + change.on +
                                      " while nobody is there") == 0);
      CHECK(clock_doubt(plan_garden(garden, {.from = from})).find("nobody") == std::string::npos);
    }
  }

  // Every second day from an odd date is right until the end of July, a month of 31 days: the next
  // would be 2 August.
  TEST_CASE("away - days that rules forbid stay dry through all of the absence") {
    const Garden garden = in_new_york("20 L}", "rules:\n  - {dates: odd}\n");
    const Date from = date_of("2015-07-19");
    const GardenPlan planned = plan_garden(garden, {.from = from, .until = date_of("2015-08-15")});
    for (const ValveTimes& times : planned.plan.valves) {
      CAPTURE(to_text(times.days));
      for (int day = 0; day < 28 && !times.openings.empty(); ++day)
        if (waters_on(times.days, from + days{day})) CHECK(day_of_month(from + days{day}) % 2 == 1);
    }
  }

  TEST_CASE("away - an absence must end after it begins and within eight weeks") {
    const Garden garden = in_new_york("20 L}");
    const Date from = date_of("2015-06-01");
    CHECK_THROWS_WITH_AS(
        static_cast<void>(plan_garden(garden, {.from = from, .until = from - days{1}})),
        "--until 2015-05-31 is before the first day planned, 2015-06-01 (give the "
        "last day away, and --from if you leave earlier)",
        WrongDays);
    CHECK(absence_days(from, from) == 1);
    CHECK(absence_days(from, from + days{longest_absence_days - 1}) == longest_absence_days);
    CHECK_THROWS_AS(static_cast<void>(absence_days(from, from + days{longest_absence_days})),
                    WrongDays);
    CHECK(absence_days(from, std::nullopt) == 0);
  }
}

}  // namespace runnel

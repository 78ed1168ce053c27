// What the log makes of a plan, and the meter. Figures worked by hand: 1 mm over 1 m2 is 1 L.
#include "runnel/garden/water_taken.hpp"

#include <doctest/doctest.h>

#include <map>
#include <stdexcept>
#include <string>
#include <vector>

#include "runnel/garden/meter.hpp"
#include "runnel/garden/moisture_reading.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

constexpr Date monday{std::chrono::year{2027} / std::chrono::July / 12};
constexpr Eigen::Index days = 7;

Garden two_zones() {
  Garden garden;
  for (const char* const name : {"bed", "pots"}) {
    Zone zone{};
    zone.name = name;
    zone.valve = static_cast<int>(garden.zones.size()) + 1;
    garden.zones.push_back(zone);
  }
  return garden;
}

WaterLog log_of(const std::string& rows) {
  Read<WaterLog> read = read_water_log("date,zone,what,amount\n" + rows, "log.csv", two_zones());
  for (const Finding& finding : read.findings)
    if (finding.kind == Finding::Kind::error) FAIL(to_text(finding));
  return *std::move(read.value);
}

/// The bed: 20 m2, 400 L/h, so 20 mm/h. The pots: 2 m2, 24 L/h, so 12 mm/h.
std::vector<Delivery> deliveries() {
  return {{.flow = Flow::litres_per_hour(400.0),
           .area = Area::m2(20.0),
           .multiplier = 1.25,
           .leaching_share = 0.0},
          {.flow = Flow::litres_per_hour(24.0),
           .area = Area::m2(2.0),
           .multiplier = 1.0,
           .leaching_share = 0.1}};
}

/// The bed 60 minutes on Wednesday, the pots 10 minutes a day.
WaterTaken planned() {
  WaterTaken plan = WaterTaken::none(monday, 2, days);
  plan.timer_min(0, 2) = 60.0;
  plan.timer_min.row(1) = 10.0;
  return plan;
}

WaterTaken really(const std::string& rows) {
  return what_really_ran(log_of(rows), planned(), deliveries());
}

}  // namespace

TEST_SUITE("garden") {
  TEST_CASE("water taken - without entries all ran as planned") {
    const WaterTaken taken = really("");
    CHECK((taken.timer_min == planned().timer_min).all());
    CHECK((taken.by_hand_mm == 0.0).all());
    // 60 min at 20 mm/h over 1.25, and 10 min at 12 mm/h less a tenth.
    CHECK(taken.net_mm(0, deliveries()[0])[2] == near(16.0, 1e-9));
    CHECK(taken.net_mm(1, deliveries()[1])[0] == near(1.8, 1e-9));
  }

  TEST_CASE("water taken - what fell out and what ran instead") {
    const WaterTaken taken = really(
        "2027-07-14,bed,did not run,\n"
        "2027-07-15,bed,ran,30 min\n"
        "2027-07-15,bed,ran,100 L\n"  // 15 min at 400 L/h
        "2027-07-16,bed,ran,5 mm\n"   // 15 min at 20 mm/h
        "2027-07-13,pots,ran,4 L\n"   // in place of the planned 10 min: 10 min at 24 L/h
        "2027-07-18,pots,did not run,\n");
    CHECK(taken.timer_min(0, 2) == 0.0);
    CHECK(taken.timer_min(0, 3) == near(45.0, 1e-9));
    CHECK(taken.timer_min(0, 4) == near(15.0, 1e-9));
    CHECK(taken.timer_min(1, 1) == near(10.0, 1e-9));
    CHECK(taken.timer_min(1, 6) == 0.0);
    CHECK(taken.timer_min(1, 5) == 10.0);
    CHECK((taken.by_hand_mm == 0.0).all());
  }

  TEST_CASE("water taken - by hand comes besides - in any order of the rows") {
    for (const char* const rows :
         {"2027-07-14,bed,by hand,10 min\n2027-07-14,bed,did not run,\n"
          "2027-07-14,pots,by hand,5 L\n2027-07-14,pots,by hand,1 mm\n",
          "2027-07-14,pots,by hand,1 mm\n2027-07-14,bed,did not run,\n"
          "2027-07-14,pots,by hand,5 L\n2027-07-14,bed,by hand,10 min\n"}) {
      const WaterTaken taken = really(rows);
      CHECK(taken.timer_min(0, 2) == 0.0);
      CHECK(taken.by_hand_min(0, 2) == near(10.0, 1e-9));
      CHECK(taken.valve_min()(1, 2) == 10.0);
      CHECK(taken.by_hand_mm(1, 2) == near(3.5, 1e-9));  // 5 L over 2 m2, and 1 mm
      CHECK(taken.net_mm(1, deliveries()[1])[2] == near(1.8 + 3.5, 1e-9));
    }
  }

  TEST_CASE("water taken - a run by hand that the plan asked for") {
    // The pots 10 minutes by the timer at six, and 5 minutes by hand before.
    const std::vector<PastRun> plan{
        {.date = monday, .valve = 2, .start = WallTime{0}, .minutes = 5.0, .by_hand = true},
        {.date = monday, .valve = 2, .start = std::chrono::hours(6), .minutes = 10.0}};
    struct Case {
      const char* rows;
      double timer_min, by_hand_min, by_hand_mm;
    };
    for (const Case& says : {
             Case{"", 10.0, 5.0, 0.0},
             Case{"2027-07-12,pots,did not run,\n", 0.0, 5.0, 0.0},
             Case{"2027-07-12,pots,ran,4 min\n", 4.0, 5.0, 0.0},
             Case{"2027-07-12,pots,by hand,0 min\n", 10.0, 0.0, 0.0},
             Case{"2027-07-12,pots,by hand,3 min\n2027-07-12,pots,by hand,1 min\n", 10.0, 4.0, 0.0},
             Case{"2027-07-12,pots,by hand,3 L\n", 10.0, 0.0, 1.5},
             Case{"2027-07-12,pots,by hand,0 L\n2027-07-12,pots,did not run,\n", 0.0, 0.0, 0.0},
         }) {
      CAPTURE(says.rows);
      const WaterLog log = log_of(says.rows);
      const std::vector<int> valves{1, 2};
      const WaterTaken taken =
          what_really_ran(log, by_day(plan, valves, monday, days), deliveries());
      CHECK(taken.timer_min(1, 0) == near(says.timer_min, 1e-9));
      CHECK(taken.by_hand_min(1, 0) == near(says.by_hand_min, 1e-9));
      CHECK(taken.by_hand_mm(1, 0) == near(says.by_hand_mm, 1e-9));
      const Delivery pots = deliveries()[1];
      double run_mm = 0.0;
      for (const PastRun& run : runs_of_zone(log, 1, 2, plan, pots))
        run_mm += run.minutes * pots.net_mm_per_minute();
      CHECK(run_mm == near(taken.net_mm(1, pots)[0], 1e-9));
    }
  }

  TEST_CASE("water taken - other days are passed over and other gardens refused") {
    const WaterTaken taken = really(
        "2027-07-11,bed,ran,30 min\n2027-07-19,bed,ran,30 min\n2026-07-14,bed,did not run,\n");
    CHECK((taken.timer_min == planned().timer_min).all());
    const std::vector<Delivery> one{deliveries()[0]};
    CHECK_THROWS_AS((void)what_really_ran({}, planned(), one), std::invalid_argument);
    const WaterTaken small = WaterTaken::none(monday, 1, days);
    CHECK_THROWS_AS((void)what_really_ran(log_of("2027-07-14,pots,did not run,\n"), small, one),
                    std::invalid_argument);
  }

  TEST_CASE("water taken - runs of a valve keep their hours and bring as much as the days' sums") {
    using std::chrono::hours;
    const std::vector<PastRun> plan{
        {.date = monday, .valve = 1, .start = hours(21), .minutes = 15.0},
        {.date = monday, .valve = 1, .start = hours(5), .minutes = 15.0},
        {.date = monday, .valve = 2, .start = hours(6), .minutes = 10.0},
        {.date = monday + std::chrono::days(1), .valve = 1, .start = hours(5), .minutes = 15.0},
        {.date = monday + std::chrono::days(2), .valve = 1, .start = hours(5), .minutes = 15.0}};
    const WaterLog log = log_of(
        "2027-07-12,bed,ran,5 mm\n2027-07-13,bed,did not run,\n2027-07-14,bed,by hand,80 L\n"
        "2027-07-15,bed,ran,7 min\n");
    const Delivery bed = deliveries()[0];
    const std::vector<PastRun> runs = runs_of_zone(log, 0, 1, plan, bed);
    REQUIRE(runs.size() == 4);
    CHECK(runs[0].date == monday + std::chrono::days(2));
    CHECK(runs[0].minutes == 15.0);
    CHECK(runs[1].date == monday);
    CHECK(runs[1].start == hours(5));
    CHECK(runs[1].minutes == near(15.0, 1e-9));  // 5 mm at 20 mm/h
    CHECK(runs[2].start == WallTime{0});
    CHECK(runs[2].minutes == near(15.0, 1e-9));  // 80 L over 20 m2 are 4 mm, at 20 / 1.25 mm/h
    CHECK(runs[3].start == WallTime{0});
    CHECK(runs[3].minutes == 7.0);
    const std::vector<PastRun> pots = runs_of_zone(log, 1, 2, plan, deliveries()[1]);
    REQUIRE(pots.size() == 1);
    CHECK(pots[0].start == hours(6));
  }

  TEST_CASE("water taken - gauges take the place of the weather file's rain") {
    const WaterLog log = log_of(
        "2027-07-12,,rain,0 mm\n2027-07-13,,rain,9 mm\n2027-07-13,bed,rain,3 mm\n"
        "2027-07-30,,rain,50 mm\n");
    CHECK(garden_rain_mm(log) == std::map<Date, double>{{monday, 0.0},
                                                        {monday + std::chrono::days(1), 9.0},
                                                        {monday + std::chrono::days(18), 50.0}});
    const Column rain = Column::Constant(days, 4.0);
    const Column bed = rain_with_gauges(log, 0, 0.5, monday, rain);
    CHECK(bed[0] == 0.0);
    CHECK(bed[1] == near(6.0, 1e-9));  // 3 mm reached it: half of 6
    CHECK(bed[2] == 4.0);
    const Column pots = rain_with_gauges(log, 1, 1.0, monday, rain);
    CHECK(pots[1] == 9.0);
    CHECK(rain_with_gauges(log, 0, 0.0, monday, rain)[1] == 9.0);
  }

  TEST_CASE("water taken - moisture readings by date") {
    const WaterLog log = log_of(
        "2027-07-16,bed,depletion,8 mm\n2027-07-13,bed,feel,moist\n2027-07-14,pots,feel,dry\n");
    const auto readings = moisture_readings(log, 0);
    REQUIRE(readings.size() == 2);
    CHECK(readings[0].date == monday + std::chrono::days(1));
    CHECK(readings[0].depletion_mm(65.0) == near(0.375 * 65.0, 1e-9));  // NRCS moist: 62.5 % left
    CHECK(readings[1].depletion_mm(65.0) == 8.0);
    CHECK(readings[1].depletion_mm(5.0) == 5.0);
    CHECK(readings[1].at.line == 2);
  }

  // Planned from Tuesday to Sunday: 400 L for the bed and 6 x 4 L for the pots.
  TEST_CASE("meter - a leak and a blocked line beyond 15 % and 20 L") {
    struct Case {
      const char* second;
      MeterCheck::Says says;
    };
    for (const Case& c :
         {Case{"1424 L", MeterCheck::Says::as_expected},
          Case{"1487 L", MeterCheck::Says::as_expected},  // 14.9 % more
          Case{"1488 L", MeterCheck::Says::leak},         // 15.1 %
          Case{"1361 L", MeterCheck::Says::as_expected}, Case{"1360 L", MeterCheck::Says::blocked},
          Case{"1000 L", MeterCheck::Says::blocked}}) {
      CAPTURE(c.second);
      const WaterLog log =
          log_of("2027-07-12,,meter,1000 L\n2027-07-18,,meter," + std::string(c.second) + "\n");
      const auto checks = check_meter(log, planned(), deliveries());
      REQUIRE(checks.size() == 1);
      CHECK(checks[0].expected_l == near(424.0, 1e-9));
      CHECK(checks[0].says == c.says);
      CHECK(checks[0].after == monday);
    }
  }

  TEST_CASE("meter - little water needs 20 L beside the share and by hand counts") {
    // Monday to Tuesday: one day of the pots, 4 L, and 10 mm by hand over 2 m2.
    const std::string by_hand = "2027-07-13,pots,by hand,10 mm\n2027-07-12,,meter,0 L\n";
    const auto says = [&](const std::string& second) {
      const WaterLog log = log_of(by_hand + "2027-07-13,,meter," + second + "\n");
      const auto checks =
          check_meter(log, what_really_ran(log, planned(), deliveries()), deliveries());
      REQUIRE(checks.size() == 1);
      CHECK(checks[0].expected_l == near(24.0, 1e-9));
      return checks[0].says;
    };
    CHECK(says("44 L") == MeterCheck::Says::as_expected);  // 83 % but 20 L
    CHECK(says("45 L") == MeterCheck::Says::leak);
    CHECK(says("4 L") == MeterCheck::Says::as_expected);
    CHECK(says("3 L") == MeterCheck::Says::blocked);
  }

  TEST_CASE("meter - days that are not known and a new meter are left out") {
    const auto count = [](const std::string& rows) {
      return check_meter(log_of(rows), planned(), deliveries()).size();
    };
    CHECK(count("2027-07-11,,meter,1 L\n2027-07-18,,meter,425 L\n") == 1);  // counts from the 12th
    CHECK(count("2027-07-10,,meter,1 L\n2027-07-18,,meter,425 L\n") == 0);
    CHECK(count("2027-07-12,,meter,1 L\n2027-07-19,,meter,425 L\n") == 0);
    CHECK(count("2027-07-12,,meter,900 L\n2027-07-13,,meter,3 L\n2027-07-14,,meter,9 L\n") == 1);
    CHECK(count("2027-07-12,,meter,1 L\n") == 0);
    CHECK_THROWS_AS((void)check_meter({}, planned(), {}), std::invalid_argument);
  }

  TEST_CASE("meter - in words") {
    const auto words = [](const std::string& second) {
      const WaterLog log = log_of("2027-07-12,,meter,1000 L\n2027-07-18,,meter," + second + "\n");
      return to_text(meter_finding(check_meter(log, planned(), deliveries()).at(0)));
    };
    const std::string leak = words("1530 L");
    CHECK(leak.starts_with(
        "log.csv:3:1: doubt: the meter counted 530 L from Tue 13 Jul to Sun 18 Jul, expected were "
        "424 L: 106 L or 25 % more, a leak is likely (close every valve"));
    CHECK(words("1212 L").find("212 L or 50 % less, a blocked line is likely (clean the filter") !=
          std::string::npos);
    CHECK(words("1424 L").starts_with("log.csv:3:1: remark: "));
    // Nothing was to run: there is no share to give.
    const WaterLog still =
        log_of("2027-07-12,,meter,0 L\n2027-07-13,,meter,30 L\n2027-07-13,pots,did not run,\n");
    const auto checks =
        check_meter(still, what_really_ran(still, planned(), deliveries()), deliveries());
    CHECK(to_text(meter_finding(checks.at(0))).find("expected were 0 L: 30 L more") !=
          std::string::npos);
  }
}

}  // namespace runnel

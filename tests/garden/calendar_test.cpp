// Calendars and clocks through whole plans: clock changes, leap days, New Year, seasons, odd
// offsets. Dates and offsets: IANA tz database (the rules in force in 2027 and 2028); days of the
// week and everything else counted by hand.
#include <doctest/doctest.h>

#include <chrono>
#include <cmath>
#include <string>
#include <vector>

#include "runnel/garden/plan_garden.hpp"
#include "runnel/garden/time_zone.hpp"
#include "support/temporary_folder.hpp"

namespace runnel {
namespace {

using std::chrono::days;

Date date_of(const char* text) { return *parse_date(text); }

/// Ten days of weather that end the day before `from`, in a file of its own.
class Weather {
 public:
  Weather(Date from, const std::string& columns, const std::string& row) {
    std::string text = "date," + columns + "\n";
    for (int day = 10; day >= 1; --day) text += iso_date(from - days{day}) + "," + row + "\n";
    path_ = folder_.write("weather.csv", text);
  }
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  TemporaryFolder folder_;
  std::string path_;
};

struct Spot {
  const char *latitude, *longitude, *timezone;
};
constexpr Spot lisbon{.latitude = "38.72", .longitude = "-9.14", .timezone = "Europe/Lisbon"};
constexpr Spot adelaide{
    .latitude = "-34.93", .longitude = "138.60", .timezone = "Australia/Adelaide"};
constexpr Spot tromso{.latitude = "69.65", .longitude = "18.96", .timezone = "Europe/Oslo"};

constexpr const char* plain_pots =
    "  - {name: pots, valve: 1, plants: {kind: annual flowers}, containers: {count: 6, volume: 5 L,"
    " diameter: 22 cm, canopy: 30 cm, medium: peat mix}, emitters: {type: dripper, flow: 2 L/h, "
    "per container: 1}}\n";

Garden garden_at(const Spot& place, const std::string& weather, const std::string& hours,
                 const std::string& more, const std::string& zones) {
  const Read<Garden> read = read_garden(
      std::string("garden: clock\nsite: {latitude: ") + place.latitude +
          ", longitude: " + place.longitude + ", elevation: 50 m, timezone: " + place.timezone +
          "}\nweather: {observed: " + weather + "}\nwatering hours: " + hours + "\n" + more +
          "zones:\n" + zones,
      "clock.yaml");
  for (const Finding& finding : read.findings)
    if (finding.kind == Finding::Kind::error) FAIL(to_text(finding));
  return *read.value;
}

/// Pots on days of 5 mm without rain.
GardenPlan pots_planned(const Spot& place, const char* from, const std::string& hours,
                        const std::string& more = "") {
  const Weather weather(date_of(from), "rain,reference_et", "0,5");
  return plan_garden(garden_at(place, weather.path(), hours, more, plain_pots),
                     {.from = date_of(from)});
}

/// The doubt about the clock; empty without.
std::string clock_doubt(const GardenPlan& planned) {
  for (const Finding& finding : planned.findings)
    if (finding.says.find("clocks change") != std::string::npos)
      return finding.says + ": " + finding.mend;
  return {};
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// Days of the first week on which a zone's water is credited, 0 = the first.
std::vector<int> watered_days(const ZonePlan& zone) {
  std::vector<int> watered;
  for (int day = 0; day < 7; ++day)
    if (zone.waterings_mm.net_mm.col(day).sum() > 0.0) watered.push_back(day);
  return watered;
}

double noon_min(const Spot& place, const char* date) {
  const Weather weather(date_of(date), "rain,reference_et", "0,5");
  return static_cast<double>(
      solar_noon(garden_at(place, weather.path(), "[\"05:00-08:00\"]", "", plain_pots),
                 date_of(date))
          .count());
}

}  // namespace

TEST_SUITE("garden/calendar") {
  struct Change {
    Spot place;
    const char *from, *on, *hour;
    bool left_out;
  };
  // Europe: 01:00 UTC on the last Sunday of March and October; United States: 02:00 on the second
  // Sunday of March and the first of November; Lord Howe: half an hour at 02:00 on the first Sunday
  // of October and of April.
  const std::vector<Change> changes = {
      {lisbon, "2027-03-22", "2027-03-28", "01:00 to 02:00 on Sun 28 Mar", true},
      {lisbon, "2027-10-25", "2027-10-31", "01:00 to 02:00 on Sun 31 Oct", false},
      {{"40.78", "-73.97", "America/New_York"},
       "2027-03-10",
       "2027-03-14",
       "02:00 to 03:00 on Sun 14 Mar",
       true},
      {{"40.78", "-73.97", "America/New_York"},
       "2027-11-07",
       "2027-11-07",
       "01:00 to 02:00 on Sun 7 Nov",
       false},
      {{"-31.55", "159.08", "Australia/Lord_Howe"},
       "2027-10-01",
       "2027-10-03",
       "02:00 to 02:30 on Sun 3 Oct",
       true},
      {{"-31.55", "159.08", "Australia/Lord_Howe"},
       "2027-04-01",
       "2027-04-04",
       "01:30 to 02:00 on Sun 4 Apr",
       false},
      {{"53.35", "-6.26", "Europe/Dublin"},
       "2027-03-22",
       "2027-03-28",
       "01:00 to 02:00 on Sun 28 Mar",
       true},
      {{"53.35", "-6.26", "Europe/Dublin"},
       "2027-10-25",
       "2027-10-31",
       "01:00 to 02:00 on Sun 31 Oct",
       false},
  };

  TEST_CASE("calendar - a clock change is doubted, and its hour named where water may run in it") {
    for (const Change& change : changes) {
      CAPTURE(change.place.timezone);
      CAPTURE(change.on);
      const std::string night =
          clock_doubt(pots_planned(change.place, change.from, "[\"22:00-04:00\"]"));
      CHECK(has(night, "change on " + std::string(change.on)));
      CHECK(has(night, change.hour));
      CHECK(has(night, change.left_out ? "is left out" : "comes twice"));
      const std::string morning =
          clock_doubt(pots_planned(change.place, change.from, "[\"05:00-08:00\"]"));
      CHECK(has(morning, "change on " + std::string(change.on)));
      CHECK_FALSE(has(morning, "is left out"));
      CHECK_FALSE(has(morning, "comes twice"));
    }
    CHECK(clock_doubt(pots_planned(lisbon, "2027-03-29", "[\"22:00-04:00\"]")).empty());
    CHECK(clock_doubt(pots_planned(lisbon, "2027-03-21", "[\"22:00-04:00\"]")).empty());
  }

  TEST_CASE("calendar - a doubled hour before midnight belongs to the day before the change") {
    // Havana: at 01:00 on the first Sunday of November back to 00:00. Beirut: at 24:00 before the
    // last Sunday of October back to 23:00.
    const auto havana = clock_change_on("America/Havana", date_of("2027-11-07"));
    REQUIRE(havana);
    CHECK(iso_date(havana->date) == "2027-11-07");
    CHECK(havana->from == WallTime{0});
    CHECK(havana->to == WallTime{60});
    const auto beirut = clock_change_on("Asia/Beirut", date_of("2027-10-31"));
    REQUIRE(beirut);
    CHECK(iso_date(beirut->date) == "2027-10-30");
    CHECK(beirut->from == WallTime{23 * 60});
    CHECK(beirut->to == WallTime{24 * 60});
    CHECK_FALSE(beirut->left_out);
    CHECK_FALSE(clock_change_on("Asia/Kolkata", date_of("2027-03-28")));
  }

  TEST_CASE("calendar - start times are by the clock on the wall, whatever it does that week") {
    // The same pots, days and hours, with a change in the week and without one.
    const GardenPlan with = pots_planned(lisbon, "2027-03-22", "[\"05:00-08:00\"]");
    const GardenPlan without = pots_planned(lisbon, "2027-03-15", "[\"05:00-08:00\"]");
    REQUIRE(with.plan.valves.size() == 1);
    CHECK(with.plan.valves[0].openings.at(0).start == without.plan.valves[0].openings.at(0).start);
    CHECK(with.plan.valves[0].openings.at(0).start >= WallTime{5 * 60});
    CHECK(with.plan.valves[0].openings.at(0).start < WallTime{8 * 60});
  }

  // Solar noon = 12:00 + 4 minutes for each degree west of the clock's meridian - equation of time:
  // 0 on 13 June, -7.0 min on 22 March, -5.2 on 28 March, +16.3 on 31 October (almanac, from
  // memory). The published seasonal correction (FAO-56 Eq. 32) is within a minute of it.
  TEST_CASE("calendar - solar noon by the clock of its day and place") {
    CHECK(std::abs(noon_min(lisbon, "2027-03-22") - (12 * 60 + 36.6 + 7.0)) < 2.0);
    CHECK(std::abs(noon_min(lisbon, "2027-03-28") - (13 * 60 + 36.6 + 5.2)) < 2.0);
    CHECK(std::abs(noon_min(lisbon, "2027-10-30") - (13 * 60 + 36.6 - 16.3)) < 2.0);
    CHECK(std::abs(noon_min(lisbon, "2027-10-31") - (12 * 60 + 36.6 - 16.3)) < 2.0);
    // UTC+5:30 is the clock of 82.5 E, UTC+5:45 that of 86.25 E.
    CHECK(std::abs(noon_min({"22.57", "88.36", "Asia/Kolkata"}, "2027-06-13") -
                   (12 * 60 - 4.0 * (88.36 - 82.5))) < 2.0);
    CHECK(std::abs(noon_min({"27.70", "85.32", "Asia/Kathmandu"}, "2027-06-13") -
                   (12 * 60 + 4.0 * (86.25 - 85.32))) < 2.0);
    // Clocks of the other side of the date line: 176.5 W is 183.5 E, of the clock of 191.25 E;
    // 157.4 W is 202.6 E, of that of 210 E.
    CHECK(std::abs(noon_min({"-43.95", "-176.5", "Pacific/Chatham"}, "2027-06-13") -
                   (12 * 60 + 4.0 * (191.25 - 183.5))) < 2.0);
    CHECK(std::abs(noon_min({"1.87", "-157.4", "Pacific/Kiritimati"}, "2027-06-13") -
                   (12 * 60 + 4.0 * (210.0 - 202.6))) < 2.0);
  }

  TEST_CASE("calendar - all-day hours are cut at the first day's noon") {
    const GardenPlan planned = pots_planned(lisbon, "2027-03-28", "[\"00:00-24:00\"]");
    REQUIRE(planned.constraints.hours.size() == 2);
    const double cut_min = static_cast<double>(planned.constraints.hours[0].closes.count());
    CHECK(std::abs(cut_min - (13 * 60 + 36.6 + 5.2)) < 2.0);
  }

  constexpr const char* odd_dates =
      "timer: {valves: 2, days: [weekdays, odd/even dates]}\nrules: [{dates: odd}]\n";

  TEST_CASE("calendar - odd dates over 29 February") {
    // From Friday 25 February 2028: 25, 27, 29 February and 1 March are odd.
    const GardenPlan planned = pots_planned(lisbon, "2028-02-25", "[\"05:00-08:00\"]", odd_dates);
    CHECK(iso_date(planned.plan.until) == "2028-03-02");
    CHECK(planned.plan.valves.at(0).days == DayPattern{DateParity{.odd = true}});
    CHECK(watered_days(planned.plan.zones[0]) == std::vector{0, 2, 4, 5});
    CHECK(planned.plan.zones[0].watering_days == 4);
    // A year without: 25, 27 February, 1, 3 March.
    const GardenPlan common = pots_planned(lisbon, "2027-02-25", "[\"05:00-08:00\"]", odd_dates);
    CHECK(iso_date(common.plan.until) == "2027-03-03");
    CHECK(watered_days(common.plan.zones[0]) == std::vector{0, 2, 4, 6});
  }

  TEST_CASE("calendar - odd dates over New Year") {
    // From Monday 27 December 2027: 27, 29, 31 December and 1 January.
    const GardenPlan planned = pots_planned(lisbon, "2027-12-27", "[\"05:00-08:00\"]", odd_dates);
    CHECK(iso_date(planned.plan.until) == "2028-01-02");
    CHECK(watered_days(planned.plan.zones[0]) == std::vector{0, 2, 4, 5});
    CHECK(clock_doubt(planned).empty());
  }

  TEST_CASE("calendar - what is typed for Tuesday runs on Tuesday, on both sides of midnight") {
    const GardenPlan planned =
        pots_planned(lisbon, "2027-07-12", "[\"22:00-02:00\"]", "rules: [{days: [Tue]}]\n");
    REQUIRE(planned.constraints.hours.size() == 2);
    CHECK(planned.constraints.hours[0].closes == WallTime{2 * 60});
    CHECK(planned.constraints.hours[1].opens == WallTime{22 * 60});
    CHECK(planned.constraints.hours[1].closes == WallTime{24 * 60});
    CHECK(to_text(planned.plan.valves.at(0).days) == "Tue");
    CHECK(watered_days(planned.plan.zones[0]) == std::vector{1});  // 13 July 2027
    for (const auto& [start, length] : planned.plan.valves[0].openings)
      CHECK(start + length <= WallTime{24 * 60});
  }

  TEST_CASE("calendar - a crop's stages go on over New Year in the south") {
    const Date from = date_of("2027-12-28");
    const Weather weather(from, "rain,reference_et", "0,5");
    const std::string bed = "soil: {texture: loam}, emitters: {type: spray, rate: 12 mm/h}}\n";
    // Planted on 1 December as day 1, 20 days initial: 28 December is day 28, 8 of 30 days into
    // development; FAO-56 Eq. 66: 0.6 + 8/30 x 0.6 = 0.76, and 0.02 more each day.
    const std::string annual =
        "  - {name: a, valve: 1, area: 8 m2, plants: {crop: tomato, planted: 2027-12-01, stages: "
        "[20, 30, 40, 30], coefficients: {initial: 0.6, middle: 1.2, end: 0.8}}, " +
        bed;
    // No green-up stated: the middle of March in the north, so 15 September here as day 1; 28
    // December is day 105 (16 + 31 + 30 + 28): 45 of 70 days into development.
    const std::string perennial =
        "  - {name: p, valve: 2, area: 8 m2, plants: {crop: table grape, stages: [60, 70, 60, 40], "
        "coefficients: {initial: 0.3, middle: 1.0, end: 0.45}}, " +
        bed;
    const GardenPlan planned = plan_garden(
        garden_at(adelaide, weather.path(), "[\"04:00-09:00\"]", "", annual + perennial),
        {.from = from});
    for (Eigen::Index day = 0; day < horizon_days; ++day) {
      CAPTURE(day);
      CHECK(planned.zones[0].task.model.kc[day] ==
            doctest::Approx(0.76 + 0.02 * static_cast<double>(day)).epsilon(1e-9));
      CHECK(planned.zones[1].task.model.kc[day] ==
            doctest::Approx(0.3 + 0.7 * (45.0 + static_cast<double>(day)) / 70.0).epsilon(1e-9));
    }
  }

  TEST_CASE("calendar - polar day and polar night have a plan and a day's course") {
    for (const char* from : {"2027-06-21", "2027-12-20"}) {
      CAPTURE(from);
      const Weather weather(date_of(from), "tmax [degC],tmin [degC],rain [mm]", "12,5,0");
      const GardenPlan planned =
          plan_garden(garden_at(tromso, weather.path(), "[\"00:00-24:00\"]", "", plain_pots),
                      {.from = date_of(from)});
      CHECK(planned.weather.eto_mm.allFinite());
      CHECK(planned.plan.unharmed());
      // Oslo's clock is that of 15 E, an hour on in summer; equation of time -1.8 min at midsummer,
      // +2.5 on 20 December (almanac, from memory).
      const bool summer = std::string(from) == "2027-06-21";
      const double noon = 12 * 60 - 4.0 * (18.96 - 15.0) + (summer ? 60 + 1.8 : -2.5);
      CHECK(std::abs(noon_min(tromso, from) - noon) < 2.0);
      const auto& share = planned.zones[0].task.et_share_before;
      for (int minute = 30; minute <= 24 * 60; minute += 30)
        CHECK(share(WallTime{minute}) >= share(WallTime{minute - 30}));
      CHECK(share(WallTime{0}) >= 0.0);
      CHECK(share(WallTime{24 * 60}) <= 1.0);
      CHECK(std::abs(share(WallTime{std::lround(noon)}) - 0.5) < 0.01);
    }
  }
}

}  // namespace runnel

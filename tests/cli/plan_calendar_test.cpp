// Calendar files (RFC 5545) as an independent reader, libical, understands them: against the plan's
// own times, with the C library's time zones between the two.
#include <doctest/doctest.h>
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdlib>
#include <ctime>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <tuple>
#include <vector>

#include "folder.hpp"
#include "read_calendar.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/plain_text.hpp"

namespace runnel {
namespace {

using std::chrono::days;

constexpr const char* with_waterings = "plan garden.yaml --format ics --every-watering";

Date date_of(const std::string& text) { return *parse_date(text); }

/// The process's time zone, as the C library reads it, while this lives.
class ClockOf {
 public:
  explicit ClockOf(const std::string& zone) {
    if (const char* before = std::getenv("TZ")) before_ = before;  // NOLINT: no other thread
    set(zone);
  }
  ClockOf(const ClockOf&) = delete;
  ClockOf& operator=(const ClockOf&) = delete;
  ~ClockOf() { set(before_); }

  /// A time that the clock leaves out or shows twice is taken by the offset before the change, as
  /// RFC 5545 section 3.3.5 has it.
  [[nodiscard]] static std::time_t at(Date date, std::chrono::minutes time) {
    const auto clock_s = std::chrono::seconds{(date + time).time_since_epoch()}.count();
    const std::time_t before = clock_s - offset_at(clock_s - 86'400);
    const std::time_t after = clock_s - offset_at(clock_s + 86'400);
    const bool is_before = before + offset_at(before) == clock_s;
    const bool is_after = after + offset_at(after) == clock_s;
    return is_before || !is_after ? before : after;
  }

 private:
  static long offset_at(std::time_t time) {
    std::tm parts{};
    localtime_r(&time, &parts);
    return parts.tm_gmtoff;
  }
  static void set(const std::string& zone) {
    if (zone.empty())
      unsetenv("TZ");  // NOLINT: no other thread
    else
      setenv("TZ", zone.c_str(), 1);  // NOLINT: no other thread
    tzset();
  }
  std::string before_;
};

/// Valve, begin and minutes.
using Interval = std::tuple<int, std::time_t, int>;

bool is_among(const std::string& pattern, Date date) {
  if (pattern == "every day") return true;
  std::istringstream words(pattern);
  for (std::string word; words >> word;) {
    const auto weekday = parse_weekday(word);
    REQUIRE_MESSAGE(weekday, pattern);
    if (*weekday == weekday_index(date)) return true;
  }
  return false;
}

/// The timetable of a plan written as JSON, day by day.
std::vector<Interval> intervals_of(const std::string& json, const std::string& zone) {
  const ClockOf clock(zone);
  const YAML::Node plan = YAML::Load(json);  // YAML 1.2 holds JSON
  std::set<Interval> every;                  // zones of one valve have the same
  const Date until = date_of(plan["until"].as<std::string>());
  for (Date date = date_of(plan["from"].as<std::string>()); date <= until; date += days{1})
    for (const YAML::Node& row : plan["zones"]) {
      const auto pattern = row["days"].as<std::string>();
      if (pattern == "-" || !is_among(pattern, date)) continue;
      for (std::size_t i = 0; i < row["starts"].size(); ++i)
        every.emplace(row["valve"].as<int>(),
                      ClockOf::at(date, *parse_clock(row["starts"][i].as<std::string>())),
                      row["runs_min"][i].as<int>());
    }
  return {every.begin(), every.end()};
}

/// "20260713" of a watering's UID.
std::string day_of(const std::string& uid) { return uid.substr(uid.find("-valve-") - 8, 8); }

int valve_of(const std::string& uid) { return std::stoi(uid.substr(uid.find("-valve-") + 7)); }

std::vector<Interval> intervals_of(const std::vector<CalendarEvent>& waterings) {
  std::vector<Interval> all;
  for (const CalendarEvent& event : waterings)
    if (!event.cancelled) all.emplace_back(valve_of(event.uid), event.begins, event.length_min);
  std::sort(all.begin(), all.end());
  return all;
}

std::set<std::string> uids(const std::vector<CalendarEvent>& events) {
  std::set<std::string> all;
  for (const CalendarEvent& event : events) all.insert(event.uid);
  CHECK(all.size() == events.size());
  return all;
}

/// The week worked by hand, elsewhere: days of 5 mm without rain before `from`, and after.
struct Elsewhere {
  const char *zone, *latitude, *longitude, *from, *hours;
};

void move(const Folder& folder, const Elsewhere& place) {
  folder.replace("garden.yaml", "latitude: 38.72", std::string("latitude: ") + place.latitude);
  folder.replace("garden.yaml", "longitude: -9.14", std::string("longitude: ") + place.longitude);
  folder.replace("garden.yaml", "Europe/Lisbon", place.zone);
  folder.replace("garden.yaml", R"(["04:30-08:00", "20:30-22:30"])", place.hours);
  folder.replace("garden.yaml", "  forecast: forecast.csv      # what is expected\n", "");
  folder.replace("garden.yaml", "[weekdays, every n days]", "[weekdays]");
  std::string weather = "date,rain,reference_et\n";
  for (int day = 10; day > 0; --day)
    weather += iso_date(date_of(place.from) - days{day}) + ",0,5\n";
  folder.write("weather.csv", weather);
}

/// So many days of the forecast have come true.
void live(const Folder& folder, int lived) {
  const std::string forecast = folder.text("forecast.csv");
  const std::size_t begin = forecast.find("\n2026") + 1;
  std::size_t end = begin;
  for (int day = 0; day < lived; ++day) end = forecast.find('\n', end) + 1;
  folder.write("weather.csv", folder.text("weather.csv") + forecast.substr(begin, end - begin));
}

/// RFC 5545 section 3.1, and characters in one piece.
void check_lines(const std::string& text) {
  REQUIRE(text.ends_with("\r\n"));
  std::size_t begin = 0;
  std::size_t longest = 0;
  while (begin < text.size()) {
    const std::size_t end = text.find("\r\n", begin);
    REQUIRE(end != std::string::npos);
    const std::string line = text.substr(begin, end - begin);
    CAPTURE(line);
    CHECK(line.size() <= 75);
    CHECK(line.find_first_of("\r\n") == std::string::npos);
    CHECK(first_binary_byte(line) == line.size());
    longest = std::max(longest, line.size());
    begin = end + 2;
  }
  CHECK(longest >= 73);  // folded no earlier than a character of three more bytes asks for
}

}  // namespace

TEST_SUITE("cli") {
  TEST_CASE("calendar - the days on which to act, and what to set") {
    const Folder folder;
    const Result result = folder.run("plan garden.yaml --format ics");
    CAPTURE(result.out);
    CHECK(result.exit == 0);
    check_lines(result.out);
    const CalendarFile calendar(result.out);
    CHECK(calendar.name() == "Sanity week");
    CHECK(calendar.time_zones() == 0);  // whole days have none
    CHECK(calendar.of("To do").size() == calendar.events().size());

    const CalendarEvent set = calendar.about("set-timer-20260713-");
    CHECK(set.date == "2026-07-13");
    CHECK(set.uid.ends_with("@runnel.invalid"));
    CHECK(set.summary.starts_with("Sanity week: set the timer"));
    CHECK(set.location == "Sanity week");
    CHECK(set.alarms_min.empty());
    const YAML::Node plan = YAML::Load(folder.run("plan garden.yaml --format json").out);
    for (const YAML::Node& zone : plan["zones"]) {
      const std::string settings =
          "- valve " + zone["valve"].as<std::string>() + ", " + zone["zone"].as<std::string>() +
          ": " + zone["days"].as<std::string>() + " at " + zone["starts"][0].as<std::string>();
      CHECK_MESSAGE(has(set.description, settings), settings);
      CHECK(has(set.description, ", " + zone["runs_min"][0].as<std::string>() + " min\n"));
    }
    CHECK(has(set.description, "Watch each valve run once"));

    // The text's IF LEFT ALONE is the day to plan again.
    const CalendarEvent again = calendar.about("plan-again-");
    const std::string text = folder.run("plan garden.yaml").out;
    CAPTURE(text);
    if (!has(text, "weeks and more"))
      CHECK(has(text, "unchanged until " + short_date(date_of(again.date))));
    else
      CHECK(date_of(again.date) == date_of("2026-07-13") + days{55});

    // Of an absence the day of coming home is.
    const CalendarFile away(folder.run("plan garden.yaml --until 2026-07-26 --format ics").out);
    CHECK(away.about("plan-again-").date == "2026-07-27");
    CHECK(has(away.about("set-timer-20260713-").description, "new batteries in the timer"));
  }

  TEST_CASE("calendar - each watering is the timetable's through both changes of the clocks") {
    // Dates of the changes: IANA tz database, rules in force in 2027.
    const std::vector<Elsewhere> places{
        {"Europe/Lisbon", "38.72", "-9.14", "2027-03-25", "[\"00:10-03:30\", \"20:30-23:50\"]"},
        {"Europe/Lisbon", "38.72", "-9.14", "2027-10-28", "[\"00:10-00:59\", \"02:30-05:30\"]"},
        {"Australia/Adelaide", "-34.93", "138.60", "2027-04-01",
         "[\"00:50-01:59\", \"03:30-6:00\"]"},
        {"Australia/Adelaide", "-34.93", "138.60", "2027-09-30", "[\"00:50-04:00\"]"},
        {"America/Santiago", "-33.45", "-70.67", "2027-04-01",
         "[\"00:10-02:30\", \"21:00-22:30\"]"},
        {"America/Santiago", "-33.45", "-70.67", "2027-09-02",
         "[\"00:10-02:30\", \"21:00-23:50\"]"},
        {"Asia/Kolkata", "28.61", "77.21", "2027-05-01", "[\"04:30-08:00\"]"},
    };
    for (const Elsewhere& place : places) {
      CAPTURE(place.zone);
      CAPTURE(place.from);
      const Folder folder;
      move(folder, place);
      const Result result = folder.run(with_waterings);
      CAPTURE(result.err);
      REQUIRE(result.exit < 2);
      const Result json = folder.run("plan garden.yaml --format json");
      CHECK(json.exit == result.exit);
      const CalendarFile calendar(result.out);
      CHECK(calendar.time_zones() == 1);
      const std::vector<Interval> expected = intervals_of(json.out, place.zone);
      CHECK(expected.size() >= 7);
      CHECK(intervals_of(calendar.of("Watering")) == expected);
      uids(calendar.events());
    }
  }

  TEST_CASE("calendar - names of any length and letters come through") {
    std::string flowers;
    for (int i = 0; i < 60; ++i) flowers += "\U0001F33B\u00E9\u5EAD";
    // As written in YAML, and as shown.
    const std::vector<std::array<std::string, 3>> names{
        {"terrace bed", R"("beans, peas; \"old\" \\ new")", R"(beans, peas; "old" \ new)"},
        {"wall border", "\"" + flowers + "\"", flowers},
        {"pots by the door", "\"x" + flowers + "\"", "x" + flowers},
        {"Sanity week", R"("Rosa; \U0001F339, N: \\n")", "Rosa; \U0001F339, N: \\n"}};
    const Folder folder;
    for (const auto& [was, written, shown] : names) folder.replace("garden.yaml", was, written);
    const Result result = folder.run(with_waterings);
    CAPTURE(result.err);
    REQUIRE(result.exit == 0);
    check_lines(result.out);
    const CalendarFile calendar(result.out);
    CHECK(calendar.name() == names[3][2]);
    std::set<int> valves;
    for (const CalendarEvent& event : calendar.of("Watering")) {
      const int valve = valve_of(event.uid);
      const std::string& name = names.at(static_cast<std::size_t>(valve) - 1)[2];
      CHECK(event.summary == name + ", " + std::to_string(event.length_min) + " min");
      CHECK(event.location == names[3][2]);
      valves.insert(valve);
    }
    CHECK(valves == std::set<int>{1, 2, 3});
    const CalendarEvent set = calendar.about("set-timer-");
    for (const auto& [was, written, shown] : names)
      CHECK_MESSAGE(has(set.summary + set.description, shown), shown);
    CHECK(has(set.description, "\n- valve 1, "));
    for (const std::string& uid : uids(calendar.events())) CHECK(uid.size() < 100);
  }

  TEST_CASE("calendar - two runs are alike and a plan in mid-week takes the place of the first") {
    const Folder folder;
    const Result first = folder.run(std::string(with_waterings) + " --save w1.yaml");
    CHECK(folder.run(with_waterings).out == first.out);
    const CalendarFile before(first.out);
    live(folder, 3);
    const Result result =
        folder.run("replan garden.yaml --after w1.yaml --format ics --every-watering");
    CAPTURE(result.err);
    CHECK(result.exit == 0);
    const CalendarFile after(result.out);
    const std::set<std::string> now = uids(after.events());

    std::map<std::string, CalendarEvent> by_uid;
    for (const CalendarEvent& event : after.events()) by_uid[event.uid] = event;
    int again = 0;
    for (const CalendarEvent& event : before.of("Watering")) {
      const bool to_come = day_of(event.uid) >= "20260716";
      CAPTURE(event.uid);
      CHECK(now.contains(event.uid) == to_come);
      if (!to_come) continue;
      CHECK(by_uid[event.uid].sequence == event.sequence + 3);
      ++again;
    }
    CHECK(again >= 4);
    const CalendarEvent plan_again = before.about("plan-again-");
    CHECK(after.about("plan-again-").uid == plan_again.uid);
    CHECK(after.about("plan-again-").sequence == plan_again.sequence + 3);

    // Of the pots' 23 minutes one less does (replan_test.cpp).
    const CalendarEvent set = after.about("set-timer-20260716-");
    CHECK(has(set.summary, "change the timer"));
    CHECK(has(set.description, "To change:\n- valve 3, pots by the door: minutes "));
    CHECK(has(set.description, "All settings then:\n- valve 1, terrace bed: "));
  }

  TEST_CASE("calendar - waterings that fell away are cancelled and no others") {
    const Folder folder;
    const CalendarFile before(folder.run(std::string(with_waterings) + " --save w1.yaml").out);
    live(folder, 3);
    folder.replace("garden.yaml", R"(["04:30-08:00", "20:30-22:30"])", R"(["04:30-08:00"])");
    const Result result =
        folder.run("plan garden.yaml --after w1.yaml --format ics --every-watering");
    CAPTURE(result.err);
    REQUIRE(result.exit == 0);
    const CalendarFile after(result.out);
    const std::set<std::string> known = uids(before.events());
    const std::set<std::string> now = uids(after.events());
    int cancelled = 0;
    for (const CalendarEvent& event : after.events()) {
      if (!event.cancelled) continue;
      CHECK(known.contains(event.uid));
      ++cancelled;
    }
    CHECK(cancelled > 0);
    for (const CalendarEvent& event : before.of("Watering"))
      if (day_of(event.uid) >= "20260716") CHECK(now.contains(event.uid));
    // What is not cancelled is the new plan's own.
    const YAML::Node plan =
        YAML::Load(folder.run("plan garden.yaml --after w1.yaml --format json").out);
    std::size_t runs = 0;
    std::set<int> valves;
    for (const YAML::Node& zone : plan["zones"])
      if (valves.insert(zone["valve"].as<int>()).second)
        runs += zone["watering_days"].as<std::size_t>() * zone["starts"].size();
    CHECK(intervals_of(after.of("Watering")).size() == runs);
  }

  TEST_CASE("calendar - runs by hand and frost and what falls short are days to act") {
    const Folder folder;
    folder.replace("garden.yaml", "supply:", "log: water-log.csv\nsupply:");
    REQUIRE(folder.run("plan garden.yaml --save w1.yaml").exit == 0);
    live(folder, 3);
    folder.write("water-log.csv",
                 "date,zone,what,amount,note\n2026-07-15,terrace bed,ran,50 min,\n");
    const std::string replan = "replan garden.yaml --after w1.yaml --format ";
    const Result result = folder.run(replan + "ics --alarm '90 min'");
    CAPTURE(result.err);
    CAPTURE(result.out);
    CHECK(result.exit == 0);
    const CalendarFile calendar(result.out);
    const std::string text = folder.run(replan + "text").out;
    const CalendarEvent by_hand = calendar.about("by-hand-20260716-valve-1-");
    const std::size_t at = text.find("\n  valve 1, terrace bed: ") + 24;
    const std::string minutes = text.substr(at, text.find(" min", at) - at);
    CHECK(by_hand.summary == "Sanity week: run valve 1 by hand," + minutes + " min");
    for (const CalendarEvent& event : calendar.events())
      CHECK(event.alarms_min == std::vector<int>{90});

    const Folder cold;
    cold.replace("forecast.csv", "2026-07-18,32,19,1.45", "2026-07-18,12,-1.5,0.45");
    const CalendarFile frosty(cold.run("plan garden.yaml --format ics").out);
    const CalendarEvent frost = frosty.about("frost-");
    CHECK(frost.date == "2026-07-18");
    CHECK(has(frost.description, "Frost by the forecast: Sat 18 Jul -1.5 degC."));
    // Of that morning's and the evening's before, what the pots need.
    CHECK(has(frosty.about("advice-20260718-valve-3-").description,
              "The watering on Sat 18 Jul of pots by the door"));

    const Folder dry;
    dry.replace("garden.yaml", "volume: 20 L, diameter: 32 cm, canopy: 45 cm",
                "volume: 0.4 L, diameter: 32 cm, canopy: 60 cm");
    const Result falls_short = dry.run("plan garden.yaml --format ics");
    CHECK(falls_short.exit == 1);
    const CalendarFile short_of(falls_short.out);
    const Date first = date_of(short_of.about("falls-short-").date);
    CHECK(has(falls_short.err, " 14 days, first on " + short_date(first) + ","));
    CHECK(has(short_of.about("falls-short-").summary, "pots by the door gets too little"));
  }

  TEST_CASE("calendar - rain that makes a watering needless and clocks that change") {
    const Folder folder;
    folder.replace("forecast.csv", "2026-07-14,30,18,1.40,3.9,29.0,0",
                   "2026-07-14,30,18,1.40,3.9,29.0,40");
    folder.replace("weather.csv", "2026-07-12,29,18,1.50,4.1,28.3,0",
                   "2026-07-12,29,18,1.50,4.1,28.3,60");
    const Result json = folder.run("plan garden.yaml --format json");
    const CalendarFile calendar(folder.run("plan garden.yaml --format ics").out);
    std::size_t advised = 0;
    for (const YAML::Node& advice : YAML::Load(json.out)["advice"]) {
      ++advised;
      const auto date = advice["date"].as<std::string>();
      std::string digits = date;
      std::erase(digits, '-');
      const CalendarEvent event =
          calendar.about("advice-" + digits + "-valve-" + advice["valve"].as<std::string>());
      CHECK(event.date == date);
      CHECK(has(event.summary, "leave out the watering of valve "));
    }
    CHECK(advised > 0);

    const Folder spring;
    move(spring, {"Europe/Lisbon", "38.72", "-9.14", "2027-03-25", "[\"00:10-03:30\"]"});
    const CalendarEvent change = CalendarFile(spring.run("plan garden.yaml --format ics").out)
                                     .about("clock-change-20270328-");
    CHECK(change.date == "2027-03-28");
    CHECK(has(change.description, "01:00 to 02:00 on Sun 28 Mar is left out"));
  }

  TEST_CASE("calendar - what is of a calendar alone is asked for with one") {
    const Folder folder;
    for (const char* args :
         {"plan garden.yaml --every-watering", "plan garden.yaml --alarm '1 h'",
          "plan garden.yaml --format ics --alarm 60",
          "plan garden.yaml --format ics --alarm '-1 h'",
          "plan garden.yaml --format ics --alarm '1 mm'", "plan garden.yaml --format ics --doubts",
          "plan garden.yaml --format ics --explain 'terrace bed'",
          "plan garden.yaml garden.yaml --format ics"}) {
      CAPTURE(args);
      const Result result = folder.run(args);
      CHECK(result.exit == 2);
      CHECK(result.out.empty());
      CHECK(lines(result.err) == 1);
    }
  }
}

}  // namespace runnel

#include "runnel/schedule/programme.hpp"

#include <doctest/doctest.h>

using namespace runnel;
using std::chrono::days;
using std::chrono::minutes;

namespace {

const Date monday = *parse_date("2027-07-12");
constexpr unsigned every_day = 0b1111111;

WallTime at(int hour, int minute) { return WallTime{60 * hour + minute}; }

WateringHours two_windows() {
  return {{.opens = at(4, 30), .closes = at(8, 0), .after_et = false},
          {.opens = at(20, 30), .closes = at(25, 0), .after_et = true}};
}

Timer wide_timer() {
  Timer timer;
  timer.every_n_days = 7;
  timer.odd_even = true;
  return timer;
}

Programme programme(int valve, DayPattern days_on, std::vector<WallTime> starts, int run) {
  return {
      .days = days_on, .starts = std::move(starts), .runs = {{.valve = valve, .typed_min = {run}}}};
}
Programme daily(int valve, std::vector<WallTime> starts, int run) {
  return programme(valve, Weekdays{every_day}, std::move(starts), run);
}

std::vector<std::string> said(const std::vector<Programme>& programmes, const Timer& timer,
                              const WateringHours& hours = two_windows()) {
  std::vector<std::string> texts;
  for (const Finding& finding : violations(programmes, {.hours = hours, .timer = timer}, monday)) {
    CHECK(finding.kind == Finding::Kind::error);
    texts.push_back(finding.at.key + ": " + finding.says);
  }
  return texts;
}
using Said = std::vector<std::string>;

}  // namespace

TEST_CASE("programme - nothing to say about a sound week") {
  CHECK(said({}, Timer{}).empty());
  CHECK(said({daily(1, {at(4, 30), at(6, 0)}, 30), daily(2, {at(5, 0), at(24, 30)}, 30),
              programme(3, Weekdays{0}, {}, 0), daily(4, {at(5, 30)}, 30)},
             Timer{})
            .empty());
}

TEST_CASE("programme - settings the timer does not take") {
  Timer timer = wide_timer();
  timer.minutes_step = 5;
  timer.minutes_least = 10;
  timer.minutes_most = 60;
  CHECK(said({daily(7, {at(5, 0)}, 30)}, timer) == Said{"valve 7: the timer has valves 1 to 6"});
  CHECK(said({daily(0, {at(5, 0)}, 30)}, timer) == Said{"valve 0: the timer has valves 1 to 6"});
  CHECK(said({daily(1, {at(4, 30), at(5, 0), at(5, 30), at(6, 0), at(6, 30)}, 10)}, timer) ==
        Said{"valve 1: 5 start times"});
  CHECK(said({daily(1, {at(5, 0)}, 5)}, timer) == Said{"valve 1: a run of 5 minutes"});
  CHECK(said({daily(1, {at(5, 0)}, 65)}, timer) == Said{"valve 1: a run of 65 minutes"});
  CHECK(said({daily(1, {at(5, 0)}, 12)}, timer) == Said{"valve 1: a run of 12 minutes"});
  CHECK(said({daily(1, {at(5, 0)}, 0)}, timer) == Said{"valve 1: a run of 0 minutes"});
  CHECK(said({daily(1, {at(5, 0)}, 30), daily(1, {at(6, 0)}, 30)}, timer) ==
        Said{"valve 1: has two programmes"});
}

TEST_CASE("programme - days the timer cannot be told") {
  Timer timer = wide_timer();
  const EveryN fourth{.n = 4, .first = monday};
  CHECK(said({programme(1, fourth, {at(5, 0)}, 30)}, timer).empty());
  timer.every_n_days = 3;
  CHECK(said({programme(1, fourth, {at(5, 0)}, 30)}, timer) ==
        Said{"valve 1: the timer cannot be set to \"every 4 days from Mon 12 Jul\""});
  CHECK(said({programme(1, EveryN{.n = 0, .first = monday}, {at(5, 0)}, 30)}, timer).size() == 1);
  timer.odd_even = false;
  CHECK(said({programme(1, DateParity{.odd = true}, {at(5, 0)}, 30)}, timer) ==
        Said{"valve 1: the timer cannot be set to \"odd dates\""});
  timer.weekdays = false;
  CHECK(said({programme(1, Weekdays{1}, {at(5, 0)}, 30)}, timer) ==
        Said{"valve 1: the timer cannot be set to \"Mon\""});
}

TEST_CASE("programme - runs outside the watering hours") {
  const Timer timer;
  CHECK(said({daily(1, {at(4, 29)}, 10)}, timer) ==
        Said{"valve 1: the run from 04:29 to 04:39 lies outside the watering hours"});
  CHECK(said({daily(1, {at(7, 51)}, 10)}, timer) ==
        Said{"valve 1: the run from 07:51 to 08:01 lies outside the watering hours"});
  CHECK(said({daily(1, {at(7, 50)}, 10)}, timer).empty());
  CHECK(said({daily(1, {at(24, 50)}, 10)}, timer).empty());
  CHECK(said({daily(1, {at(24, 51)}, 10)}, timer) ==
        Said{"valve 1: the run from 00:51 to 01:01 lies outside the watering hours"});
  // From one window into the next that begins where it ends: still two windows.
  const WateringHours cut = {{.opens = at(12, 0), .closes = at(13, 0), .after_et = false},
                             {.opens = at(13, 0), .closes = at(14, 0), .after_et = true}};
  CHECK(said({daily(1, {at(12, 55)}, 10)}, timer, cut).size() == 1);
  CHECK(said({daily(1, {at(12, 50), at(13, 0)}, 10)}, timer, cut).empty());
}

TEST_CASE("programme - starts out of order or into a run") {
  CHECK(said({daily(1, {at(6, 0), at(5, 0)}, 10)}, Timer{}) ==
        Said{"valve 1: the start at 05:00 comes before the run ahead of it is over"});
  CHECK(said({daily(1, {at(5, 0), at(5, 9)}, 10)}, Timer{}).size() == 1);
  CHECK(said({daily(1, {at(5, 0), at(5, 10)}, 10)}, Timer{}).empty());
}

TEST_CASE("programme - more valves open than allowed") {
  Timer timer = wide_timer();
  const Programme first = daily(1, {at(5, 0)}, 30);
  CHECK(said({first, daily(2, {at(5, 29)}, 30)}, timer) ==
        Said{"valve 2: more valves open than allowed on Mon 12 Jul 05:29"});
  CHECK(said({first, daily(2, {at(5, 30)}, 30)}, timer).empty());
  const Programme tuesdays = programme(1, Weekdays{0b10}, {at(5, 0)}, 30);
  CHECK(said({tuesdays, programme(2, Weekdays{0b01}, {at(5, 0)}, 30)}, timer).empty());
  timer.together = 2;
  CHECK(said({first, daily(2, {at(5, 29)}, 30)}, timer).empty());
  CHECK(said({first, daily(2, {at(5, 10)}, 30), daily(3, {at(5, 20)}, 30)}, timer) ==
        Said{"valve 3: more valves open than allowed on Mon 12 Jul 05:20"});
}

TEST_CASE("programme - patterns that drift meet later than in the first two weeks") {
  const Timer timer = wide_timer();
  const auto every = [](int n, int phase) { return EveryN{.n = n, .first = monday + days(phase)}; };
  const auto both = [&](DayPattern a, DayPattern b) {
    return said({programme(1, a, {at(5, 0)}, 30), programme(2, b, {at(5, 0)}, 30)}, timer).size();
  };
  CHECK(both(every(5, 0), every(6, 1)) == 1);          // first on day 25
  CHECK(both(every(6, 1), Weekdays{0b1000000}) == 1);  // first Sunday: day 13 or later
  CHECK(both(every(3, 0), every(3, 1)) == 0);
  CHECK(both(DateParity{.odd = true}, DateParity{.odd = false}) == 0);
  CHECK(both(DateParity{.odd = true}, Weekdays{1}) == 1);
}

TEST_CASE("programme - past midnight into the next day's hours") {
  const WateringHours round = {{.opens = at(0, 0), .closes = at(6, 0), .after_et = false},
                               {.opens = at(22, 0), .closes = at(25, 0), .after_et = true}};
  const Programme mondays = programme(1, Weekdays{0b01}, {at(24, 10)}, 30);
  CHECK(said({mondays, programme(2, Weekdays{0b10}, {at(0, 20)}, 30)}, Timer{}, round) ==
        Said{"valve 2: more valves open than allowed on Tue 13 Jul 00:20"});
  CHECK(said({mondays, programme(2, Weekdays{0b01}, {at(0, 20)}, 30)}, Timer{}, round).empty());
  // The Sunday before the plan's first day.
  CHECK(said({programme(1, Weekdays{0b1000000}, {at(24, 10)}, 30),
              programme(2, Weekdays{0b0000001}, {at(0, 20)}, 30)},
             Timer{}, round) == Said{"valve 2: more valves open than allowed on Mon 12 Jul 00:20"});
}

TEST_CASE("programme - the pause between valves") {
  Timer timer;
  timer.pause_minutes = 2;
  const Programme first = daily(1, {at(5, 0), at(5, 31)}, 30);  // its own runs need none
  CHECK(said({first}, timer).empty());
  CHECK(said({first, daily(2, {at(6, 2)}, 30)}, timer) ==
        Said{"valve 2: too short a pause after another valve on Mon 12 Jul 06:02"});
  CHECK(said({first, daily(2, {at(6, 3)}, 30)}, timer).empty());
}

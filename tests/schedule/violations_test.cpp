// Faults planted in programmes, each found with its valve, day and time, and beside each the case
// that is just allowed. What a timer takes and what a rule forbids is in the test itself; weekdays
// and dates of July 2027 as any calendar has them (12 July 2027 is a Monday).
#include <doctest/doctest.h>

#include "runnel/schedule/programme.hpp"

using namespace runnel;
using std::chrono::days;

namespace {

const Date monday = *parse_date("2027-07-12");

WallTime at(int hour, int minute) { return WallTime{60 * hour + minute}; }

Constraints all_day() {
  Constraints constraints{.hours = {{.opens = at(0, 0), .closes = at(24, 0)}}, .timer = {}};
  constraints.timer.every_n_days = 7;
  return constraints;
}

DayPattern weekly(unsigned mask) { return Weekdays{mask}; }
const DayPattern daily = weekly(0b1111111);

Programme one(int valve, DayPattern days_on, std::vector<WallTime> starts,
              std::vector<int> typed_min) {
  return {.days = days_on,
          .starts = std::move(starts),
          .runs = {{.valve = valve, .typed_min = std::move(typed_min)}}};
}

using Said = std::vector<std::string>;
Said said(const std::vector<Programme>& programmes, const Constraints& constraints) {
  Said texts;
  for (const Finding& finding : violations(programmes, constraints, monday))
    texts.push_back(finding.at.key + ": " + finding.says +
                    (finding.mend.empty() ? "" : " (" + finding.mend + ")"));
  return texts;
}

}  // namespace

TEST_CASE("violations - lengths of a timer that has a few to choose from") {
  Constraints limits = all_day();
  limits.timer.minutes_choices = {3, 10, 300};  // most and step do not count beside them
  limits.timer.minutes_step = 7;
  CHECK(said({one(1, daily, {at(5, 0)}, {300})}, limits).empty());
  CHECK(said({one(1, daily, {at(5, 0)}, {7})}, limits) ==
        Said{"valve 1: a run of 7 minutes (the timer takes 3, 10, 300)"});
}

TEST_CASE("violations - one length for all starts, or one for each where the timer has them") {
  Constraints limits = all_day();
  const Programme two = one(1, daily, {at(5, 0), at(7, 0)}, {20, 30});
  CHECK(said({two}, limits) ==
        Said{"valve 1: 2 lengths for 2 start times (the timer takes one for all starts)"});
  CHECK(said({one(1, daily, {at(5, 0)}, {})}, limits) ==
        Said{"valve 1: 0 lengths for 1 start times (the timer takes one for all starts)"});
  limits.timer.length_per_start = true;
  CHECK(said({two}, limits).empty());
  CHECK(said({one(1, daily, {at(5, 0), at(7, 0)}, {20})}, limits).empty());
  CHECK(said({one(1, daily, {at(5, 0), at(7, 0)}, {20, 30, 40})}, limits).size() == 1);
  CHECK(said({one(1, daily, {at(5, 0), at(7, 0)}, {20, 0})}, limits) ==
        Said{"valve 1: a run of 0 minutes (the timer takes 1 to 240)"});
}

TEST_CASE("violations - a percentage makes runs longer and shorter") {
  Constraints limits = all_day();
  limits.timer.percentage = 150;
  const std::vector<Programme> close = {one(1, daily, {at(5, 0)}, {30}),
                                        one(2, daily, {at(5, 44)}, {10})};
  CHECK(said(close, limits) == Said{"valve 2: more valves open than allowed on Mon 12 Jul 05:44 "
                                    "(at most 1 at once)"});
  CHECK(said({close[0], one(2, daily, {at(5, 45)}, {10})}, limits).empty());
  CHECK(said({one(1, daily, {at(5, 0)}, {240})}, limits).empty());  // typed in range: runs longer
  limits.hours = {{.opens = at(5, 0), .closes = at(5, 44)}};
  CHECK(said({close[0]}, limits) ==
        Said{"valve 1: the run from 05:00 to 05:45 lies outside the watering hours"});
  limits.timer.percentage = 20;
  CHECK(said({one(1, daily, {at(5, 0)}, {2})}, limits) ==
        Said{"valve 1: a run of 2 minutes comes to nothing at 20 %"});
  CHECK(said({one(1, daily, {at(5, 0)}, {3})}, limits).empty());  // 0.6 min, rounded to 1
}

TEST_CASE("violations - a timer of one start and an interval") {
  Constraints limits = all_day();
  limits.timer.repeat_hours = {6, 12};
  limits.timer.starts_per_valve = 1;
  CHECK(said({one(1, daily, {at(5, 0)}, {10})}, limits).empty());
  CHECK(said({one(1, daily, {at(5, 0), at(17, 0)}, {10})}, limits).empty());
  CHECK(said({one(1, daily, {at(5, 0), at(11, 0), at(17, 0), at(23, 0)}, {10})}, limits).empty());
  CHECK(said({one(1, daily, {at(5, 0), at(11, 0)}, {10})}, limits) ==
        Said{"valve 1: starts at 05:00, 11:00 are at no interval that the timer has (it takes one "
             "start and an interval of 6, 12 hours)"});
  CHECK(said({one(1, daily, {at(5, 0), at(17, 1)}, {10})}, limits).size() == 1);
  CHECK(said({one(1, daily, {at(5, 0), at(13, 0), at(21, 0)}, {10})}, limits).size() == 1);
}

TEST_CASE("violations - start times that do not rise") {
  const Constraints limits = all_day();
  CHECK(said({one(1, daily, {at(5, 0), at(5, 0)}, {10})}, limits) ==
        Said{"valve 1: the start at 05:00 comes before the run ahead of it is over (start times "
             "rise)"});
  CHECK(said({one(1, daily, {at(5, 0), at(5, 10)}, {10})}, limits).empty());
}

TEST_CASE("violations - a run into the next day's first start") {
  Constraints limits = all_day();
  limits.hours = {{.opens = at(0, 30), .closes = at(25, 0)}};
  const std::vector<WallTime> starts = {at(0, 30), at(24, 20)};
  CHECK(said({one(1, daily, starts, {10})}, limits).empty());
  CHECK(said({one(1, daily, starts, {11})}, limits) ==
        Said{"valve 1: the next day's start at 00:30 comes before the run ahead of it is over"});
  CHECK(said({one(1, weekly(0b0010101), starts, {11})}, limits).empty());
  CHECK(said({one(1, weekly(0b1000001), starts, {11})}, limits).size() == 1);  // Sunday to Monday
}

TEST_CASE("violations - a valve's own watering hours") {
  Constraints limits = all_day();
  limits.rules[2] = {.hours = {{.opens = at(6, 0), .closes = at(7, 0)},
                               {.opens = at(20, 0), .closes = at(20, 0)}}};
  CHECK(said({one(1, daily, {at(5, 0)}, {30}), one(2, daily, {at(6, 30)}, {30})}, limits).empty());
  CHECK(said({one(2, daily, {at(6, 31)}, {30})}, limits) ==
        Said{"valve 2: the run from 06:31 to 07:01 lies outside the watering hours"});
  CHECK(said({one(2, daily, {at(5, 59)}, {30})}, limits).size() == 1);
  CHECK(said({one(2, daily, {at(20, 0)}, {1})}, limits).size() == 1);  // closed
}

TEST_CASE("violations - days on which a valve must stay shut") {
  Constraints limits = all_day();
  ValveRules rules{.hours = limits.hours};
  rules.weekdays = std::bitset<7>{0b0001001};
  limits.rules[1] = rules;
  CHECK(said({one(1, weekly(0b0001001), {at(5, 0)}, {30}), one(2, weekly(2), {at(5, 0)}, {30})},
             limits)
            .empty());
  CHECK(said({one(1, weekly(0b1001001), {at(5, 0)}, {30})}, limits) ==
        Said{"valve 1: opens on Sun 18 Jul at 05:00 (allowed: Mon Thu)"});
  // Thursday and, in the next week, Wednesday: the week from `from` alone is looked at.
  CHECK(
      said({one(1, EveryN{.n = 6, .first = monday + days(3)}, {at(5, 0)}, {30})}, limits).empty());
  rules.weekdays = {};
  limits.rules[1] = rules;
  CHECK(said({one(1, weekly(1), {at(5, 0)}, {30})}, limits) ==
        Said{"valve 1: opens on Mon 12 Jul at 05:00 (allowed: no day)"});
  CHECK(said({one(1, weekly(1), {}, {})}, limits).empty());
}

TEST_CASE("violations - odd and even dates, single days shut") {
  Constraints limits = all_day();
  ValveRules rules{.hours = limits.hours};
  rules.odd_dates = true;
  limits.rules[1] = rules;
  CHECK(said({one(1, weekly(0b0000010), {at(5, 0)}, {30})}, limits).empty());  // Tuesday 13
  CHECK(said({one(1, weekly(0b0000110), {at(5, 0)}, {30})}, limits) ==
        Said{"valve 1: opens on Wed 14 Jul at 05:00 (only odd dates are allowed)"});
  rules.odd_dates = false;
  limits.rules[1] = rules;
  CHECK(said({one(1, weekly(0b0000010), {at(5, 0)}, {30})}, limits) ==
        Said{"valve 1: opens on Tue 13 Jul at 05:00 (only even dates are allowed)"});
  CHECK(said({one(1, weekly(0b0000100), {at(5, 0)}, {30})}, limits).empty());
  rules.odd_dates = {};
  rules.shut_on = {monday + days(4)};
  limits.rules[1] = rules;
  CHECK(said({one(1, daily, {at(5, 0)}, {30})}, limits) ==
        Said{"valve 1: opens on Fri 16 Jul at 05:00 (it must stay shut on that day)"});
  CHECK(said({one(1, weekly(0b1101111), {at(5, 0)}, {30})}, limits).empty());
}

TEST_CASE("violations - minutes a day and in seven days running") {
  Constraints limits = all_day();
  ValveRules rules{.hours = limits.hours};
  rules.most_minutes_a_day = 60;
  limits.rules[1] = rules;
  CHECK(said({one(1, weekly(2), {at(5, 0), at(7, 0)}, {30})}, limits).empty());
  CHECK(said({one(1, weekly(2), {at(5, 0), at(7, 0)}, {31})}, limits) ==
        Said{"valve 1: open for 62 minutes on Tue 13 Jul (at most 60 a day)"});
  rules.most_minutes_a_day = {};
  rules.most_minutes_a_week = 90;
  limits.rules[1] = rules;
  CHECK(said({one(1, weekly(0b0010101), {at(5, 0)}, {30})}, limits).empty());
  CHECK(said({one(1, weekly(0b0010101), {at(5, 0)}, {31})}, limits) ==
        Said{"valve 1: open for 93 minutes from Mon 12 Jul to Sun 18 Jul (at most 90 in any seven "
             "days running)"});
  // Every third day from Wednesday: two in the calendar week, three from Wednesday on.
  const EveryN third{.n = 3, .first = monday + days(2)};
  CHECK(said({one(1, third, {at(5, 0)}, {30})}, limits).empty());
  CHECK(said({one(1, third, {at(5, 0)}, {31})}, limits) ==
        Said{"valve 1: open for 93 minutes from Wed 14 Jul to Tue 20 Jul (at most 90 in any seven "
             "days running)"});
}

TEST_CASE("violations - litres of some valves together") {
  Constraints limits = all_day();
  limits.flows = {{1, Flow::litres_per_hour(60)},
                  {2, Flow::litres_per_hour(120)},
                  {3, Flow::litres_per_hour(6000)}};
  limits.litres = {{.valves = {1, 2}, .a_day = 90.0, .a_week = {}}};
  const Programme first = one(1, daily, {at(5, 0)}, {30});
  const Programme third = one(3, daily, {at(12, 0)}, {200});
  CHECK(said({first, one(2, weekly(4), {at(7, 0)}, {30}), third}, limits).empty());
  CHECK(said({first, one(2, weekly(4), {at(7, 0)}, {31}), third}, limits) ==
        Said{"valves 1, 2: 92.0 L on Wed 14 Jul (at most 90.0 L a day)"});
  limits.litres = {{.valves = {2}, .a_day = {}, .a_week = 180.0}};
  const EveryN third_day{.n = 3, .first = monday + days(2)};
  CHECK(said({first, one(2, third_day, {at(7, 0)}, {30}), third}, limits).empty());
  CHECK(said({first, one(2, third_day, {at(7, 0)}, {31}), third}, limits) ==
        Said{"valve 2: 186.0 L from Wed 14 Jul to Tue 20 Jul (at most 180.0 L in any seven "
             "days running)"});
}

TEST_CASE("violations - more than the supply feeds") {
  Constraints limits = all_day();
  limits.timer.together = 3;
  limits.supply = Flow::litres_per_hour(600);
  limits.flows = {{1, Flow::litres_per_hour(400)},
                  {2, Flow::litres_per_hour(200)},
                  {3, Flow::litres_per_hour(60)},
                  {4, Flow::litres_per_hour(900)}};
  const Programme first = one(1, daily, {at(5, 0)}, {30});
  const Programme second = one(2, weekly(4), {at(5, 10)}, {30});
  CHECK(said({first, second}, limits).empty());
  CHECK(said({first, second, one(3, weekly(4), {at(5, 30)}, {5})}, limits).empty());
  CHECK(said({first, second, one(3, weekly(4), {at(5, 29)}, {5})}, limits) ==
        Said{"valve 3: with the others open takes 11.0 L/min on Wed 14 Jul 05:29 (the supply feeds "
             "10.0 L/min)"});
  const Programme thirsty = one(4, daily, {at(6, 0)}, {30});
  CHECK(said({first, thirsty}, limits).empty());  // alone it is let be
  CHECK(said({first, thirsty, one(3, daily, {at(6, 29)}, {5})}, limits).size() == 1);
  CHECK(said({one(3, daily, {at(6, 29)}, {5}), thirsty}, limits).size() == 1);
}

TEST_CASE("violations - programmes that several valves share") {
  Constraints limits = all_day();
  limits.timer.pause_minutes = 2;
  const auto shared = [](std::vector<Run> runs, std::vector<WallTime> starts) {
    return Programme{.days = daily, .starts = std::move(starts), .runs = std::move(runs)};
  };
  const std::vector<Run> runs = {{.valve = 1, .typed_min = {10}},
                                 {.valve = 3, .typed_min = {20}},
                                 {.valve = 4, .typed_min = {30}}};
  CHECK(said({shared(runs, {at(5, 0)})}, limits) ==
        Said{"valve 3: shares a programme with valve 1 (each valve has days and start times of its "
             "own)",
             "valve 4: shares a programme with valve 1 (each valve has days and start times of its "
             "own)"});
  limits.timer.programmes = 2;
  const std::vector<Programme> sound = {shared(runs, {at(5, 0), at(6, 6)})};  // 10+2+20+2+30+2
  CHECK(said(sound, limits).empty());
  CHECK(times_of(4, sound, limits.timer).openings ==
        std::vector<ValveTimes::Opening>{{.start = at(5, 34), .length = WallTime{30}},
                                         {.start = at(6, 40), .length = WallTime{30}}});
  CHECK(said({shared(runs, {at(5, 0), at(6, 3)})}, limits) ==
        Said{"valve 1: the start at 06:03 comes before the runs ahead of it are over",
             "valve 4: more valves open than allowed on Mon 12 Jul 06:03 (at most 1 at once)",
             "valve 4: too short a pause after another valve on Mon 12 Jul 06:03 (2 minutes "
             "between valves)"});
  CHECK(said({shared(runs, {at(5, 0), at(6, 5)})}, limits) ==
        Said{"valve 4: too short a pause after another valve on Mon 12 Jul 06:05 (2 minutes "
             "between valves)"});

  const Programme second = one(2, weekly(4), {at(6, 6)}, {10});
  CHECK(said({shared(runs, {at(5, 0)}), second}, limits).empty());
  CHECK(said({shared(runs, {at(5, 0)}), one(2, weekly(4), {at(5, 11)}, {1})}, limits).size() == 1);
  CHECK(said({shared(runs, {at(5, 0)}), second, one(5, daily, {at(9, 0)}, {10})}, limits) ==
        Said{"programmes: 3 with start times (the timer has 2)"});
  CHECK(said({shared(runs, {at(5, 0)}), second, one(5, daily, {}, {})}, limits).empty());
  CHECK(said({shared(runs, {at(5, 0)}), one(3, daily, {at(9, 0)}, {10})}, limits) ==
        Said{"valve 3: has two programmes (one for each valve)"});
  CHECK(said({shared({runs[1], runs[0]}, {at(5, 0)})}, limits) ==
        Said{"valve 1: stands after valve 3 in its programme (the timer runs valves in the order "
             "of their numbers)"});
  limits.hours = {{.opens = at(5, 0), .closes = at(6, 3)}};
  CHECK(said({shared(runs, {at(5, 0)})}, limits) ==
        Said{"valve 4: the run from 05:34 to 06:04 lies outside the watering hours"});
}

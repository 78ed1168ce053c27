// What beside the timer limits a timetable, each by hand: hours of a valve's own, the supply,
// litres, intervals, and a length for each start.
#include "timetable_gardens.hpp"

using namespace runnel;
using namespace runnel::timetable_tests;

namespace {

constexpr unsigned every_day = 0b1111111;

Window window(WallTime opens, WallTime closes) { return {.opens = opens, .closes = closes}; }

Flow l_min(double litres) { return Flow::litres_per_hour(60.0 * litres); }

/// Valves of ten litres a minute.
Constraints tens(int valves, WateringHours hours) {
  Constraints constraints{.hours = std::move(hours), .timer = wide_timer(valves)};
  for (const int valve : numbers(static_cast<std::size_t>(valves)))
    constraints.flows[valve] = l_min(10);
  return constraints;
}

std::vector<WallTime> starts(const Timetable& timetable, std::size_t valve) {
  return timetable.programmes[valve].starts;
}

}  // namespace

TEST_CASE("timetable limits - each valve in its own hours") {
  Constraints constraints = tens(2, {window(at(5, 0), at(6, 0)), window(at(20, 0), at(21, 0))});
  const std::vector<Candidate> either = {candidate(Weekdays{1}, {1, 0}, 20, 0, {}),
                                         candidate(Weekdays{1}, {0, 1}, 20, 0, {0, 50}),
                                         dry(2, {1, 0})};
  // The second must wait for 5:45 and has too little left; the evening remains.
  constraints.rules[2] = {.hours = {window(at(5, 45), at(6, 0)), window(at(20, 30), at(21, 0))}};
  const Timetable timetable = packed({either, either}, constraints);
  CHECK(starts(timetable, 0) == std::vector<WallTime>{at(5, 0)});
  CHECK(starts(timetable, 1) == std::vector<WallTime>{at(20, 30)});
  CHECK(timetable.proven);
  constraints.rules[2].hours[1].closes = at(20, 30);  // closed
  CHECK(packed({either, either}, constraints).cost == Cost{1, 0});
}

TEST_CASE("timetable limits - hours that only one order of the valves suits") {
  // The last may only run first: cheapest first and longest first would both place it too late.
  Constraints constraints = tens(3, {window(at(5, 0), at(6, 0))});
  constraints.rules[3] = {.hours = {window(at(5, 0), at(5, 10))}};
  constraints.rules[2] = {.hours = {window(at(5, 0), at(5, 30))}};
  const auto runs = [](int minutes_long) {
    return std::vector<Candidate>{candidate(Weekdays{1}, {1}, minutes_long, 0, {}), dry(1, {1, 0})};
  };
  const Timetable timetable = packed({runs(30), runs(20), runs(10)}, constraints);
  CHECK(timetable.cost == Cost{});
  CHECK(starts(timetable, 2) == std::vector<WallTime>{at(5, 0)});
  CHECK(starts(timetable, 1) == std::vector<WallTime>{at(5, 10)});
  CHECK(starts(timetable, 0) == std::vector<WallTime>{at(5, 30)});
}

TEST_CASE("timetable limits - hours of its own must be part of the garden's") {
  const Lists lists = {{dry(1, {})}};
  Constraints constraints = tens(1, {window(at(5, 0), at(6, 0))});
  constraints.rules[1] = {.hours = {window(at(4, 59), at(6, 0))}};
  CHECK_THROWS_AS((void)pack(numbers(1), lists, constraints), std::invalid_argument);
  constraints.rules[1] = {.hours = {}};
  CHECK_THROWS_AS((void)pack(numbers(1), lists, constraints), std::invalid_argument);
}

TEST_CASE("timetable limits - as many valves at once as the supply feeds") {
  Constraints constraints = tens(6, {window(at(5, 0), at(6, 0))});
  constraints.timer.together = 3;
  const std::vector<Candidate> half = {candidate(Weekdays{1}, {1}, 30, 0, {}), dry(1, {1, 0})};
  const Lists six(6, half);
  const auto left_out = [&](double supply_l_min) {
    constraints.supply = l_min(supply_l_min);
    return packed(six, constraints).cost.harm_um;
  };
  CHECK(left_out(30) == 0);
  CHECK(left_out(29.9) == 2);
  CHECK(left_out(20) == 2);
  CHECK(left_out(19.9) == 4);
  CHECK(left_out(5) == 4);  // each alone
  // With a pause the number counts it, the supply does not: 5:00 to 5:29 and 5:30 to 5:59.
  constraints.timer.pause_minutes = 1;
  const Lists shorter(6, {candidate(Weekdays{1}, {1}, 29, 0, {}), dry(1, {1, 0})});
  constraints.supply = l_min(20);
  CHECK(packed(shorter, constraints).cost.harm_um == 2);
}

TEST_CASE("timetable limits - a valve beyond the supply runs alone beside what brings nothing") {
  Constraints constraints = tens(3, {window(at(5, 0), at(6, 0))});
  constraints.timer.together = 3;
  constraints.supply = l_min(25);
  constraints.flows[1] = l_min(26);
  const std::vector<Candidate> whole = {candidate(Weekdays{1}, {1}, 60, 0, {}), dry(1, {1, 0})};
  CHECK(packed(Lists(3, whole), constraints).cost.harm_um == 1);  // the two others together
  constraints.flows.erase(2);
  CHECK(packed(Lists(2, whole), constraints).cost.harm_um == 0);
  // Monday and Tuesday do not meet.
  constraints.flows[2] = l_min(10);
  const std::vector<Candidate> tuesday = {candidate(Weekdays{2}, {1}, 60, 0, {}), dry(1, {1, 0})};
  CHECK(packed({whole, tuesday}, constraints).cost.harm_um == 0);
}

TEST_CASE("timetable limits - half the litres are shared out where that does the least harm") {
  // Harm grows faster than what is missing: half for each does less than all for one and a half.
  const std::vector<Candidate> zone = {candidate(Weekdays{0b0010101}, {1}, 20, 0, {0, 300}),
                                       candidate(Weekdays{0b0010101}, {1}, 15, 0, {100, 250}),
                                       candidate(Weekdays{0b0010101}, {1}, 10, 0, {400, 200}),
                                       candidate(Weekdays{0b0010101}, {1}, 5, 0, {900, 100}),
                                       dry(1, {1600, 0})};
  Constraints constraints = tens(3, {window(at(5, 0), at(7, 0))});
  constraints.litres = {{.valves = {1, 2, 3}, .a_day = {}, .a_week = 900}};  // of 1,800
  const Timetable timetable = packed(Lists(3, zone), constraints);
  CHECK(timetable.chosen == std::vector<std::size_t>{2, 2, 2});
  CHECK(timetable.proven);
  constraints.litres = {{.valves = {1, 2, 3}, .a_day = 300, .a_week = {}}};
  CHECK(packed(Lists(3, zone), constraints).chosen == std::vector<std::size_t>{2, 2, 2});
  // A hair less, and a zone must give way; not those that the limit leaves out.
  constraints.litres = {{.valves = {1, 2, 3}, .a_day = 299.9, .a_week = {}}};
  CHECK(packed(Lists(3, zone), constraints).cost.harm_um == 900 + 400 + 400);
  constraints.litres.front().valves = {1, 2};
  CHECK(packed(Lists(3, zone), constraints).cost.harm_um == 100 + 400 + 0);
}

TEST_CASE("timetable limits - a day's litres send valves to different days and a week's do not") {
  const auto on = [](unsigned mask, std::int64_t price_cl) {
    return candidate(Weekdays{mask}, {1}, 10, 0, {0, price_cl});
  };
  const std::vector<Candidate> zone = {on(0b0000001, 0), on(0b0000010, 1), dry(1, {1000, 0})};
  Constraints constraints = tens(2, {window(at(5, 0), at(6, 0))});
  constraints.litres = {{.valves = {1, 2}, .a_day = 100, .a_week = {}}};
  CHECK(packed(Lists(2, zone), constraints).cost == Cost{0, 1});
  constraints.litres = {{.valves = {1, 2}, .a_day = {}, .a_week = 100}};
  CHECK(packed(Lists(2, zone), constraints).cost == Cost{1000, 0});
}

TEST_CASE("timetable limits - a week's litres are those of any seven days running") {
  const auto zone = [](DayPattern days_on) {
    return Lists{{candidate(days_on, {1}, 10, 0, {}), dry(1, {1, 0})}};
  };
  const auto harm = [&](DayPattern days_on, double a_week) {
    Constraints constraints = tens(1, {window(at(5, 0), at(6, 0))});
    constraints.litres = {{.valves = {1}, .a_day = {}, .a_week = a_week}};
    return packed(zone(days_on), constraints).cost.harm_um;
  };
  CHECK(harm(EveryN{.n = 2, .first = monday}, 400) == 0);  // four days in some seven
  CHECK(harm(EveryN{.n = 2, .first = monday}, 399) == 1);
  CHECK(harm(EveryN{.n = 4, .first = monday}, 200) == 0);
  CHECK(harm(EveryN{.n = 4, .first = monday}, 199) == 1);
  CHECK(harm(DateParity{.odd = true}, 400) == 0);  // 29th, 31st, 1st, 3rd
  CHECK(harm(DateParity{.odd = true}, 399) == 1);
  CHECK(harm(Weekdays{0b1000001}, 200) == 0);  // Sunday and Monday
  CHECK(harm(Weekdays{0b1000001}, 199) == 1);
}

TEST_CASE("timetable limits - an interval keeps its distance all round the day") {
  // Every eight hours: not before 0:10, for the second window opens at 8:10, and not after 0:20,
  // for the third closes at 16:30. Two valves of ten minutes.
  Constraints constraints = tens(3, {window(at(0, 0), at(1, 30)), window(at(8, 10), at(9, 40)),
                                     window(at(16, 0), at(16, 30))});
  constraints.timer.repeat_hours = {8, 12, 24};
  std::vector<Candidate> zone = {candidate(Weekdays{every_day}, {1, 1, 1}, 10, 0, {}),
                                 dry(3, {1, 0})};
  zone.front().repeat = std::chrono::hours(8);
  const Timetable timetable = packed(Lists(2, zone), constraints);
  CHECK(starts(timetable, 0) == std::vector<WallTime>{at(0, 10), at(8, 10), at(16, 10)});
  CHECK(starts(timetable, 1) == std::vector<WallTime>{at(0, 20), at(8, 20), at(16, 20)});
  CHECK(packed(Lists(3, zone), constraints).cost.harm_um == 1);
  constraints.timer.together = 2;
  CHECK(packed(Lists(3, zone), constraints).cost.harm_um == 0);

  const auto left_out = [&](Candidate one) {
    return packed({{std::move(one), dry(3, {1, 0})}}, constraints).cost.harm_um == 1;
  };
  Candidate odd = zone.front();
  CHECK(!left_out(odd));
  odd.cycles_in = {1, 0, 1};
  odd.run_in[1] = minutes(0);
  CHECK(left_out(odd));  // two starts of three
  odd = zone.front();
  odd.repeat = std::chrono::hours(6);
  CHECK(left_out(odd));  // none that the timer has
  odd.repeat = std::chrono::hours(0);
  CHECK(left_out(odd));  // three free starts
  odd.cycles_in = {1, 0, 0};
  odd.run_in = {minutes(10), minutes(0), minutes(0)};
  CHECK(!left_out(odd));  // a single start needs no interval
  odd = zone.front();
  odd.soak = minutes(8 * 60 - 10);
  CHECK(!left_out(odd));
  odd.soak = minutes(8 * 60 - 9);
  CHECK(left_out(odd));
}

TEST_CASE("timetable limits - a length for each start where the timer takes it") {
  Constraints constraints = tens(1, two_windows());
  Candidate differs = candidate(Weekdays{1}, {1, 2}, 10, 30, {});
  differs.run_in = {minutes(40), minutes(15)};
  const Lists lists = {{differs, dry(2, {1, 0})}};
  CHECK(packed(lists, constraints).cost.harm_um == 1);
  constraints.timer.length_per_start = true;
  const Timetable timetable = packed(lists, constraints);
  CHECK(timetable.programmes[0].runs[0].typed_min == std::vector<int>{40, 15, 15});
  CHECK(starts(timetable, 0) == std::vector<WallTime>{at(4, 30), at(20, 30), at(21, 15)});
}

TEST_CASE("timetable limits - what is typed is what the percentage makes the run") {
  Constraints constraints = tens(1, two_windows());
  constraints.timer.percentage = 150;
  constraints.timer.minutes_choices = {4, 8, 10};
  const auto typed = [&](int run) {
    return packed({{candidate(Weekdays{1}, {1, 0}, run, 0, {}), dry(2, {1, 0})}}, constraints)
        .programmes[0]
        .runs[0]
        .typed_min;
  };
  CHECK(typed(12) == std::vector<int>{8});
  CHECK(typed(15) == std::vector<int>{10});
  CHECK(typed(8).empty());
}

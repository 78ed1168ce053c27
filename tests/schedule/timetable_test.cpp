#include "runnel/schedule/timetable.hpp"

#include "timetable_gardens.hpp"

using namespace runnel;
using namespace runnel::timetable_tests;

TEST_CASE("timetable - one valve takes its cheapest, as early as it goes") {
  const WateringHours hours = two_windows();
  const Lists lists = {{candidate(Weekdays{0b1001}, {2, 1}, 20, 45, {0, 300}),
                        candidate(Weekdays{0b1111111}, {1, 0}, 30, 0, {0, 200}),
                        dry(2, {1000, 0})}};
  const Timetable timetable = packed(lists, hours, wide_timer(6));
  CHECK(timetable.chosen == std::vector<std::size_t>{1});
  CHECK(timetable.programmes[0].starts == std::vector<WallTime>{at(4, 30)});
  CHECK(timetable.proven);
}

TEST_CASE("timetable - soaks of one valve are used by another") {
  const WateringHours hours = {{.opens = at(5, 0), .closes = at(6, 20), .after_et = false}};
  const Lists lists = {{candidate(Weekdays{1}, {2}, 20, 20, {}), dry(1, {1, 0})},
                       {candidate(Weekdays{1}, {2}, 20, 20, {}), dry(1, {1, 0})}};
  const Timetable timetable = packed(lists, hours, wide_timer(6));
  CHECK(timetable.cost == Cost{});
  CHECK(timetable.programmes[0].starts == std::vector<WallTime>{at(5, 0), at(5, 40)});
  CHECK(timetable.programmes[1].starts == std::vector<WallTime>{at(5, 20), at(6, 0)});
}

TEST_CASE("timetable - valves on different days share minutes") {
  const WateringHours hours = {{.opens = at(5, 0), .closes = at(5, 30), .after_et = false}};
  const auto full = [](DayPattern on) {
    return std::vector<Candidate>{candidate(on, {1}, 30, 0, {}), dry(1, {1, 0})};
  };
  const Timer timer = wide_timer(6);
  CHECK(packed({full(Weekdays{0b01}), full(Weekdays{0b10})}, hours, timer).cost == Cost{});
  CHECK(packed({full(Weekdays{0b01}), full(Weekdays{0b11})}, hours, timer).cost == Cost{1, 0});
  const auto every_third = [&](int phase) {
    return full(EveryN{.n = 3, .first = monday + days(phase)});
  };
  CHECK(packed({every_third(0), every_third(1), every_third(2)}, hours, timer).cost == Cost{});
  CHECK(packed({every_third(0), every_third(3)}, hours, timer).cost == Cost{1, 0});
  CHECK(packed({every_third(0), full(DateParity{.odd = true})}, hours, timer).cost == Cost{1, 0});
}

TEST_CASE("timetable - several valves at once") {
  Timer timer = wide_timer(6);
  const WateringHours hours = {{.opens = at(5, 0), .closes = at(6, 0), .after_et = false}};
  const std::vector<Candidate> half = {candidate(Weekdays{1}, {1}, 30, 0, {}), dry(1, {1, 0})};
  for (int together = 1; together <= 3; ++together) {
    timer.together = together;
    for (std::size_t valves = 1; valves <= 6; ++valves) {
      const auto left_out =
          std::max<std::int64_t>(0, static_cast<std::int64_t>(valves) - 2 * together);
      CHECK(packed(Lists(valves, half), hours, timer).cost == Cost{left_out, 0});
    }
  }
  timer.pause_minutes = 1;  // two runs of 30 minutes no longer go one after the other
  timer.together = 2;
  CHECK(packed(Lists(3, half), hours, timer).cost == Cost{1, 0});
}

TEST_CASE("timetable - hours round the clock: the evening ends where the morning begins") {
  const WateringHours round = {{.opens = at(0, 0), .closes = at(1, 0), .after_et = false},
                               {.opens = at(23, 0), .closes = at(24, 0), .after_et = true}};
  Timer timer = wide_timer(6);
  timer.pause_minutes = 5;
  const std::vector<Candidate> mornings = {candidate(Weekdays{0b10}, {1, 0}, 60, 0, {}),
                                           dry(2, {1, 0})};
  const std::vector<Candidate> evenings = {candidate(Weekdays{0b01}, {0, 1}, 55, 0, {}),
                                           candidate(Weekdays{0b01}, {0, 1}, 56, 0, {-1, 0}),
                                           dry(2, {2, 0})};
  CHECK(packed({mornings, evenings}, round, timer).cost == Cost{0, 0});
  Random random(5);
  for (int garden = 0; garden < 100; ++garden) {
    (void)packed(garden_lists(random, 5, 20, 40), round, timer);
  }
}

TEST_CASE("timetable - forty valves with four hundred candidates each") {
  Random random(40);
  const Lists lists = garden_lists(random, 40, 400, 25);
  const Timetable timetable = packed(lists, two_windows(), wide_timer(40));
  MESSAGE("harm " << timetable.cost.harm_um << " price " << timetable.cost.price_cl << " bound "
                  << timetable.bound.harm_um << " / " << timetable.bound.price_cl);
  // The same again, to the minute.
  const Timetable again = packed(lists, two_windows(), wide_timer(40));
  CHECK(again.chosen == timetable.chosen);
  for (std::size_t v = 0; v < lists.size(); ++v) {
    CHECK(again.programmes[v].starts == timetable.programmes[v].starts);
  }
}

TEST_CASE("timetable - forty valves that fit as they are") {
  Lists lists;
  for (unsigned v = 0; v < 40; ++v) {
    lists.push_back({candidate(Weekdays{1U << (v % 7)}, {1, 0}, 35, 0, {0, 10}), dry(2, {1, 0})});
  }
  const Timetable timetable = packed(lists, two_windows(), wide_timer(40));
  CHECK(timetable.cost == Cost{0, 400});
  CHECK(timetable.proven);
}

TEST_CASE("timetable - what the timer does not take is left aside") {
  Timer timer = wide_timer(6);
  timer.minutes_step = 5;
  const Lists lists = {{candidate(Weekdays{1}, {3, 2}, 10, 0, {0, 0}),  // five starts
                        candidate(Weekdays{1}, {1, 0}, 12, 0, {0, 1}),  // off the step
                        candidate(Weekdays{1}, {1, 0}, 250, 0, {0, 2}),
                        candidate(Weekdays{1}, {0, 1}, 125, 0, {0, 3}),  // longer than the window
                        candidate(Weekdays{1}, {0, 2}, 50, 25, {0, 4}),  // with its soak
                        candidate(Weekdays{1}, {0, 2}, 50, 20, {0, 5}), dry(2, {1, 0})}};
  const Timetable timetable = packed(lists, two_windows(), timer);
  CHECK(timetable.chosen == std::vector<std::size_t>{5});
  CHECK(timetable.proven);
}

TEST_CASE("timetable - no valves, no hours, and lists without a dry candidate") {
  CHECK(packed({}, two_windows(), Timer{}).proven);
  const Lists lists = {{candidate(Weekdays{1}, {}, 10, 0, {}), dry(0, {1, 0})}};
  CHECK(packed(lists, {}, Timer{}).programmes[0].starts.empty());
  const std::vector<int> one = {1};
  const Lists wet = {{candidate(Weekdays{1}, {1, 0}, 10, 0, {})}};
  CHECK_THROWS_AS((void)pack(one, wet, {.hours = two_windows(), .timer = {}}),
                  std::invalid_argument);
  CHECK_THROWS_AS((void)pack(std::vector<int>{}, wet, {.hours = two_windows(), .timer = {}}),
                  std::invalid_argument);
}
TEST_CASE("timetable - gardens of every size, days round midnight, pauses, two at once") {
  Random random(97);
  for (int garden = 0; garden < 60; ++garden) {
    CAPTURE(garden);
    Timer timer = wide_timer(12);
    timer.pause_minutes = random.upto(2);
    timer.together = random.between(1, 2);
    WateringHours hours = two_windows();
    if (random.upto(1) == 1)
      hours.back() = {.opens = at(22, 0), .closes = at(25, 30), .after_et = true};
    const auto valves = static_cast<std::size_t>(random.between(1, 12));
    (void)packed(garden_lists(random, valves, 30, 60), hours, timer);
  }
}

#include "timetable_oracle.hpp"

using namespace runnel;
using namespace runnel::timetable_tests;

TEST_CASE("timetable - as cheap as the best of all choices and all start times") {
  Random random(20270712);
  int proven = 0;
  int squeezed = 0;
  constexpr int gardens = 1200;
  for (int garden = 0; garden < gardens; ++garden) {
    CAPTURE(garden);
    const WateringHours hours = small_hours(random);
    Timer timer = wide_timer(4);
    timer.pause_minutes = random.upto(2);
    const Lists lists = small_lists(random, hours.size());
    const Timetable timetable = packed(lists, hours, timer);
    const Cost least = EveryTimetable(lists, {.hours = hours, .timer = timer}).least();
    CAPTURE(least.harm_um);
    CAPTURE(least.price_cl);
    CHECK(timetable.cost.harm_um == least.harm_um);
    CHECK(timetable.cost.price_cl == least.price_cl);
    proven += timetable.proven ? 1 : 0;
    Cost cheapest;
    for (const auto& list : lists) {
      cheapest = cheapest + std::min_element(list.begin(), list.end(), [](auto& a, auto& b) {
                              return a.cost < b.cost;
                            })->cost;
    }
    squeezed += cheapest < least ? 1 : 0;
  }
  CHECK(proven == gardens);
  CHECK(squeezed > gardens / 4);  // else the gardens were too easy to mean anything
}

TEST_CASE("timetable - as cheap as the best with own hours and litres") {
  Random random(20280712);
  int squeezed = 0;
  constexpr int gardens = 200;
  for (int number = 0; number < gardens; ++number) {
    CAPTURE(number);
    const SmallGarden garden = small_garden(random, 1);
    const Timetable timetable = packed(garden.lists, garden.constraints);
    const Cost least = EveryTimetable(garden.lists, garden.constraints).least();
    CHECK(timetable.cost.harm_um == least.harm_um);
    CHECK(timetable.cost.price_cl == least.price_cl);
    CHECK(timetable.bound <= least);
    Constraints no_limits = garden.constraints;
    no_limits.litres.clear();
    squeezed += packed(garden.lists, no_limits).cost < least ? 1 : 0;
  }
  CHECK(squeezed > gardens / 10);
}

TEST_CASE("timetable - as cheap as the best with a supply for some of the valves at once") {
  Random random(20290712);
  int squeezed = 0;
  constexpr int gardens = 200;
  for (int number = 0; number < gardens; ++number) {
    CAPTURE(number);
    const SmallGarden garden = small_garden(random, random.between(2, 3));
    const Timetable timetable = packed(garden.lists, garden.constraints);
    const Cost least = EveryTimetable(garden.lists, garden.constraints).least();
    CHECK(timetable.cost.harm_um == least.harm_um);
    CHECK(timetable.cost.price_cl == least.price_cl);
    CHECK(timetable.bound <= least);
    Constraints enough = garden.constraints;
    enough.supply.reset();
    squeezed += packed(garden.lists, enough).cost < least ? 1 : 0;
  }
  CHECK(squeezed > gardens / 20);
}

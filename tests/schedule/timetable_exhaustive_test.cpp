#include "timetable_oracle.hpp"

using namespace runnel;
using namespace runnel::timetable_tests;

TEST_CASE("timetable - as cheap as the best of all choices and all start times") {
  Random random(20270712);
  int proven = 0;
  int squeezed = 0;
  constexpr int gardens = 1500;
  for (int garden = 0; garden < gardens; ++garden) {
    CAPTURE(garden);
    const WateringHours hours = small_hours(random);
    Timer timer = wide_timer(4);
    timer.pause_minutes = random.upto(2);
    const Lists lists = small_lists(random, hours.size());
    const Timetable timetable = packed(lists, hours, timer);
    const Cost least = EveryTimetable(lists, hours, timer).least();
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

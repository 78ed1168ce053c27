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

namespace {

/// Up to four valves with hours, flows and limits of their own.
struct SmallGarden {
  Constraints constraints;
  Lists lists;
};

SmallGarden small_garden(Random& random, int together) {
  SmallGarden garden{.constraints = {.hours = small_hours(random), .timer = wide_timer(4)},
                     .lists = {}};
  Constraints& constraints = garden.constraints;
  constraints.timer.together = together;
  constraints.timer.pause_minutes = random.upto(1);
  constraints.timer.length_per_start = true;
  garden.lists = small_lists(random, constraints.hours.size(), 4, 2);
  const std::size_t valves = garden.lists.size();
  for (auto& list : garden.lists)
    for (Candidate& one : list)
      if (one.run_in.size() > 1 && one.cycles_in[1] > 0 && random.once_in(2))
        one.run_in[1] += minutes(1);
  constraints.flows = random_flows(random, valves);
  if (random.once_in(2)) constraints.rules = own_hours(random, valves, constraints.hours);
  if (together > 1) constraints.supply = Flow::litres_per_hour(6.0 * random.between(60, 400));
  if (random.once_in(2))
    constraints.litres.push_back(random_limit(random, garden.lists, constraints));
  return garden;
}

}  // namespace

TEST_CASE("timetable - as cheap as the best with own hours and litres") {
  Random random(20280712);
  int squeezed = 0;
  constexpr int gardens = 250;
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
  constexpr int gardens = 250;
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

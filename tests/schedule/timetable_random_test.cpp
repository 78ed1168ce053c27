// Whatever the garden, the checker that shares no code with the search finds nothing to object to.
#include "timetable_gardens.hpp"

using namespace runnel;
using namespace runnel::timetable_tests;

namespace {

#if defined(__SANITIZE_ADDRESS__)
constexpr int gardens = 200;
#else
constexpr int gardens = 1'000;
#endif
constexpr int many_gardens = 10'000;

struct Garden {
  Timer timer;
  WateringHours hours;
  Lists lists;
};

Timer random_timer(Random& random, int valves) {
  Timer timer;
  timer.valves = valves;
  timer.starts_per_valve = random.between(1, 6);
  timer.minutes_step = random.upto(3) == 0 ? 5 : 1;
  timer.minutes_least = random.between(1, 5);
  timer.minutes_most = random.between(20, 120);
  timer.every_n_days = random.upto(2) == 0 ? 0 : random.between(2, 8);
  // Seldom, for the checker then looks at four years, minute by minute.
  timer.odd_even = random.upto(29) == 0;
  timer.weekdays = timer.every_n_days == 0 || random.upto(4) > 0;
  timer.together = random.upto(2) == 0 ? random.between(2, 3) : 1;
  timer.pause_minutes = random.upto(3);
  return timer;
}

/// One to three windows, the last one possibly past midnight or up to the first of the next day.
WateringHours random_hours(Random& random) {
  WateringHours hours;
  WallTime opens{random.upto(6 * 60)};
  const int windows = random.between(1, 3);
  for (int w = 0; w < windows; ++w) {
    const WallTime closes = opens + minutes(random.between(10, 240));
    hours.push_back({.opens = opens, .closes = closes, .after_et = w > 0});
    opens = closes + minutes(random.upto(3) == 0 ? 0 : random.upto(8 * 60));
  }
  const WallTime next_day = hours.front().opens + minutes(24 * 60);
  hours.back().closes = std::min(hours.back().closes, next_day);
  std::erase_if(hours, [](const Window& window) { return window.closes <= window.opens; });
  return hours;
}

DayPattern random_days(Random& random, const std::vector<DayPattern>& offered) {
  return offered[static_cast<std::size_t>(random.upto(static_cast<int>(offered.size()) - 1))];
}

/// Some of the candidates are none that the timer takes or that the hours have room for.
Garden random_garden(Random& random) {
  const int valves = random.between(1, random.between(1, 24));
  Garden garden{.timer = random_timer(random, valves), .hours = random_hours(random), .lists = {}};
  const std::vector<DayPattern> offered = day_patterns(garden.timer, monday);
  for (int v = 0; v < valves; ++v) {
    std::vector<Candidate> list;
    const int watering = random.between(1, 16);
    for (int i = 0; i < watering; ++i) {
      std::vector<int> cycles_in;
      for (std::size_t w = 0; w < garden.hours.size(); ++w) cycles_in.push_back(random.upto(2));
      list.push_back(candidate(
          random_days(random, offered), std::move(cycles_in), random.between(1, 60),
          random.upto(2) == 0 ? random.upto(40) : 0,
          {.harm_um = random.upto(4) == 0 ? random.upto(500) : 0, .price_cl = random.upto(5000)}));
    }
    list.push_back(dry(garden.hours.size(), {.harm_um = 1000, .price_cl = 0}));
    garden.lists.push_back(std::move(list));
  }
  return garden;
}

void look_at(int number_of_gardens, unsigned seed) {
  Random random(seed);
  int watered = 0;
  int more_than_cheapest = 0;
  for (int number = 0; number < number_of_gardens; ++number) {
    CAPTURE(number);
    const Garden garden = random_garden(random);
    const Timetable timetable = packed(garden.lists, garden.hours, garden.timer);
    for (const Programme& programme : timetable.programmes) {
      watered += programme.starts.empty() ? 0 : 1;
    }
    more_than_cheapest += timetable.cost.harm_um > 0 ? 1 : 0;
  }
  CHECK(watered > 2 * number_of_gardens);  // else there was nothing to object to
  CHECK(more_than_cheapest > number_of_gardens / 10);
}

}  // namespace

TEST_CASE("timetable - random gardens and timers without a violation") { look_at(gardens, 4); }

TEST_SUITE("slow") {
  TEST_CASE("timetable - ten thousand random gardens without a violation" * doctest::skip()) {
    look_at(many_gardens, 5);
  }
}

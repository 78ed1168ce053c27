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
  Constraints constraints;
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
  timer.length_per_start = random.once_in(3);
  if (random.once_in(4)) timer.percentage = random.between(3, 20) * 10;
  if (random.once_in(4)) timer.minutes_choices = {2, 5, 10, 20, 30, 60};
  if (random.once_in(6)) timer.repeat_hours = {4, 6, 8, 12, 24};
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

/// Windows so many hours apart, all round the day.
WateringHours hours_apart(Random& random, int apart_hours) {
  WateringHours hours;
  for (WallTime opens{random.upto(60)}; opens < at(24, 0); opens += std::chrono::hours(apart_hours))
    hours.push_back({.opens = opens,
                     .closes = opens + minutes(random.between(20, 60 * apart_hours - 5)),
                     .after_et = opens >= at(12, 0)});
  return hours;
}

DayPattern random_days(Random& random, const std::vector<DayPattern>& offered) {
  return offered[static_cast<std::size_t>(random.upto(static_cast<int>(offered.size()) - 1))];
}

minutes random_run(Random& random, const std::vector<RunLength>& lengths) {
  if (lengths.empty() || random.once_in(8)) return minutes(random.between(1, 60));
  const std::size_t most = std::min<std::size_t>(lengths.size(), 60) - 1;
  return lengths[static_cast<std::size_t>(random.upto(static_cast<int>(most)))].runs;
}

/// So many cycles in each window, of one length or, now and then, a length for each window.
Candidate random_candidate(Random& random, DayPattern days_on, std::vector<int> cycles_in,
                           const Timer& timer) {
  const std::vector<RunLength> lengths = run_lengths(timer);
  const Cost cost{.harm_um = random.once_in(5) ? random.upto(500) : 0,
                  .price_cl = random.upto(5000)};
  const int soak = random.once_in(3) ? random.upto(40) : 0;
  Candidate made = candidate(days_on, std::move(cycles_in), 1, soak, cost);
  const minutes run = random_run(random, lengths);
  const bool differ = random.once_in(timer.length_per_start ? 2 : 10);
  for (std::size_t w = 0; w < made.run_in.size(); ++w)
    if (made.cycles_in[w] > 0) made.run_in[w] = differ ? random_run(random, lengths) : run;
  return made;
}

void add_limits(Random& random, Garden& garden) {
  Constraints& constraints = garden.constraints;
  const std::size_t valves = garden.lists.size();
  if (random.once_in(2)) constraints.flows = random_flows(random, valves);
  if (random.once_in(3)) constraints.rules = own_hours(random, valves, constraints.hours);
  if (random.once_in(2)) constraints.supply = Flow::litres_per_hour(6.0 * random.between(60, 400));
  for (int limits = random.once_in(3) ? 2 : 0; limits > 0; --limits)
    constraints.litres.push_back(random_limit(random, garden.lists, constraints));
}

/// Some of the candidates are none that the timer takes or that the hours have room for.
Garden random_garden(Random& random) {
  const int valves = random.between(1, random.between(1, 24));
  Garden garden{.constraints = {.hours = {}, .timer = random_timer(random, valves)}, .lists = {}};
  const Timer& timer = garden.constraints.timer;
  WateringHours& hours = garden.constraints.hours;
  const bool repeats = !timer.repeat_hours.empty();
  const int apart_hours =
      repeats ? timer.repeat_hours[static_cast<std::size_t>(random.upto(3))] : 0;
  hours = repeats ? hours_apart(random, apart_hours) : random_hours(random);
  const std::vector<DayPattern> offered = day_patterns(timer, monday);
  for (int v = 0; v < valves; ++v) {
    std::vector<Candidate> list;
    const int watering = random.between(1, 16);
    for (int i = 0; i < watering; ++i) {
      std::vector<int> cycles_in;
      for (std::size_t w = 0; w < hours.size(); ++w)
        cycles_in.push_back(repeats ? 1 : random.upto(2));
      list.push_back(
          random_candidate(random, random_days(random, offered), std::move(cycles_in), timer));
      if (repeats && !random.once_in(8)) list.back().repeat = std::chrono::hours(apart_hours);
    }
    list.push_back(dry(hours.size(), {.harm_um = 1000, .price_cl = 0}));
    garden.lists.push_back(std::move(list));
  }
  add_limits(random, garden);
  return garden;
}

void look_at(int number_of_gardens, unsigned seed) {
  Random random(seed);
  int watered = 0;
  int more_than_cheapest = 0;
  int repeated = 0;
  int differing = 0;
  for (int number = 0; number < number_of_gardens; ++number) {
    CAPTURE(number);
    const Garden garden = random_garden(random);
    const Timetable timetable = packed(garden.lists, garden.constraints);
    for (const Programme& programme : timetable.programmes) {
      watered += programme.starts.empty() ? 0 : 1;
      const std::vector<int>& typed_min = programme.runs.front().typed_min;
      differing += std::adjacent_find(typed_min.begin(), typed_min.end(), std::not_equal_to<>()) !=
                           typed_min.end()
                       ? 1
                       : 0;
      repeated += programme.starts.size() > 1 && !garden.constraints.timer.repeat_hours.empty();
    }
    more_than_cheapest += timetable.cost.harm_um > 0 ? 1 : 0;
  }
  CHECK(watered > 2 * number_of_gardens);  // else there was nothing to object to
  CHECK(more_than_cheapest > number_of_gardens / 10);
  CHECK(repeated > number_of_gardens / 10);
  CHECK(differing > number_of_gardens / 10);
}

}  // namespace

TEST_CASE("timetable - random gardens and timers without a violation") { look_at(gardens, 4); }

TEST_SUITE("slow") {
  TEST_CASE("timetable - ten thousand random gardens without a violation" * doctest::skip()) {
    look_at(many_gardens, 5);
  }
}

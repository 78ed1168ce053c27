// Programmes shared by several valves: nothing for the independent checker to object to, and no
// dearer than trying every choice.
#include "shared_programmes.hpp"

#include "timetable_gardens.hpp"

using namespace runnel;
using namespace runnel::timetable_tests;

namespace {

Timer shared_timer(int valves, int programmes) {
  Timer timer = wide_timer(valves);
  timer.odd_even = false;
  timer.programmes = programmes;
  return timer;
}

Candidate with_less(std::size_t /*valve*/, const Candidate& whole, std::vector<minutes> run_in) {
  Candidate less = whole;
  less.run_in = std::move(run_in);
  less.cost.harm_um += 100;
  return less;
}

// One of the patterns and spreads in few kinds, so that valves have some in common.
Lists lists_in_common(Random& random, std::size_t valves, int per_valve, int longest) {
  const std::vector<DayPattern> patterns = {Weekdays{0b1111111},
                                            Weekdays{0b0001001},
                                            Weekdays{0b0010010},
                                            Weekdays{0b0000001},
                                            Weekdays{0b0001000},
                                            EveryN{.n = 2, .first = monday},
                                            EveryN{.n = 3, .first = monday + days(1)}};
  Lists lists(valves);
  for (auto& list : lists) {
    for (int i = 0; i < per_valve; ++i) {
      const int cycles = random.between(1, 3);
      std::vector<int> cycles_in = {random.upto(cycles), 0};
      cycles_in[1] = cycles - cycles_in[0];
      list.push_back(candidate(
          patterns[static_cast<std::size_t>(random.upto(6))], cycles_in, random.between(2, longest),
          random.upto(30),
          {.harm_um = random.upto(4) == 0 ? random.upto(500) : 0, .price_cl = random.upto(5000)}));
    }
    list.push_back(dry(2, {.harm_um = 1000, .price_cl = 0}));
  }
  return lists;
}

// What any timetable must be, whatever the search did.
Timetable shared(Lists& lists, const Constraints& constraints) {
  const std::vector<int> valves = numbers(lists.size());
  Timetable timetable = pack_shared(valves, lists, constraints, with_less);
  REQUIRE(timetable.chosen.size() == lists.size());
  REQUIRE(timetable.valves.size() == lists.size());
  Cost sum;
  for (std::size_t v = 0; v < lists.size(); ++v) {
    const Candidate& chosen = lists[v][timetable.chosen[v]];
    const auto& openings = timetable.valves[v].openings;
    sum = sum + chosen.cost;
    CHECK(timetable.valves[v].valve == valves[v]);
    CHECK(times_of(valves[v], timetable.programmes, constraints.timer).openings == openings);
    std::vector<int> cycles_in(constraints.hours.size(), 0);
    for (std::size_t i = 0; i < openings.size(); ++i) {
      if (i > 0)
        CHECK(openings[i].start - openings[i - 1].start >= openings[i - 1].length + chosen.soak);
      for (std::size_t w = 0; w < constraints.hours.size(); ++w) {
        const Window& window = constraints.hours[w];
        if (openings[i].start < window.opens || openings[i].start >= window.closes) continue;
        ++cycles_in[w];
        CHECK(openings[i].length == chosen.run_in[w]);
      }
    }
    CHECK(cycles_in == chosen.cycles_in);
  }
  CHECK(sum == timetable.cost);
  CHECK(timetable.bound <= timetable.cost);
  CHECK(timetable.proven == (timetable.bound == timetable.cost));
  for (const Finding& finding : violations(timetable.programmes, constraints, monday))
    FAIL_CHECK(to_text(finding));
  return timetable;
}

WateringHours wide_hours() {
  return {{.opens = at(0, 0), .closes = at(12, 0), .after_et = false},
          {.opens = at(12, 0), .closes = at(24, 0), .after_et = true}};
}

}  // namespace

TEST_CASE("shared programmes - random gardens without a violation") {
  Random random(11);
  int watered = 0;
  int several = 0;
  for (int number = 0; number < 300; ++number) {
    CAPTURE(number);
    const int valves = random.between(1, 12);
    Constraints constraints{.hours = two_windows(),
                            .timer = shared_timer(valves, random.between(1, 4))};
    constraints.timer.pause_minutes = random.upto(3);
    constraints.timer.starts_per_valve = random.between(1, 4);
    if (random.upto(3) == 0) constraints.timer.together = 2;
    for (int valve = 1; valve <= valves; ++valve)
      constraints.flows.emplace(valve, Flow::litres_per_hour(random.between(60, 600)));
    if (random.upto(2) == 0) constraints.supply = Flow::litres_per_hour(700);
    if (random.upto(2) == 0)
      constraints.litres = {{.valves = {1, 2, 3}, .a_day = 200.0, .a_week = 600.0}};
    if (random.upto(2) == 0) {
      WateringHours own = constraints.hours;
      own[0].opens += minutes(60);
      own[1].closes = own[1].opens;
      constraints.rules[1] = {.hours = own};
    }
    Lists lists = lists_in_common(random, static_cast<std::size_t>(valves), 30, 60);
    const Timetable timetable = shared(lists, constraints);
    for (const Programme& programme : timetable.programmes) {
      if (programme.starts.empty()) continue;
      watered += static_cast<int>(programme.runs.size());
      several += programme.runs.size() > 1 ? 1 : 0;
    }
  }
  CHECK(watered > 600);
  CHECK(several > 150);
}

TEST_CASE("shared programmes - one for each valve costs what valves of their own do") {
  Random random(12);
  for (int number = 0; number < 60; ++number) {
    CAPTURE(number);
    const int valves = random.between(1, 5);
    Constraints constraints{.hours = wide_hours(), .timer = shared_timer(valves, valves)};
    Lists lists = lists_in_common(random, static_cast<std::size_t>(valves), 20, 60);
    const Timetable together = shared(lists, constraints);
    constraints.timer.programmes = 0;
    const Timetable apart = pack(numbers(lists.size()), lists, constraints);
    CHECK(together.cost == apart.cost);
    CHECK(together.proven == apart.proven);
  }
}

namespace {

/// Every choice of so many frames out of all, each valve in its cheapest. [frames][valves]
Cost least_of_all(const std::vector<std::vector<Cost>>& costs, int programmes) {
  Cost least{.harm_um = 1'000'000, .price_cl = 0};
  for (std::size_t a = 0; a < costs.size(); ++a) {
    for (std::size_t b = 0; b < costs.size(); ++b) {
      if (programmes == 1 && a != b) continue;
      Cost sum;
      for (std::size_t v = 0; v < costs[a].size(); ++v)
        sum = sum + std::min(costs[a][v], costs[b][v]);
      least = std::min(least, sum);
    }
  }
  return least;
}

std::vector<std::vector<Cost>> costs_of_frames(const Lists& lists) {
  std::vector<std::vector<Cost>> costs;
  for (const auto& frames_of : lists) {
    for (const Candidate& frame : frames_of) {
      std::vector<Cost>& of_valves = costs.emplace_back();
      for (const auto& list : lists) {
        Cost cheapest = list.back().cost;
        for (const Candidate& one : list)
          if (one.days == frame.days && one.cycles_in == frame.cycles_in)
            cheapest = std::min(cheapest, one.cost);
        of_valves.push_back(cheapest);
      }
    }
  }
  return costs;
}

}  // namespace

TEST_CASE("shared programmes - no dearer than every choice of frames") {
  Random random(13);
  int not_each_cheapest = 0;
  for (int number = 0; number < 100; ++number) {
    CAPTURE(number);
    const int programmes = random.between(1, 2);
    const Constraints constraints{.hours = wide_hours(), .timer = shared_timer(3, programmes)};
    Lists lists = lists_in_common(random, 3, 25, 30);
    const Cost least = least_of_all(costs_of_frames(lists), programmes);
    const Timetable timetable = shared(lists, constraints);
    CHECK(timetable.cost == least);
    not_each_cheapest += timetable.bound < least ? 1 : 0;
  }
  CHECK(not_each_cheapest > 30);  // else any choice would do
}

TEST_CASE(
    "shared programmes - timers of one interval, of lengths for each start, of a percentage") {
  Random random(15);
  int repeated = 0;
  int unlike = 0;
  for (int number = 0; number < 60; ++number) {
    CAPTURE(number);
    const std::size_t valves = static_cast<std::size_t>(random.between(2, 6));
    Constraints constraints{.hours = wide_hours(),
                            .timer = shared_timer(static_cast<int>(valves), random.between(1, 2))};
    Timer& timer = constraints.timer;
    timer.pause_minutes = random.upto(2);
    timer.percentage = 200;  // even lengths alone
    if (number % 2 == 0)
      timer.repeat_hours = {6, 12};
    else
      timer.length_per_start = true;
    Lists lists(valves);
    for (auto& list : lists) {
      for (int i = 0; i < 12; ++i) {
        const int cycles = number % 2 == 0 ? random.between(1, 2) : 1;
        Candidate one = candidate(Weekdays{random.upto(1) == 0 ? 0b1111111U : 0b0010101U},
                                  {cycles, cycles}, 2 * random.between(1, 20), random.upto(60),
                                  {.harm_um = 0, .price_cl = random.upto(99)});
        if (number % 2 == 0)
          one.repeat = std::chrono::hours{12 / cycles};
        else
          one.run_in[1] = minutes{2 * random.between(1, 20)};
        list.push_back(one);
      }
      list.push_back(dry(2, {.harm_um = 1000, .price_cl = 0}));
    }
    for (const Programme& programme : shared(lists, constraints).programmes) {
      repeated += !timer.repeat_hours.empty() && programme.starts.size() > 1 ? 1 : 0;
      for (const Run& run : programme.runs)
        unlike += run.typed_min.size() > 1 && run.typed_min[0] != run.typed_min[1] ? 1 : 0;
    }
  }
  CHECK(repeated > 20);
  CHECK(unlike > 40);
}

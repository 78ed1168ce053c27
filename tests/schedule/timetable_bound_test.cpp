#include "timetable_bound.hpp"

#include "timetable_oracle.hpp"

using namespace runnel;
using namespace runnel::timetable_tests;

namespace {

/// The bound by itself, before any search: what it says of a garden after so many steps.
Cost relaxed(const Lists& lists, const WateringHours& hours, const Timer& timer, const Cost& best,
             int steps) {
  const Limits limits(numbers(lists.size()), {.hours = hours, .timer = timer});
  Stocks stocks(limits);
  std::vector<std::vector<Option>> options(lists.size());
  std::vector<Options> all(lists.size());
  std::int64_t most_harm_um = 0;
  for (std::size_t v = 0; v < lists.size(); ++v) {
    for (std::size_t i = 0; i < lists[v].size(); ++i) {
      options[v].push_back(stocks.option(v, i, lists[v][i]));
      most_harm_um = std::max(most_harm_um, lists[v][i].cost.harm_um);
    }
    for (const Option& option : options[v]) all[v].push_back(&option);
  }
  stocks.close();
  Relaxation harm(stocks, Relaxation::Part::harm, most_harm_um);
  Relaxation price(stocks, Relaxation::Part::price, most_harm_um);
  harm.tighten(all, best, steps);
  price.tighten(all, best, steps);
  return {.harm_um = Relaxation::rounded_up(harm.bound(all, best)),
          .price_cl = Relaxation::rounded_up(price.bound(all, best))};
}

}  // namespace

TEST_CASE("timetable bound - never above the least of all choices and all start times") {
  Random random(11);
  int raised = 0;
  for (int garden = 0; garden < 400; ++garden) {
    CAPTURE(garden);
    const WateringHours hours = small_hours(random);
    Timer timer = wide_timer(4);
    timer.pause_minutes = random.upto(2);
    const Lists lists = small_lists(random, hours.size());
    const Cost least = EveryTimetable(lists, {.hours = hours, .timer = timer}).least();
    // What is known may be the least itself, or anything above.
    const Cost known{.harm_um = least.harm_um + random.upto(2),
                     .price_cl = least.price_cl + random.upto(40)};
    const Cost without = relaxed(lists, hours, timer, known, 0);
    for (const int steps : {1, 7, 60, 400}) {
      const Cost bound = relaxed(lists, hours, timer, known, steps);
      CHECK(bound.harm_um <= least.harm_um);
      CHECK(bound.price_cl <= least.price_cl);
      raised +=
          steps == 400 && (bound.harm_um > without.harm_um || bound.price_cl > without.price_cl)
              ? 1
              : 0;
    }
  }
  CHECK(raised > 100);  // else prices did nothing
}

// By hand: an hour, and two valves that each want all of it on Mondays for nothing or give way for
// 100. One must: 100 in whole, and the relaxation may not say more.
TEST_CASE("timetable bound - two valves that want the same hour") {
  const WateringHours hours = {{.opens = at(5, 0), .closes = at(6, 0), .after_et = false}};
  const std::vector<Candidate> wants_all = {candidate(Weekdays{1}, {1}, 60, 0, {0, 0}),
                                            candidate(Weekdays{2}, {1}, 60, 0, {0, 100}),
                                            dry(1, {1000, 0})};
  const Cost known{0, 500};
  CHECK(relaxed({wants_all, wants_all}, hours, wide_timer(2), known, 0) == Cost{0, 0});
  CHECK(relaxed({wants_all, wants_all}, hours, wide_timer(2), known, 400).price_cl > 90);
  CHECK(relaxed({wants_all, wants_all}, hours, wide_timer(2), known, 400).price_cl <= 100);
  Timer two = wide_timer(2);
  two.together = 2;
  CHECK(relaxed({wants_all, wants_all}, hours, two, known, 400) == Cost{0, 0});
}

// Every two and every three days meet: each holds its minutes on the day they do.
TEST_CASE("timetable bound - intervals that meet") {
  const WateringHours hours = {{.opens = at(5, 0), .closes = at(6, 0), .after_et = false}};
  const auto every = [](int n, int phase) {
    return std::vector<Candidate>{
        candidate(EveryN{.n = n, .first = monday + days(phase)}, {1}, 40, 0, {0, 0}),
        candidate(EveryN{.n = n, .first = monday + days(phase)}, {1}, 20, 0, {0, 60}),
        dry(1, {1000, 0})};
  };
  const Cost known{0, 500};
  CHECK(relaxed({every(2, 0), every(3, 1)}, hours, wide_timer(2), known, 400).price_cl > 50);
  CHECK(relaxed({every(2, 0), every(2, 1)}, hours, wide_timer(2), known, 400) == Cost{0, 0});
}

TEST_CASE("timetable bound - a whole number is not rounded and a part of one goes up") {
  CHECK(Relaxation::rounded_up(0) == 0);
  CHECK(Relaxation::rounded_up(1) == 1);
  CHECK(Relaxation::rounded_up(-1) == 0);
}

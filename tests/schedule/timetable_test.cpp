#include "runnel/schedule/timetable.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <bitset>
#include <map>
#include <random>

using namespace runnel;
using std::chrono::days;
using std::chrono::minutes;

namespace {

const Date monday = *parse_date("2027-07-12");
constexpr int looked_at_days = 2 * 365;
using Days = std::bitset<looked_at_days>;
using Lists = std::vector<std::vector<Candidate>>;

WallTime at(int hour, int minute) { return WallTime{60 * hour + minute}; }

WateringHours two_windows() {
  return {{.opens = at(4, 30), .closes = at(8, 0), .after_et = false},
          {.opens = at(20, 30), .closes = at(22, 30), .after_et = true}};
}

Timer wide_timer(int valves) {
  Timer timer;
  timer.valves = valves;
  timer.every_n_days = 7;
  timer.odd_even = true;
  return timer;
}

Candidate candidate(DayPattern days_on, std::vector<int> cycles_in, int run, int soak, Cost cost) {
  return {.days = days_on,
          .cycles_in = std::move(cycles_in),
          .run = minutes(run),
          .soak = minutes(soak),
          .cost = cost};
}
Candidate dry(std::size_t windows, Cost cost) {
  return candidate(Weekdays{0}, std::vector<int>(windows, 0), 0, 0, cost);
}

std::vector<int> numbers(std::size_t valves) {
  std::vector<int> all;
  for (std::size_t v = 0; v < valves; ++v) all.push_back(static_cast<int>(v) + 1);
  return all;
}

// What any timetable must be, whatever the search did.
Timetable packed(const Lists& lists, const WateringHours& hours, const Timer& timer) {
  const std::vector<int> valves = numbers(lists.size());
  Timetable timetable = pack(valves, lists, hours, timer);
  REQUIRE(timetable.programmes.size() == lists.size());
  REQUIRE(timetable.chosen.size() == lists.size());
  Cost sum;
  for (std::size_t v = 0; v < lists.size(); ++v) {
    const Candidate& chosen = lists[v][timetable.chosen[v]];
    const Programme& programme = timetable.programmes[v];
    sum = sum + chosen.cost;
    CHECK(programme.valve == valves[v]);
    CHECK(programme.days == chosen.days);
    std::vector<int> cycles_in(hours.size(), 0);
    for (std::size_t i = 0; i < programme.starts.size(); ++i) {
      if (i > 0) {
        CHECK(programme.starts[i] - programme.starts[i - 1] >= chosen.run + chosen.soak);
      }
      for (std::size_t w = 0; w < hours.size(); ++w) {
        if (programme.starts[i] >= hours[w].opens && programme.starts[i] < hours[w].closes) {
          ++cycles_in[w];
        }
      }
    }
    CHECK(cycles_in == chosen.cycles_in);
  }
  CHECK(sum == timetable.cost);
  CHECK(timetable.bound <= timetable.cost);
  CHECK(timetable.proven == (timetable.bound == timetable.cost));
  for (const Finding& finding : violations(timetable.programmes, hours, timer, monday)) {
    FAIL_CHECK(to_text(finding));
  }
  return timetable;
}

// The oracle: every choice of candidates, cheapest first, and for each every minute at which every
// cycle might start. One valve at a time; days compared date by date.
class EveryTimetable {
 public:
  EveryTimetable(const Lists& lists, const WateringHours& hours, const Timer& timer)
      : lists_(lists), hours_(hours), pause_(timer.pause_minutes) {
    for (const auto& list : lists_) {
      for (const Candidate& one : list) {
        Days on;
        for (std::size_t day = 0; day < looked_at_days; ++day) {
          on.set(day, waters_on(one.days, monday + days(static_cast<int>(day))));
        }
        days_[&one] = on;
      }
    }
  }

  [[nodiscard]] Cost least() {
    std::vector<std::pair<Cost, std::vector<const Candidate*>>> all = {{Cost{}, {}}};
    for (const auto& list : lists_) {
      std::vector<std::pair<Cost, std::vector<const Candidate*>>> longer;
      for (const auto& [cost, chosen] : all) {
        for (const Candidate& one : list) {
          longer.emplace_back(cost + one.cost, chosen);
          longer.back().second.push_back(&one);
        }
      }
      all = std::move(longer);
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    for (const auto& [cost, chosen] : all) {
      if (fits(chosen)) return cost;
    }
    FAIL("no timetable at all");
    return {};
  }

 private:
  struct Run {
    const Candidate* of;
    int start;
    [[nodiscard]] int end() const { return start + static_cast<int>(of->run.count()); }
  };

  bool fits(const std::vector<const Candidate*>& chosen) {
    cycles_.clear();
    runs_.clear();
    for (std::size_t w = 0; w < hours_.size(); ++w) {
      for (const Candidate* one : chosen) {
        for (int cycle = 0; cycle < one->cycles_in[w]; ++cycle) cycles_.emplace_back(one, w);
      }
    }
    return place(0);
  }

  bool clear(const Run& run) const {
    return std::all_of(runs_.begin(), runs_.end(), [&](const Run& other) {
      if (other.of == run.of) {
        return run.start >= other.end() + static_cast<int>(run.of->soak.count());
      }
      if ((days_.at(other.of) & days_.at(run.of)).none()) return true;
      return run.start >= other.end() + pause_ || other.start >= run.end() + pause_;
    });
  }

  bool place(std::size_t next) {
    if (next == cycles_.size()) return true;
    const auto& [of, window] = cycles_[next];
    const int opens = static_cast<int>(hours_[window].opens.count());
    const int closes = static_cast<int>(hours_[window].closes.count());
    for (int start = opens; start + of->run.count() <= closes; ++start) {
      const Run run{.of = of, .start = start};
      if (!clear(run)) continue;
      runs_.push_back(run);
      if (place(next + 1)) return true;
      runs_.pop_back();
    }
    return false;
  }

  const Lists& lists_;
  const WateringHours& hours_;
  int pause_;
  std::map<const Candidate*, Days> days_;
  std::vector<std::pair<const Candidate*, std::size_t>> cycles_;
  std::vector<Run> runs_;
};

class Random {
 public:
  explicit Random(unsigned seed) : generator_(seed) {}
  // Not std::uniform_int_distribution, whose numbers differ between standard libraries.
  int upto(int most) { return static_cast<int>(generator_() % static_cast<unsigned>(most + 1)); }
  int between(int least, int most) { return least + upto(most - least); }

  DayPattern days_on() {
    const int kind = upto(9);
    if (kind == 0) return DateParity{.odd = upto(1) == 1};
    if (kind <= 3) {
      const int n = between(2, 7);
      return EveryN{.n = n, .first = monday + days(upto(n - 1))};
    }
    return Weekdays{static_cast<unsigned>(between(1, 127))};
  }

 private:
  std::mt19937 generator_;
};

// Windows of a few minutes, so that every minute can be tried.
WateringHours small_hours(Random& random) {
  WallTime opens = random.upto(3) == 0 ? at(23, 55) : at(5, 0);
  WateringHours hours;
  const int windows = random.between(1, 2);
  for (int w = 0; w < windows; ++w) {
    const WallTime closes = opens + minutes(random.between(6, 12));
    hours.push_back({.opens = opens, .closes = closes, .after_et = w == 1});
    opens = closes + minutes(random.upto(2) == 0 ? 0 : 30);
  }
  return hours;
}

Lists small_lists(Random& random, std::size_t windows) {
  Lists lists(static_cast<std::size_t>(random.between(1, 3)));
  for (auto& list : lists) {
    const int watering = random.between(1, 4);
    for (int i = 0; i < watering; ++i) {
      std::vector<int> cycles_in;
      for (std::size_t w = 0; w < windows; ++w) cycles_in.push_back(random.upto(w == 0 ? 3 : 1));
      const Cost cost{.harm_um = random.upto(3) == 0 ? random.upto(5) : 0,
                      .price_cl = random.upto(60)};
      list.push_back(
          candidate(random.days_on(), cycles_in, random.between(1, 4), random.upto(4), cost));
    }
    list.push_back(dry(windows, {.harm_um = 5 + random.upto(5), .price_cl = random.upto(60)}));
  }
  return lists;
}

// Candidates in the number and of the kind that a garden's valves have.
Lists garden_lists(Random& random, std::size_t valves, int per_valve, int longest) {
  Lists lists(valves);
  for (auto& list : lists) {
    for (int i = 0; i < per_valve; ++i) {
      const int cycles = random.between(1, 3);
      std::vector<int> cycles_in = {random.upto(cycles), 0};
      cycles_in[1] = cycles - cycles_in[0];
      const Cost cost{.harm_um = random.upto(4) == 0 ? random.upto(500) : 0,
                      .price_cl = random.upto(5000)};
      list.push_back(candidate(random.days_on(), cycles_in, random.between(2, longest),
                               random.upto(30), cost));
    }
    list.push_back(dry(2, {.harm_um = 1000, .price_cl = 0}));
  }
  return lists;
}

}  // namespace

TEST_CASE("timetable - as cheap as the best of all choices and all start times") {
  Random random(20270712);
  int proven = 0;
  int squeezed = 0;
  constexpr int gardens = 1500;
  for (int garden = 0; garden < gardens; ++garden) {
    CAPTURE(garden);
    const WateringHours hours = small_hours(random);
    Timer timer = wide_timer(3);
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
  CHECK_THROWS_AS((void)pack(one, wet, two_windows(), Timer{}), std::invalid_argument);
  CHECK_THROWS_AS((void)pack(std::vector<int>{}, wet, two_windows(), Timer{}),
                  std::invalid_argument);
}

// What the tests of the timetable share: short names, random gardens, and what any timetable must
// be.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <random>
#include <vector>

#include "runnel/schedule/timetable.hpp"

namespace runnel::timetable_tests {

using std::chrono::days;
using std::chrono::minutes;

inline const Date monday = *parse_date("2027-07-12");
using Lists = std::vector<std::vector<Candidate>>;

inline WallTime at(int hour, int minute) { return WallTime{60 * hour + minute}; }

inline WateringHours two_windows() {
  return {{.opens = at(4, 30), .closes = at(8, 0), .after_et = false},
          {.opens = at(20, 30), .closes = at(22, 30), .after_et = true}};
}

inline Timer wide_timer(int valves) {
  Timer timer;
  timer.valves = valves;
  timer.every_n_days = 7;
  timer.odd_even = true;
  return timer;
}

inline Candidate candidate(DayPattern days_on, std::vector<int> cycles_in, int run, int soak,
                           Cost cost) {
  Candidate made{.days = days_on,
                 .cycles_in = std::move(cycles_in),
                 .run_in = {},
                 .soak = minutes(soak),
                 .cost = cost};
  for (const int cycles : made.cycles_in) made.run_in.emplace_back(cycles > 0 ? run : 0);
  return made;
}
inline Candidate dry(std::size_t windows, Cost cost) {
  return candidate(Weekdays{0}, std::vector<int>(windows, 0), 0, 0, cost);
}

inline std::vector<int> numbers(std::size_t valves) {
  std::vector<int> all;
  for (std::size_t v = 0; v < valves; ++v) all.push_back(static_cast<int>(v) + 1);
  return all;
}

// What any timetable must be, whatever the search did.
inline Timetable packed(const Lists& lists, const Constraints& constraints) {
  const std::vector<int> valves = numbers(lists.size());
  const WateringHours& hours = constraints.hours;
  Timetable timetable = pack(valves, lists, constraints);
  REQUIRE(timetable.programmes.size() == lists.size());
  REQUIRE(timetable.chosen.size() == lists.size());
  Cost sum;
  for (std::size_t v = 0; v < lists.size(); ++v) {
    const Candidate& chosen = lists[v][timetable.chosen[v]];
    const ValveTimes& times = timetable.valves[v];
    const auto& openings = times.openings;
    sum = sum + chosen.cost;
    CHECK(times.valve == valves[v]);
    CHECK(times.days == chosen.days);
    if (!openings.empty())
      CHECK(times_of(valves[v], timetable.programmes, constraints.timer).openings == openings);
    std::vector<int> cycles_in(hours.size(), 0);
    for (std::size_t i = 0; i < openings.size(); ++i) {
      if (i > 0) {
        const minutes apart = openings[i].start - openings[i - 1].start;
        CHECK(apart >= openings[i - 1].length + chosen.soak);
        if (chosen.repeat.count() > 0) CHECK(apart == chosen.repeat);
      }
      for (std::size_t w = 0; w < hours.size(); ++w) {
        if (openings[i].start >= hours[w].opens && openings[i].start < hours[w].closes) {
          ++cycles_in[w];
          CHECK(openings[i].length == chosen.run_in[w]);
        }
      }
    }
    CHECK(cycles_in == chosen.cycles_in);
  }
  CHECK(sum == timetable.cost);
  CHECK(timetable.bound <= timetable.cost);
  CHECK(timetable.proven == (timetable.bound == timetable.cost));
  for (const Finding& finding : violations(timetable.programmes, constraints, monday)) {
    FAIL_CHECK(to_text(finding));
  }
  return timetable;
}

inline Timetable packed(const Lists& lists, const WateringHours& hours, const Timer& timer) {
  return packed(lists, {.hours = hours, .timer = timer});
}

class Random {
 public:
  explicit Random(unsigned seed) : generator_(seed) {}
  // Not std::uniform_int_distribution, whose numbers differ between standard libraries.
  int upto(int most) { return static_cast<int>(generator_() % static_cast<unsigned>(most + 1)); }
  int between(int least, int most) { return least + upto(most - least); }

  bool once_in(int times) { return upto(times - 1) == 0; }

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

// Some valves may use only part of the garden's hours, or nothing of a window.
inline std::map<int, ValveRules> own_hours(Random& random, std::size_t valves,
                                           const WateringHours& hours) {
  std::map<int, ValveRules> rules;
  for (const int valve : numbers(valves)) {
    if (random.once_in(2)) continue;
    WateringHours own = hours;
    for (Window& window : own) {
      const int length = static_cast<int>((window.closes - window.opens).count());
      if (random.once_in(5)) {
        window.closes = window.opens;
      } else if (random.once_in(2)) {
        window.opens += minutes(random.upto(length / 2));
      } else {
        window.closes -= minutes(random.upto(length / 2));
      }
    }
    rules[valve] = {.hours = own};
  }
  return rules;
}

// What the valves bring, a multiple of a tenth of a litre a minute.
inline std::map<int, Flow> random_flows(Random& random, std::size_t valves) {
  std::map<int, Flow> flows;
  for (const int valve : numbers(valves))
    if (!random.once_in(10)) flows[valve] = Flow::litres_per_hour(6.0 * random.between(20, 200));
  return flows;
}

// What a valve's longest list of minutes comes to, L.
inline double most_litres_a_day(const std::vector<Candidate>& list, int valve,
                                const Constraints& constraints) {
  double most = 0.0;
  for (const Candidate& one : list) {
    double sum_min = 0.0;
    for (std::size_t w = 0; w < one.cycles_in.size(); ++w)
      sum_min += one.cycles_in[w] * static_cast<double>(one.run_in[w].count());
    most = std::max(most, sum_min * constraints.litres_per_minute(valve));
  }
  return most;
}

// Less than the valves could want, or just as much.
inline LitreLimit random_limit(Random& random, const Lists& lists, const Constraints& constraints) {
  LitreLimit limit{.valves = {}, .a_day = {}, .a_week = {}};
  double litres = 0.0;
  for (const int valve : numbers(lists.size())) {
    if (random.once_in(4)) continue;
    limit.valves.push_back(valve);
    litres += most_litres_a_day(lists[static_cast<std::size_t>(valve) - 1], valve, constraints);
  }
  const int kinds = random.upto(2);
  if (kinds != 1) limit.a_day = litres * random.between(2, 10) / 10.0;
  if (kinds != 0) limit.a_week = litres * random.between(3, 40) / 10.0;
  return limit;
}

// Candidates in the number and of the kind that a garden's valves have.
inline Lists garden_lists(Random& random, std::size_t valves, int per_valve, int longest) {
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

}  // namespace runnel::timetable_tests

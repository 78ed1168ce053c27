// An exhaustive search that shares no code with the one tested, and gardens small enough for it.
#pragma once

#include <bit>
#include <bitset>
#include <map>

#include "timetable_gardens.hpp"

namespace runnel::timetable_tests {

inline constexpr int looked_at_days = 2 * 365;
using Days = std::bitset<looked_at_days>;

// The oracle: every choice of candidates, cheapest first, and for each every minute at which every
// cycle might start. Days are compared date by date, valves open at once minute by minute.
class EveryTimetable {
 public:
  EveryTimetable(const Lists& lists, const Constraints& constraints)
      : lists_(lists), constraints_(constraints), pause_(constraints.timer.pause_minutes) {
    for (const int valve : numbers(lists.size())) {
      hours_.push_back(constraints.rules_of(valve).hours);
      flows_l_min_.push_back(constraints.litres_per_minute(valve));
    }
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
    std::size_t valve;
    int start;
    int length;
    [[nodiscard]] int end() const { return start + length; }
  };
  using Chosen = std::vector<const Candidate*>;  // [valves]
  static bool holds(unsigned some, std::size_t valve) { return (some >> valve & 1U) != 0; }

  bool fits(const Chosen& chosen) {
    if (!few_enough_litres(chosen)) return false;
    chosen_ = chosen;
    cycles_.clear();
    runs_.clear();
    for (std::size_t w = 0; w < constraints_.hours.size(); ++w) {
      for (std::size_t v = 0; v < chosen.size(); ++v) {
        for (int cycle = 0; cycle < chosen[v]->cycles_in[w]; ++cycle) cycles_.emplace_back(v, w);
      }
    }
    together_.clear();
    for (unsigned some = 1; some < 1U << chosen.size(); ++some) {
      Days on = Days{}.set();
      for (std::size_t v = 0; v < chosen.size(); ++v)
        if (holds(some, v)) on &= days_.at(chosen[v]);
      if (on.any()) together_.push_back(some);
    }
    return place(0);
  }

  bool few_enough_litres(const Chosen& chosen) const {
    return std::all_of(constraints_.litres.begin(), constraints_.litres.end(),
                       [&](const LitreLimit& limit) { return few_enough_litres(chosen, limit); });
  }
  bool few_enough_litres(const Chosen& chosen, const LitreLimit& limit) const {
    std::vector<double> until(looked_at_days + 1, 0.0);  // the days before each, together
    std::vector<double> a_day;
    for (const int valve : limit.valves) {
      const Candidate& one = *chosen[static_cast<std::size_t>(valve) - 1];
      a_day.push_back(most_litres_a_day({one}, valve, constraints_));
    }
    for (std::size_t day = 0; day < looked_at_days; ++day) {
      until[day + 1] = until[day];
      for (std::size_t i = 0; i < limit.valves.size(); ++i) {
        const Candidate* one = chosen[static_cast<std::size_t>(limit.valves[i]) - 1];
        if (a_day[i] > 0.0 && days_.at(one)[day]) until[day + 1] += a_day[i];
      }
    }
    const auto beyond = [&](std::optional<double> most, std::size_t running) {
      for (std::size_t day = 0; most && day + running <= looked_at_days; ++day)
        if (until[day + running] - until[day] > *most + 1e-6) return true;
      return false;
    };
    return !beyond(limit.a_day, 1) && !beyond(limit.a_week, 7);
  }

  // Of some valves that water on one day, those open in a minute.
  bool allowed(int minute, unsigned some) const {
    unsigned holding = 0;
    unsigned open = 0;
    for (const Run& run : runs_) {
      if (!holds(some, run.valve) || run.start > minute) continue;
      if (minute < run.end() + pause_) holding |= 1U << run.valve;
      if (minute < run.end()) open |= 1U << run.valve;
    }
    double sum_l_min = 0.0;
    int bringing = 0;
    for (std::size_t v = 0; v < flows_l_min_.size(); ++v) {
      if (!holds(open, v) || flows_l_min_[v] <= 0.0) continue;
      sum_l_min += flows_l_min_[v];
      ++bringing;
    }
    const bool fed = !constraints_.supply || bringing <= 1 ||
                     60.0 * sum_l_min <= constraints_.supply->litres_per_hour() * (1.0 + 1e-9);
    return fed && std::popcount(holding) <= constraints_.timer.together;
  }

  bool last_may_stand() const {
    const Run& last = runs_.back();
    return std::all_of(together_.begin(), together_.end(), [&](unsigned some) {
      if (!holds(some, last.valve)) return true;
      for (int minute = last.start; minute < last.end() + pause_; ++minute)
        if (!allowed(minute, some)) return false;
      return true;
    });
  }

  int earliest(std::size_t valve) const {
    int ready = 0;
    for (const Run& run : runs_)
      if (run.valve == valve)
        ready = std::max(ready, run.end() + static_cast<int>(chosen_[valve]->soak.count()));
    return ready;
  }

  bool place(std::size_t next) {
    if (next == cycles_.size()) return true;
    const auto& [valve, w] = cycles_[next];
    const Window& own = hours_[valve][w];
    const int length = static_cast<int>(chosen_[valve]->run_in[w].count());
    const int first = std::max(static_cast<int>(own.opens.count()), earliest(valve));
    for (int start = first; start + length <= own.closes.count(); ++start) {
      runs_.push_back({.valve = valve, .start = start, .length = length});
      if (last_may_stand() && place(next + 1)) return true;
      runs_.pop_back();
    }
    return false;
  }

  const Lists& lists_;
  const Constraints& constraints_;
  int pause_;
  std::vector<WateringHours> hours_;  // [valves]
  std::vector<double> flows_l_min_;   // [valves]
  std::map<const Candidate*, Days> days_;
  Chosen chosen_;
  std::vector<unsigned> together_;  // sets of valves that all water on some day
  std::vector<std::pair<std::size_t, std::size_t>> cycles_;  // valve, window
  std::vector<Run> runs_;
};

// Windows of a few minutes, so that every minute can be tried.
inline WateringHours small_hours(Random& random) {
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

inline Lists small_lists(Random& random, std::size_t windows, int most_valves = 3,
                         int most_cycles = 3) {
  Lists lists(static_cast<std::size_t>(random.between(1, most_valves)));
  for (auto& list : lists) {
    const int watering = random.between(1, 4);
    for (int i = 0; i < watering; ++i) {
      std::vector<int> cycles_in;
      for (std::size_t w = 0; w < windows; ++w)
        cycles_in.push_back(random.upto(w == 0 ? most_cycles : 1));
      const Cost cost{.harm_um = random.upto(3) == 0 ? random.upto(5) : 0,
                      .price_cl = random.upto(60)};
      list.push_back(
          candidate(random.days_on(), cycles_in, random.between(1, 4), random.upto(4), cost));
    }
    list.push_back(dry(windows, {.harm_um = 5 + random.upto(5), .price_cl = random.upto(60)}));
  }
  return lists;
}

}  // namespace runnel::timetable_tests

// An exhaustive search that shares no code with the one tested, and gardens small enough for it.
#pragma once

#include <bitset>
#include <map>

#include "timetable_gardens.hpp"

namespace runnel::timetable_tests {

inline constexpr int looked_at_days = 2 * 365;
using Days = std::bitset<looked_at_days>;

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
    int length;
    [[nodiscard]] int end() const { return start + length; }
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
    const int length = static_cast<int>(of->run_in[window].count());
    for (int start = opens; start + length <= closes; ++start) {
      const Run run{.of = of, .start = start, .length = length};
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

inline Lists small_lists(Random& random, std::size_t windows) {
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

}  // namespace runnel::timetable_tests

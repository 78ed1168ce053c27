#include "runnel/schedule/programme.hpp"

#include <algorithm>
#include <cstdint>
#include <numeric>
#include <set>

namespace runnel {
namespace {

using std::chrono::days;
using std::chrono::minutes;

constexpr int kDayMinutes = 24 * 60;
constexpr int kLeastDays = 14;
constexpr int kMostDays = 4 * 365 + 1;  // odd and even dates repeat with the leap years

std::string valve_key(const Programme& programme) {
  return "valve " + std::to_string(programme.valve);
}

class Faults {
 public:
  void add(std::string key, std::string says, std::string mend) {
    findings_.push_back({.kind = Finding::Kind::error,
                         .at = {.file = "", .line = 0, .column = 0, .key = std::move(key)},
                         .says = std::move(says),
                         .mend = std::move(mend)});
  }
  [[nodiscard]] std::vector<Finding> take() { return std::move(findings_); }

 private:
  std::vector<Finding> findings_;
};

bool offered(const DayPattern& pattern, const Timer& timer) {
  if (std::holds_alternative<Weekdays>(pattern)) return timer.weekdays;
  if (std::holds_alternative<DateParity>(pattern)) return timer.odd_even;
  const int n = std::get<EveryN>(pattern).n;
  return n >= 1 && n <= timer.every_n_days;
}

void check_settings(const Programme& programme, const Timer& timer, Faults& faults) {
  const std::string key = valve_key(programme);
  if (programme.valve < 1 || programme.valve > timer.valves) {
    faults.add(key, "the timer has valves 1 to " + std::to_string(timer.valves), "");
  }
  if (programme.starts.empty()) return;
  if (!offered(programme.days, timer)) {
    faults.add(key, "the timer cannot be set to \"" + to_text(programme.days) + "\"", "");
  }
  if (programme.starts.size() > static_cast<std::size_t>(std::max(timer.starts_per_valve, 0))) {
    faults.add(key, std::to_string(programme.starts.size()) + " start times",
               "the timer takes " + std::to_string(timer.starts_per_valve));
  }
  const auto run = programme.run.count();
  if (run < timer.minutes_least || run > timer.minutes_most || run < 1) {
    faults.add(key, "a run of " + std::to_string(run) + " minutes",
               "the timer takes " + std::to_string(timer.minutes_least) + " to " +
                   std::to_string(timer.minutes_most));
  }
  if (timer.minutes_step > 0 && run % timer.minutes_step != 0) {
    faults.add(key, "a run of " + std::to_string(run) + " minutes",
               "the timer counts in steps of " + std::to_string(timer.minutes_step));
  }
}

void check_times(const Programme& programme, const WateringHours& hours, Faults& faults) {
  const std::string key = valve_key(programme);
  for (std::size_t i = 0; i < programme.starts.size(); ++i) {
    const WallTime start = programme.starts[i];
    const WallTime end = start + programme.run;
    if (i > 0 && start < programme.starts[i - 1] + programme.run) {
      faults.add(key, "the start at " + clock(start) + " comes before the run ahead of it is over",
                 "");
    }
    const bool inside = std::any_of(hours.begin(), hours.end(), [&](const Window& window) {
      return window.opens <= start && end <= window.closes;
    });
    if (!inside) {
      faults.add(
          key,
          "the run from " + clock(start) + " to " + clock(end) + " lies outside the watering hours",
          "");
    }
  }
}

/// Days after which the days of all patterns repeat together, within the limits above.
int days_to_look_at(std::span<const Programme> programmes) {
  int period = 7;
  for (const Programme& programme : programmes) {
    if (const auto* every = std::get_if<EveryN>(&programme.days);
        every != nullptr && every->n > 0) {
      period = std::min(std::lcm(period, every->n), kMostDays);
    } else if (std::holds_alternative<DateParity>(programme.days)) {
      return kMostDays;
    }
  }
  return std::max(period, kLeastDays);
}

/// How many valves hold the line in each minute from midnight of the first day: open, or open less
/// than `pause` minutes ago. Each valve counts once.
class MinuteCount {
 public:
  explicit MinuteCount(int days_shown)
      : count_(static_cast<std::size_t>(days_shown) * kDayMinutes, 0) {}

  template <class Then>
  void add(const Programme& programme, Date from, int pause, Then&& then) {
    std::int64_t counted_until = 0;
    const auto shown = static_cast<std::int64_t>(count_.size());
    for (std::int64_t day = -1; day * kDayMinutes < shown; ++day) {  // -1: may run past midnight
      if (!waters_on(programme.days, from + days(day))) continue;
      for (const WallTime start : programme.starts) {
        const std::int64_t opens = day * kDayMinutes + start.count();
        const std::int64_t over = std::min(opens + programme.run.count() + pause, shown);
        for (std::int64_t m = std::max(opens, counted_until); m < over; ++m) {
          ++count_[static_cast<std::size_t>(m)];
          then(m, count_[static_cast<std::size_t>(m)]);
        }
        counted_until = std::max(counted_until, over);
      }
    }
  }

 private:
  std::vector<std::uint16_t> count_;
};

/// One finding for each valve that meets more others than allowed, at the first minute it does.
void check_together(std::span<const Programme> programmes, const Timer& timer, Date from, int pause,
                    Faults& faults) {
  MinuteCount minute_count(days_to_look_at(programmes) + 1);
  for (const Programme& programme : programmes) {
    std::int64_t first = -1;
    minute_count.add(programme, from, pause, [&](std::int64_t minute, int valves) {
      if (first < 0 && valves > timer.together) first = minute;
    });
    if (first < 0) continue;
    const std::string when =
        short_date(from + days(first / kDayMinutes)) + " " + clock(WallTime(first % kDayMinutes));
    if (pause == 0) {
      faults.add(valve_key(programme), "more valves open than allowed on " + when,
                 "at most " + std::to_string(timer.together) + " at once");
    } else {
      faults.add(valve_key(programme), "too short a pause after another valve on " + when,
                 std::to_string(pause) + " minutes between valves");
    }
  }
}

}  // namespace

std::vector<Finding> violations(std::span<const Programme> programmes, const WateringHours& hours,
                                const Timer& timer, Date from) {
  Faults faults;
  std::set<int> seen;
  for (const Programme& programme : programmes) {
    if (!seen.insert(programme.valve).second) {
      faults.add(valve_key(programme), "has two programmes", "one for each valve");
    }
    check_settings(programme, timer, faults);
    check_times(programme, hours, faults);
  }
  check_together(programmes, timer, from, 0, faults);
  if (timer.pause_minutes > 0) {
    check_together(programmes, timer, from, timer.pause_minutes, faults);
  }
  return faults.take();
}

}  // namespace runnel

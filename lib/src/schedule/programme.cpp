#include "runnel/schedule/programme.hpp"

#include <algorithm>
#include <cmath>
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

std::string valve_key(int valve) { return "valve " + std::to_string(valve); }

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

void check_length(int typed_min, const std::string& key, const Timer& timer, Faults& faults) {
  if (typed_min < timer.minutes_least || typed_min > timer.minutes_most || typed_min < 1) {
    faults.add(key, "a run of " + std::to_string(typed_min) + " minutes",
               "the timer takes " + std::to_string(timer.minutes_least) + " to " +
                   std::to_string(timer.minutes_most));
  }
  if (timer.minutes_step > 0 && typed_min % timer.minutes_step != 0) {
    faults.add(key, "a run of " + std::to_string(typed_min) + " minutes",
               "the timer counts in steps of " + std::to_string(timer.minutes_step));
  }
}

void check_settings(const Programme& programme, const Timer& timer, Faults& faults) {
  for (const Run& run : programme.runs) {
    if (run.valve >= 1 && run.valve <= timer.valves) continue;
    faults.add(valve_key(run.valve), "the timer has valves 1 to " + std::to_string(timer.valves),
               "");
  }
  if (programme.starts.empty() || programme.runs.empty()) return;
  const std::string key = valve_key(programme.runs.front().valve);
  if (!offered(programme.days, timer)) {
    faults.add(key, "the timer cannot be set to \"" + to_text(programme.days) + "\"", "");
  }
  if (programme.starts.size() > static_cast<std::size_t>(std::max(timer.starts_per_valve, 0))) {
    faults.add(key, std::to_string(programme.starts.size()) + " start times",
               "the timer takes " + std::to_string(timer.starts_per_valve));
  }
  for (const Run& run : programme.runs)
    for (const int typed_min : run.typed_min)
      check_length(typed_min, valve_key(run.valve), timer, faults);
}

void check_times(const ValveTimes& times, const WateringHours& hours, Faults& faults) {
  const std::string key = valve_key(times.valve);
  for (std::size_t i = 0; i < times.openings.size(); ++i) {
    const WallTime start = times.openings[i].start;
    const WallTime end = start + times.openings[i].length;
    if (i > 0 && start < times.openings[i - 1].start + times.openings[i - 1].length) {
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
int days_to_look_at(std::span<const ValveTimes> valves) {
  int period = 7;
  for (const ValveTimes& times : valves) {
    if (const auto* every = std::get_if<EveryN>(&times.days); every != nullptr && every->n > 0) {
      period = std::min(std::lcm(period, every->n), kMostDays);
    } else if (std::holds_alternative<DateParity>(times.days)) {
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
  void add(const ValveTimes& times, Date from, int pause, Then&& then) {
    std::int64_t counted_until = 0;
    const auto shown = static_cast<std::int64_t>(count_.size());
    for (std::int64_t day = -1; day * kDayMinutes < shown; ++day) {  // -1: may run past midnight
      if (!waters_on(times.days, from + days(day))) continue;
      for (const ValveTimes::Opening& opening : times.openings) {
        const std::int64_t opens = day * kDayMinutes + opening.start.count();
        const std::int64_t over = std::min(opens + opening.length.count() + pause, shown);
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
void check_together(std::span<const ValveTimes> valves, const Timer& timer, Date from, int pause,
                    Faults& faults) {
  MinuteCount minute_count(days_to_look_at(valves) + 1);
  for (const ValveTimes& times : valves) {
    std::int64_t first = -1;
    minute_count.add(times, from, pause, [&](std::int64_t minute, int open) {
      if (first < 0 && open > timer.together) first = minute;
    });
    if (first < 0) continue;
    const std::string when =
        short_date(from + days(first / kDayMinutes)) + " " + clock(WallTime(first % kDayMinutes));
    if (pause == 0) {
      faults.add(valve_key(times.valve), "more valves open than allowed on " + when,
                 "at most " + std::to_string(timer.together) + " at once");
    } else {
      faults.add(valve_key(times.valve), "too short a pause after another valve on " + when,
                 std::to_string(pause) + " minutes between valves");
    }
  }
}

/// How many minutes after its programme's start a valve opens, and for how long, at the start of
/// that number.
struct InSequence {
  minutes after, length;
};

minutes runs_for(int typed_min, const Timer& timer) {
  return minutes{std::lround(typed_min * timer.percentage / 100.0)};
}

InSequence in_sequence(std::size_t run, std::size_t start, const Programme& programme,
                       const Timer& timer) {
  const auto length = [&](std::size_t r) {
    const std::vector<int>& typed_min = programme.runs[r].typed_min;
    if (typed_min.empty()) return minutes{0};
    return runs_for(typed_min[std::min(start, typed_min.size() - 1)], timer);
  };
  minutes after{0};
  for (std::size_t r = 0; r < run; ++r)
    if (length(r).count() > 0) after += length(r) + minutes{timer.pause_minutes};
  return {.after = after, .length = length(run)};
}

}  // namespace

ValveTimes times_of(int valve, std::span<const Programme> programmes, const Timer& timer) {
  ValveTimes times{.valve = valve, .days = Weekdays{0}, .openings = {}};
  for (const Programme& programme : programmes) {
    for (std::size_t r = 0; r < programme.runs.size(); ++r) {
      if (programme.runs[r].valve != valve) continue;
      times.days = programme.days;
      for (std::size_t s = 0; s < programme.starts.size(); ++s) {
        const InSequence opening = in_sequence(r, s, programme, timer);
        if (opening.length.count() > 0)
          times.openings.push_back(
              {.start = programme.starts[s] + opening.after, .length = opening.length});
      }
    }
  }
  return times;
}

std::vector<Finding> violations(std::span<const Programme> programmes,
                                const Constraints& constraints, Date from) {
  const Timer& timer = constraints.timer;
  Faults faults;
  std::set<int> seen;
  std::vector<ValveTimes> valves;
  for (const Programme& programme : programmes) {
    check_settings(programme, timer, faults);
    for (const Run& run : programme.runs) {
      if (!seen.insert(run.valve).second) {
        faults.add(valve_key(run.valve), "has two programmes", "one for each valve");
        continue;
      }
      valves.push_back(times_of(run.valve, programmes, timer));
      check_times(valves.back(), constraints.rules_of(run.valve).hours, faults);
    }
  }
  check_together(valves, timer, from, 0, faults);
  if (timer.pause_minutes > 0) check_together(valves, timer, from, timer.pause_minutes, faults);
  return faults.take();
}

}  // namespace runnel

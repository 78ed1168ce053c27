#include <algorithm>
#include <cmath>
#include <set>

#include "faults_in_time.hpp"
#include "runnel/schedule/programme.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

constexpr int kDayHours = 24;

std::string listed(const std::vector<int>& numbers) {
  std::string text;
  for (const int number : numbers) text += (text.empty() ? "" : ", ") + std::to_string(number);
  return text;
}

bool offered(const DayPattern& pattern, const Timer& timer) {
  if (std::holds_alternative<Weekdays>(pattern)) return timer.weekdays;
  if (std::holds_alternative<DateParity>(pattern)) return timer.odd_even;
  const int n = std::get<EveryN>(pattern).n;
  return n >= 1 && n <= timer.every_n_days;
}

minutes length_of(int typed_min, const Timer& timer) {
  return minutes{std::lround(typed_min * timer.percentage / 100.0)};
}

void check_length(int typed_min, int valve, const Timer& timer, Faults& faults) {
  const std::string says = "a run of " + std::to_string(typed_min) + " minutes";
  const std::vector<int>& choices = timer.minutes_choices;
  if (!choices.empty()) {
    if (std::find(choices.begin(), choices.end(), typed_min) == choices.end())
      faults.add(valve, says, "the timer takes " + listed(choices));
  } else {
    if (typed_min < timer.minutes_least || typed_min > timer.minutes_most || typed_min < 1)
      faults.add(valve, says,
                 "the timer takes " + std::to_string(timer.minutes_least) + " to " +
                     std::to_string(timer.minutes_most));
    if (timer.minutes_step > 0 && typed_min % timer.minutes_step != 0)
      faults.add(valve, says, "the timer counts in steps of " + std::to_string(timer.minutes_step));
  }
  if (typed_min > 0 && length_of(typed_min, timer).count() < 1)
    faults.add(valve, says + " comes to nothing at " + std::to_string(timer.percentage) + " %", "");
}

void check_lengths(const Run& run, std::size_t starts, const Timer& timer, Faults& faults) {
  const std::size_t lengths = run.typed_min.size();
  const bool one_each = timer.length_per_start && lengths == starts;
  if (lengths != 1 && !one_each)
    faults.add(run.valve,
               std::to_string(lengths) + " lengths for " + std::to_string(starts) + " start times",
               timer.length_per_start ? "the timer takes one for all starts, or one for each"
                                      : "the timer takes one for all starts");
  for (const int typed_min : run.typed_min) check_length(typed_min, run.valve, timer, faults);
}

/// One start, or starts all round the day at an interval that the timer offers.
bool at_an_interval(const std::vector<WallTime>& starts, const Timer& timer) {
  if (starts.size() == 1) return true;
  return std::any_of(timer.repeat_hours.begin(), timer.repeat_hours.end(), [&](int hours) {
    if (hours < 1 || kDayHours % hours != 0) return false;
    if (starts.size() != static_cast<std::size_t>(kDayHours / hours)) return false;
    return std::adjacent_find(starts.begin(), starts.end(), [hours](WallTime a, WallTime b) {
             return b - a != std::chrono::hours{hours};
           }) == starts.end();
  });
}

void check_starts(const Programme& programme, const Timer& timer, Faults& faults) {
  const int valve = programme.runs.front().valve;
  const std::vector<WallTime>& starts = programme.starts;
  if (!timer.repeat_hours.empty()) {
    if (at_an_interval(starts, timer)) return;
    std::string times;
    for (const WallTime start : starts) times += (times.empty() ? "" : ", ") + clock(start);
    faults.add(valve, "starts at " + times + " are at no interval that the timer has",
               "it takes one start and an interval of " + listed(timer.repeat_hours) + " hours");
  } else if (starts.size() > static_cast<std::size_t>(std::max(timer.starts_per_valve, 0))) {
    faults.add(valve, std::to_string(starts.size()) + " start times",
               "the timer takes " + std::to_string(timer.starts_per_valve));
  }
}

/// From a programme's start until its last valve shuts.
minutes all_runs(const Programme& programme, std::size_t start, const Timer& timer) {
  minutes sum{0};
  for (const Run& run : programme.runs) {
    if (run.typed_min.empty()) continue;
    const minutes length =
        length_of(run.typed_min[std::min(start, run.typed_min.size() - 1)], timer);
    if (length.count() <= 0) continue;
    if (sum.count() > 0) sum += minutes{timer.pause_minutes};
    sum += length;
  }
  return sum;
}

void check_order(const Programme& programme, const Timer& timer, Date from, Faults& faults) {
  const int valve = programme.runs.front().valve;
  const std::vector<WallTime>& starts = programme.starts;
  const std::string too_early = programme.runs.size() > 1 ? "before the runs ahead of it are over"
                                                          : "before the run ahead of it is over";
  for (std::size_t s = 1; s < starts.size(); ++s) {
    if (starts[s] < starts[s - 1] + std::max(all_runs(programme, s - 1, timer), minutes{1}))
      faults.add(valve, "the start at " + clock(starts[s]) + " comes " + too_early,
                 starts[s] <= starts[s - 1] ? "start times rise" : "");
  }
  const WallTime next_day = starts.front() + std::chrono::days{1};
  if (next_day < starts.back() + all_runs(programme, starts.size() - 1, timer) &&
      has_neighbouring_days(programme.days, from))
    faults.add(valve, "the next day's start at " + clock(next_day) + " comes " + too_early, "");
}

void check_sharing(const Programme& programme, const Timer& timer, Faults& faults) {
  const std::vector<Run>& runs = programme.runs;
  for (std::size_t r = 1; r < runs.size(); ++r) {
    if (timer.programmes <= 0)
      faults.add(runs[r].valve, "shares a programme with valve " + std::to_string(runs[0].valve),
                 "each valve has days and start times of its own");
    else if (runs[r].valve < runs[r - 1].valve)
      faults.add(runs[r].valve,
                 "stands after valve " + std::to_string(runs[r - 1].valve) + " in its programme",
                 "the timer runs valves in the order of their numbers");
  }
}

void check_settings(const Programme& programme, const Timer& timer, Date from, Faults& faults) {
  for (const Run& run : programme.runs) {
    if (run.valve >= 1 && run.valve <= timer.valves) continue;
    faults.add(run.valve, "the timer has valves 1 to " + std::to_string(timer.valves), "");
  }
  if (programme.starts.empty() || programme.runs.empty()) return;
  if (!offered(programme.days, timer))
    faults.add(programme.runs.front().valve,
               "the timer cannot be set to \"" + to_text(programme.days) + "\"", "");
  check_starts(programme, timer, faults);
  for (const Run& run : programme.runs) check_lengths(run, programme.starts.size(), timer, faults);
  check_order(programme, timer, from, faults);
  check_sharing(programme, timer, faults);
}

void check_number(std::span<const Programme> programmes, const Timer& timer, Faults& faults) {
  if (timer.programmes <= 0) return;
  const auto used = std::count_if(programmes.begin(), programmes.end(), [](const Programme& one) {
    return !one.starts.empty() && !one.runs.empty();
  });
  if (used > timer.programmes)
    faults.add("programmes", std::to_string(used) + " with start times",
               "the timer has " + std::to_string(timer.programmes));
}

void check_hours(const ValveTimes& times, const WateringHours& hours, Faults& faults) {
  for (const ValveTimes::Opening& opening : times.openings) {
    const WallTime end = opening.start + opening.length;
    const bool inside = std::any_of(hours.begin(), hours.end(), [&](const Window& window) {
      return window.opens <= opening.start && end <= window.closes;
    });
    if (inside) continue;
    faults.add(times.valve,
               "the run from " + clock(opening.start) + " to " + clock(end) +
                   " lies outside the watering hours",
               "");
  }
}

}  // namespace

std::vector<Finding> violations(std::span<const Programme> programmes,
                                const Constraints& constraints, Date from) {
  const Timer& timer = constraints.timer;
  Faults faults;
  std::set<int> seen;
  std::vector<ValveTimes> valves;
  check_number(programmes, timer, faults);
  for (const Programme& programme : programmes) {
    check_settings(programme, timer, from, faults);
    for (const Run& run : programme.runs) {
      if (!seen.insert(run.valve).second) {
        faults.add(run.valve, "has two programmes", "one for each valve");
        continue;
      }
      valves.push_back(times_of(run.valve, programmes, timer));
      check_hours(valves.back(), constraints.rules_of(run.valve).hours, faults);
    }
  }
  check_in_time(valves, constraints, from, faults);
  return faults.take();
}

}  // namespace runnel

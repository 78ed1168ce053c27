#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "read_garden_parts.hpp"
#include "runnel/schedule/timer.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

constexpr std::chrono::minutes day = std::chrono::hours(24);

// The largest timers on sale have fewer; limits against slips of the pen, no source.
constexpr int most_valves = 200;
constexpr int most_starts = 48;
constexpr int longest_interval = 31;
/// "every n days" without a bound: common household timers count to a week.
constexpr int usual_interval = 7;

int whole_or(YamlField field, int least, int most, int usual, const std::string& of_what) {
  field.or_else(of_what + " " + std::to_string(usual));
  return field.whole_number(least, most).value_or(usual);
}

std::string lengths_in_words(const Timer& timer) {
  return std::to_string(timer.minutes_least) + " to " + std::to_string(timer.minutes_most) +
         " minutes in steps of " + std::to_string(timer.minutes_step);
}

void read_minutes(const YamlField& field, Timer& timer) {
  constexpr int most_minutes = 24 * 60;
  YamlMap map = field.map();
  const YamlField step = map.field("step");
  const YamlField least = map.field("least");
  const YamlField most = map.field("most");
  map.refuse_others();
  timer.minutes_step = whole_or(step, 1, 60, timer.minutes_step, "steps of minutes:");
  const int usual_least = step.written() ? timer.minutes_step : timer.minutes_least;
  timer.minutes_least = whole_or(least, 1, most_minutes, usual_least, "fewest minutes of a run:");
  timer.minutes_most =
      whole_or(most, 1, most_minutes, timer.minutes_most, "most minutes of a run:");
  if (timer.minutes_most < timer.minutes_least && (most.written() || least.written())) {
    const YamlField& at = most.written() ? most : least;
    at.error("a run of " + std::to_string(timer.minutes_least) + " minutes at least and " +
             std::to_string(timer.minutes_most) + " at most cannot be");
  }
}

/// "every n days up to 14": 14.
std::optional<int> interval_bound(std::string_view words) {
  constexpr std::string_view start = "every n days up to ";
  if (!words.starts_with(start)) return std::nullopt;
  const auto bound = parse_int(trimmed(words.substr(start.size())));
  if (!bound || *bound < 2 || *bound > longest_interval) return std::nullopt;
  return bound;
}

void read_day_choice(const YamlField& item, Timer& timer) {
  const auto written = item.text();
  if (!written) return;
  const std::string words = lower(*written);
  if (words == "weekdays") {
    timer.weekdays = true;
  } else if (words == "every n days") {
    timer.every_n_days = usual_interval;
  } else if (words == "odd/even dates") {
    timer.odd_even = true;
  } else if (const auto bound = interval_bound(words)) {
    timer.every_n_days = *bound;
  } else {
    static constexpr std::array<std::string_view, 3> known = {"weekdays", "every n days",
                                                              "odd/even dates"};
    if (words.starts_with("every n days")) {
      item.error(quoted(*written) + " is not a way of choosing days",
                 "write \"every n days\", or \"every n days up to 14\" with a number of 2 to " +
                     std::to_string(longest_interval));
    } else if (item.one_of(known, "way of choosing days")) {
      return;
    }
  }
}

void read_days(YamlField field, Timer& timer) {
  if (!field.or_else("the timer chooses days of the week").written()) return;
  timer.weekdays = false;
  const std::vector<YamlField> items = field.list();
  for (const YamlField& item : items) read_day_choice(item, timer);
  if (items.empty() && field.is_list()) {
    field.error("the timer must be able to choose days", "write [weekdays]");
  }
}

int read_pause(YamlField field) {
  field.or_else("no pause between valves");
  const auto pause = field.measure(Dimension::duration, {.least = 0.0, .most = 60.0});
  if (!pause) return 0;
  if (*pause != std::round(*pause)) {
    field.error("a pause between valves is counted in whole minutes", "write it so, such as 2 min");
    return 0;
  }
  return static_cast<int>(*pause);
}

std::string to_words(const Window& window) {
  const std::string end = window.closes == day ? "24:00" : clock(window.closes);
  return clock(window.opens) + "-" + end;
}

}  // namespace

Timer read_timer(YamlField field) {
  Timer timer;
  field.or_else("a timer of " + std::to_string(timer.valves) + " valves, each with " +
                std::to_string(timer.starts_per_valve) + " starts a day, runs of " +
                lengths_in_words(timer) + ", on chosen days of the week");
  YamlMap map = field.map();
  if (!map.readable()) return timer;
  YamlField valves = map.field("valves");
  valves.or_else("valves of the timer: " + std::to_string(timer.valves));
  // A faulty number must not make every zone's valve a fault.
  const int assumed = valves.written() ? most_valves : timer.valves;
  timer.valves = valves.whole_number(1, most_valves).value_or(assumed);
  timer.starts_per_valve = whole_or(map.field("starts per valve"), 1, most_starts,
                                    timer.starts_per_valve, "starts a day for each valve:");
  YamlField minutes = map.field("minutes");
  minutes.or_else("runs of " + lengths_in_words(timer));
  if (minutes.written()) read_minutes(minutes, timer);
  read_days(map.field("days"), timer);
  timer.together =
      whole_or(map.field("together"), 1, most_valves, timer.together, "valves open at once:");
  timer.pause_minutes = read_pause(map.field("pause between valves"));
  map.refuse_others();
  return timer;
}

std::optional<Window> read_window(const YamlField& item, const std::string& what) {
  const auto written = item.text();
  if (!written) return std::nullopt;
  const std::size_t dash = written->find('-');
  std::optional<WallTime> opens;
  std::optional<WallTime> closes;
  if (dash != std::string::npos) {
    opens = parse_clock(trimmed(std::string_view(*written).substr(0, dash)));
    closes = parse_clock(trimmed(std::string_view(*written).substr(dash + 1)));
  }
  if (!opens || !closes || *opens >= day) {
    item.error(quoted(*written) + " is not a stretch of the day",
               "write its two ends, such as \"04:30-08:00\"");
    return std::nullopt;
  }
  if (*opens == *closes) {
    item.error(what + " " + quoted(*written) + " are empty",
               "write \"00:00-24:00\" for the whole day");
    return std::nullopt;
  }
  if (*closes < *opens) *closes += day;
  return Window{.opens = *opens, .closes = *closes};
}

bool overlap(const Window& a, const Window& b) {
  const auto meet = [](const Window& early, const Window& late, std::chrono::minutes shift) {
    return early.opens < late.closes + shift && late.opens + shift < early.closes;
  };
  return meet(a, b, std::chrono::minutes(0)) || meet(a, b, day) || meet(b, a, day);
}

std::vector<Window> read_watering_hours(const YamlField& field) {
  std::vector<Window> hours;
  const std::vector<YamlField> items = field.list();
  if (items.empty() && field.is_list()) {
    field.error("watering hours are empty: nothing could ever be watered",
                "write at least one stretch of the day, such as [\"04:30-08:00\"]");
  }
  for (const YamlField& item : items) {
    const auto window = read_window(item, "watering hours");
    if (!window) continue;
    const auto other = std::find_if(hours.begin(), hours.end(),
                                    [&](const Window& w) { return overlap(*window, w); });
    if (other != hours.end()) {
      item.error("watering hours " + to_words(*window) + " overlap with " + to_words(*other),
                 "join them, or end one where the other begins");
    } else {
      hours.push_back(*window);
    }
  }
  std::sort(hours.begin(), hours.end(),
            [](const Window& a, const Window& b) { return a.opens < b.opens; });
  return hours;
}

}  // namespace runnel

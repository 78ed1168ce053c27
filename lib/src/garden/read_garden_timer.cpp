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

constexpr int most_minutes = 24 * 60;

void read_minute_range(const YamlField& step, const YamlField& least, const YamlField& most,
                       Timer& timer) {
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

/// Rising, each once. @param one how one of them is read.
template <class ReadOne>
std::vector<int> read_rising(const YamlField& field, std::string_view example, ReadOne&& one) {
  std::vector<int> numbers;
  const std::vector<YamlField> items = field.list();
  if (items.empty() && field.is_list())
    field.error("the list is empty", "write " + std::string(example));
  for (const YamlField& item : items) {
    const std::optional<int> number = one(item);
    if (!number) continue;
    if (!numbers.empty() && *number <= numbers.back()) {
      item.error("each must be more than the one before it", "write " + std::string(example));
    } else {
      numbers.push_back(*number);
    }
  }
  return numbers;
}

void read_minute_choices(const YamlField& field, Timer& timer) {
  timer.minutes_choices = read_rising(field, "[5, 10, 15]", [](const YamlField& item) {
    return item.whole_number(1, most_minutes);
  });
  if (timer.minutes_choices.empty()) return;
  timer.minutes_step = 1;
  timer.minutes_least = timer.minutes_choices.front();
  timer.minutes_most = timer.minutes_choices.back();
}

void read_minutes(const YamlField& field, Timer& timer) {
  YamlMap map = field.map();
  const YamlField step = map.field("step");
  const YamlField least = map.field("least");
  const YamlField most = map.field("most");
  const YamlField choices = map.field("choices");
  map.refuse_others();
  if (!choices.written()) {
    read_minute_range(step, least, most, timer);
  } else if (step.written() || least.written() || most.written()) {
    choices.error("a timer has either chosen lengths, or all from the least to the most",
                  "write \"choices\" alone, or \"step\", \"least\" and \"most\"");
  } else {
    read_minute_choices(choices, timer);
  }
}

/// "6 h", which must go into the day.
std::optional<int> read_interval(const YamlField& item) {
  constexpr double hour_min = 60.0;
  constexpr int day_h = 24;
  const auto minutes =
      item.measure(Dimension::duration, {.least = hour_min, .most = day_h * hour_min});
  if (!minutes) return std::nullopt;
  const int hours = static_cast<int>(*minutes / hour_min);
  if (hours * hour_min == *minutes && day_h % hours == 0) return hours;
  item.error("an interval between starts must go into 24 hours without a rest",
             "write 1, 2, 3, 4, 6, 8, 12 or 24 h");
  return std::nullopt;
}

/// Lengths, starts and programmes that go beyond a length and start times for each valve.
struct Kinds {
  YamlField starts, lengths, repeats, programmes;
};

void check_kinds(const Kinds& kinds, const Timer& timer) {
  if (!kinds.repeats.written()) return;
  if (kinds.programmes.written())
    kinds.programmes.error(
        "a timer that repeats its one start after an interval has no shared programmes",
        "leave out \"repeats\" or \"programmes\"");
  if (timer.length_per_start)
    kinds.lengths.error(
        "a timer that repeats its one start after an interval has one length for all",
        "write \"lengths: one for all starts\", or leave out \"repeats\"");
  if (kinds.starts.written())
    kinds.starts.error("a timer that repeats its start after an interval has one start time",
                       "leave out \"starts per valve\" or \"repeats\"");
}

void read_kinds(const Kinds& kinds, Timer& timer) {
  static constexpr std::array<std::string_view, 2> lengths = {"one for all starts",
                                                              "one for each start"};
  constexpr int most_programmes = 8;
  timer.length_per_start = kinds.lengths.one_of(lengths, "kind of lengths") == lengths[1];
  if (kinds.repeats.written())
    timer.repeat_hours = read_rising(kinds.repeats, "[6 h, 8 h, 12 h]", read_interval);
  timer.programmes = kinds.programmes.whole_number(1, most_programmes).value_or(0);
  check_kinds(kinds, timer);
  // As many runs a day as the shortest interval makes of the one start.
  if (!timer.repeat_hours.empty()) timer.starts_per_valve = 24 / timer.repeat_hours.front();
}

int read_percentage(const YamlField& field, Timer timer) {
  constexpr int as_typed = 100;
  const auto share = field.measure(Dimension::share, {.least = 0.1, .most = 3.0});
  if (!share) return as_typed;
  const double percent = *share * 100.0;
  timer.percentage = static_cast<int>(std::lround(percent));
  if (std::abs(percent - timer.percentage) > 1e-6) {
    field.error("the timer's percentage is a whole one", "write it so, such as 120 %");
  } else if (run_lengths(timer).empty()) {
    field.error("no length that the timer takes comes to a whole minute with it",
                "check \"minutes\" and \"percentage\"");
  } else {
    return timer.percentage;
  }
  return as_typed;
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

std::string to_words(const Window& window) { return clock_span({}, window.opens, window.closes); }

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
  YamlField starts = map.field("starts per valve");
  const YamlField repeats = map.field("repeats");
  if (!repeats.written())
    timer.starts_per_valve =
        whole_or(starts, 1, most_starts, timer.starts_per_valve, "starts a day for each valve:");
  YamlField minutes = map.field("minutes");
  minutes.or_else("runs of " + lengths_in_words(timer));
  if (minutes.written()) read_minutes(minutes, timer);
  read_days(map.field("days"), timer);
  timer.together =
      whole_or(map.field("together"), 1, most_valves, timer.together, "valves open at once:");
  timer.pause_minutes = read_pause(map.field("pause between valves"));
  read_kinds({.starts = std::move(starts),
              .lengths = map.field("lengths"),
              .repeats = repeats,
              .programmes = map.field("programmes")},
             timer);
  timer.percentage = read_percentage(map.field("percentage"), timer);
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

std::vector<Window> read_hours(const YamlField& field, const std::string& what) {
  std::vector<Window> hours;
  const std::vector<YamlField> items = field.list();
  if (items.empty() && field.is_list()) {
    field.error(what + " are empty",
                "write at least one stretch of the day, such as [\"04:30-08:00\"]");
  }
  for (const YamlField& item : items) {
    const auto window = read_window(item, what);
    if (!window) continue;
    const auto other = std::find_if(hours.begin(), hours.end(),
                                    [&](const Window& w) { return overlap(*window, w); });
    if (other != hours.end()) {
      item.error(what + " " + to_words(*window) + " overlap with " + to_words(*other),
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

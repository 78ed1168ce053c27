#include <algorithm>
#include <optional>

#include "garden_changes.hpp"
#include "runnel/units/calendar.hpp"

namespace runnel {
namespace {

using Hours = std::vector<Window>;

constexpr std::chrono::minutes step{15};
constexpr std::chrono::hours day{24};
// Later than that water evaporates in the sun; in the evening and by night there is less of it
// (common practice, no source).
constexpr WallTime morning_end = std::chrono::hours{10};
constexpr WallTime evening_begin = std::chrono::hours{18};
// Hours to add where there are none, the longest: the morning ends at `morning_end`, the evening at
// midnight. Midday is for pots that cannot wait from morning to evening.
constexpr Window new_morning{.opens = std::chrono::hours{4}, .closes = morning_end};
constexpr Window new_evening{.opens = std::chrono::hours{20}, .closes = day};
constexpr Window new_midday{.opens = std::chrono::hours{12}, .closes = std::chrono::hours{14}};

/// Hours that grow by a step for each size; nothing where they cannot.
using Grown = std::function<std::optional<Hours>(const Hours&, int size)>;

bool apart(const Hours& hours) {
  for (std::size_t i = 1; i < hours.size(); ++i)
    if (hours[i - 1].closes > hours[i].opens) return false;
  return hours.empty() || hours.back().closes - day <= hours.front().opens;
}

std::optional<Hours> if_apart(Hours hours) {
  std::sort(hours.begin(), hours.end(),
            [](const Window& a, const Window& b) { return a.opens < b.opens; });
  if (!apart(hours)) return std::nullopt;
  return hours;
}

/// How late a stretch may end.
WallTime latest(const Window& window) {
  if (window.closes <= morning_end) return morning_end;
  if (window.closes >= day) return morning_end + day;
  return window.closes >= evening_begin ? WallTime{day} : window.closes;
}

WallTime earliest(const Window& window) {
  if (window.opens >= evening_begin) return evening_begin;
  return window.opens <= morning_end ? WallTime{0} : window.opens;
}

Grown later(std::size_t which) {
  return [which](const Hours& hours, int size) -> std::optional<Hours> {
    Hours grown = hours;
    grown[which].closes += size * step;
    if (grown[which].closes > latest(hours[which])) return std::nullopt;
    return if_apart(grown);
  };
}

Grown earlier(std::size_t which) {
  return [which](const Hours& hours, int size) -> std::optional<Hours> {
    Hours grown = hours;
    grown[which].opens -= size * step;
    if (grown[which].opens < earliest(hours[which])) return std::nullopt;
    return if_apart(grown);
  };
}

Grown with(const Window& whole) {
  return [whole](const Hours& hours, int size) -> std::optional<Hours> {
    Hours grown = hours;
    grown.push_back({.opens = whole.opens, .closes = whole.opens + size * step});
    if (grown.back().closes > whole.closes) return std::nullopt;
    return if_apart(grown);
  };
}

int sizes_of(const Hours& hours, const Grown& grown) {
  int size = 0;
  while (grown(hours, size + 1)) ++size;
  return size;
}

/// Several ways at once, each as far as it goes.
Grown together(std::vector<Grown> ways) {
  return [ways = std::move(ways)](const Hours& hours, int size) -> std::optional<Hours> {
    Hours all = hours;
    bool grows = false;
    for (const Grown& way : ways) {
      const int most = std::min(size, sizes_of(all, way));
      grows = grows || most == size;
      if (most > 0) all = *way(all, most);
    }
    if (!grows) return std::nullopt;
    return all;
  };
}

std::chrono::minutes length(const Hours& hours) {
  std::chrono::minutes sum{0};
  for (const Window& window : hours) sum += window.closes - window.opens;
  return sum;
}

/// Stretches that touch are told as one.
std::string in_words(const Display& display, const Hours& hours) {
  Hours joined;
  for (const Window& window : hours) {
    if (!joined.empty() && joined.back().closes == window.opens) {
      joined.back().closes = window.closes;
    } else {
      joined.push_back(window);
    }
  }
  std::string text;
  for (const Window& window : joined)
    text += (text.empty() ? "" : " and ") + clock_span(display, window.opens, window.closes);
  return text;
}

}  // namespace

std::vector<GardenChange> changes_of_hours(const Garden& garden, const GardenPlan& planned) {
  const Hours& hours = garden.watering_hours;
  const bool mornings = std::any_of(hours.begin(), hours.end(), [](const Window& window) {
    return window.opens < morning_end || window.closes > day;
  });
  bool pots_short = false;
  for (std::size_t z = 0; z < planned.zones.size(); ++z)
    pots_short =
        pots_short || (planned.zones[z].containers && planned.plan.zones[z].days_beyond > 0);

  std::vector<Grown> ways;
  for (std::size_t i = 0; i < hours.size(); ++i) ways.push_back(later(i));
  ways.push_back(with(mornings ? new_evening : new_morning));
  const std::vector<Grown> all = ways;
  for (std::size_t i = 0; i < hours.size(); ++i) ways.push_back(earlier(i));
  if (pots_short) ways.push_back(with(new_midday));
  ways.push_back(together(all));

  std::vector<GardenChange> changes;
  for (const Grown& way : ways) {
    const int sizes = sizes_of(hours, way);
    if (sizes == 0) continue;
    changes.push_back(
        {.ease = Ease::hours, .sizes = sizes, .make = [way](const Garden& before, int size) {
           ChangedGarden changed{.does = {}, .garden = before};
           Hours& longer = changed.garden.watering_hours;
           longer = way(before.watering_hours, size).value_or(before.watering_hours);
           const auto more = length(longer) - length(before.watering_hours);
           changed.does = "watering hours " + in_words(before.display, longer) + " instead of " +
                          in_words(before.display, before.watering_hours) + " (" +
                          std::to_string(more.count()) + " minutes longer)";
           return changed;
         }});
  }
  return changes;
}

}  // namespace runnel

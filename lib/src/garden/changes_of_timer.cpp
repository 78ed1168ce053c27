#include <algorithm>
#include <map>
#include <utility>

#include "garden_changes.hpp"

namespace runnel {
namespace {

// Timers with more are rare: limits of the search, no source.
constexpr int most_starts = 8;
constexpr int longest_run_min = 480;
constexpr int run_step_min = 15;
constexpr int usual_interval_days = 7;

/// A timer that is otherwise, and how in words.
using OtherTimer = std::function<std::pair<Timer, std::string>(Timer, int size)>;

GardenChange change(int sizes, OtherTimer other) {
  return {.ease = Ease::timer,
          .sizes = sizes,
          .make = [other = std::move(other)](const Garden& before, int size) {
            ChangedGarden changed{.does = {}, .garden = before};
            std::tie(changed.garden.timer, changed.does) = other(before.timer, size);
            return changed;
          }};
}

GardenChange more_starts(int sizes) {
  return change(sizes, [](Timer timer, int size) {
    const int before = timer.starts_per_valve;
    timer.starts_per_valve += size;
    const std::string whom = timer.programmes > 0 ? "programme" : "valve";
    return std::pair(timer, "a timer with " + std::to_string(timer.starts_per_valve) +
                                " starts a day for each " + whom + " instead of " +
                                std::to_string(before));
  });
}

GardenChange two_at_once(bool supply_known) {
  return change(1, [supply_known](Timer timer, int /*size*/) {
    timer.together = 2;
    return std::pair(timer, std::string("two valves open at once") +
                                (supply_known ? "" : ", if the tap gives that much"));
  });
}

GardenChange longer_runs(int sizes) {
  return change(sizes, [](Timer timer, int size) {
    const int before = timer.minutes_most;
    timer.minutes_most = std::min(longest_run_min, before + size * run_step_min);
    return std::pair(timer, "a timer that runs a valve for up to " +
                                std::to_string(timer.minutes_most) + " minutes instead of " +
                                std::to_string(before));
  });
}

GardenChange any_weekdays() {
  return change(1, [](Timer timer, int /*size*/) {
    timer.weekdays = true;
    return std::pair(timer, std::string("a timer that can water on any days of the week"));
  });
}

GardenChange intervals() {
  return change(1, [](Timer timer, int /*size*/) {
    timer.every_n_days = usual_interval_days;
    return std::pair(timer, "a timer that can water every 2 to " +
                                std::to_string(usual_interval_days) + " days");
  });
}

GardenChange any_minutes() {
  return change(1, [](Timer timer, int /*size*/) {
    if (!timer.minutes_choices.empty())
      timer.minutes_most = std::max(timer.minutes_most, timer.minutes_choices.back());
    timer.minutes_choices.clear();
    timer.minutes_step = timer.minutes_least = 1;
    return std::pair(timer, "a timer that takes any whole minutes from 1 to " +
                                std::to_string(timer.minutes_most));
  });
}

GardenChange free_starts() {
  return change(1, [](Timer timer, int /*size*/) {
    timer.repeat_hours.clear();
    timer.programmes = 0;
    timer.starts_per_valve = std::max(timer.starts_per_valve, Timer{}.starts_per_valve);
    return std::pair(timer, "a timer on which each valve has days and " +
                                std::to_string(timer.starts_per_valve) + " start times of its own");
  });
}

/// Whether any two valves may run together: not known to be more than the supply gives.
bool supply_feeds_two(const Garden& garden, const GardenPlan& planned) {
  std::map<int, double> flow_l_h;
  for (const PreparedZone& zone : planned.zones)
    flow_l_h[zone.task.valve] += zone.task.delivery.flow.litres_per_hour();
  if (flow_l_h.size() < 2) return false;
  if (!garden.supply_flow) return true;
  std::vector<double> flows;
  for (const auto& [valve, flow] : flow_l_h) flows.push_back(flow);
  std::sort(flows.begin(), flows.end());
  return flows[0] + flows[1] <= garden.supply_flow->litres_per_hour();
}

}  // namespace

std::vector<GardenChange> changes_of_timer(const Garden& garden, const GardenPlan& planned) {
  const Timer& timer = garden.timer;
  std::vector<GardenChange> changes;
  // Valves that share a programme run one after the other, whatever the timer could.
  if (timer.together == 1 && timer.programmes == 0 && supply_feeds_two(garden, planned))
    changes.push_back(two_at_once(garden.supply_flow.has_value()));
  if (timer.starts_per_valve < most_starts && timer.repeat_hours.empty())
    changes.push_back(more_starts(most_starts - timer.starts_per_valve));
  if (timer.minutes_most < longest_run_min && timer.minutes_choices.empty())
    changes.push_back(
        longer_runs((longest_run_min - timer.minutes_most + run_step_min - 1) / run_step_min));
  if (!timer.weekdays) changes.push_back(any_weekdays());
  if (timer.every_n_days < 2) changes.push_back(intervals());
  if (!timer.minutes_choices.empty() || timer.minutes_step > 1) changes.push_back(any_minutes());
  if (!timer.repeat_hours.empty() || timer.programmes > 0) changes.push_back(free_starts());
  return changes;
}

}  // namespace runnel

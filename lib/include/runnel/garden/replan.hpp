#pragma once

#include <optional>
#include <vector>

#include "runnel/garden/plan_garden.hpp"

namespace runnel {

/// A day since a plan was made, mm.
struct LivedDay {
  Date date{};
  /// Nothing beyond the plan's days.
  std::optional<double> assumed_eto_mm = {}, assumed_rain_mm = {};
  /// Nothing where it was not observed.
  std::optional<double> eto_mm = {}, rain_mm = {};
};

/// What to do about one valve: exactly one of these.
enum class ValveAction { leave_as_is, change_on_timer, run_by_hand };
struct ValveAdvice {
  int valve;
  ValveAction action;
  std::optional<ValveTimes> before;  ///< nothing for a valve the plan did not know
  ValveTimes after;
  int settings = 0;     ///< changed on the timer
  int by_hand_min = 0;  ///< before the new plan's first day
};

/// A plan in the middle of its week, looked at again.
struct Replan {
  GardenPlan planned;                              ///< from tomorrow on
  std::vector<LivedDay> since;                     ///< from the old plan's first day to yesterday
  std::vector<std::optional<double>> expected_mm;  ///< [zones] depletion had the weather been as
                                                   ///< the plan assumed; nothing if not known
  std::vector<ValveAdvice> valves;                 ///< [valves in use]
};

/// @param request `after` must be there.
/// @throws InputError as plan_garden; std::invalid_argument without `after`.
[[nodiscard]] Replan replan(const Garden& garden, PlanRequest request);

}  // namespace runnel

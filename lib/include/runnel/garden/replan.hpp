#pragma once

#include <optional>
#include <vector>

#include "runnel/garden/plan_garden.hpp"

namespace runnel {

/// A day as a plan took it and as it is known now, mm.
struct DayTwice {
  Date date{};
  /// Nothing beyond the plan's days.
  std::optional<double> assumed_eto_mm = {}, assumed_rain_mm = {};
  /// Of a past day as observed, nothing where it was not; of one to come as now expected.
  std::optional<double> eto_mm = {}, rain_mm = {};
};

/// What to do about one valve. To change something on the timer and to run it by hand are apart:
/// either may be, or both, or neither.
struct ValveAdvice {
  int valve;
  std::optional<ValveTimes> before;  ///< nothing for a valve the plan did not know
  ValveTimes after;
  int settings =
      0;  ///< changed on the timer; where valves share programmes, as if each had its own
  int by_hand_min = 0;  ///< once, before the new plan's first day
  /// Whether nothing is to be done about it.
  [[nodiscard]] bool leave_as_is() const { return settings == 0 && by_hand_min == 0; }
};

/// A plan in the middle of its week, looked at again.
struct Replan {
  GardenPlan planned;                              ///< from tomorrow on
  std::vector<DayTwice> since;                     ///< from the old plan's first day to yesterday
  std::vector<DayTwice> ahead;                     ///< the new plan's days
  std::vector<std::optional<double>> expected_mm;  ///< [zones] depletion on the new plan's first
                                                   ///< morning as the old plan expected it
  std::vector<std::optional<ZonePlan>> if_left;    ///< [zones] with all as it is in force
  std::vector<ValveAdvice> valves;                 ///< [valves in use]
};

/// @param request `after` must be there.
/// @throws InputError as plan_garden; std::invalid_argument without `after`.
[[nodiscard]] Replan replan(const Garden& garden, PlanRequest request);

}  // namespace runnel

#pragma once

#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/site_weather.hpp"

namespace runnel {

struct GardenPlan;

/// How far ahead is looked.
inline constexpr int outlook_days = 56;

/// How long a garden can be left to itself. "Unharmed" is within the limit in all but the stated
/// share of futures.
struct Outlook {
  /// The last day through which the programme keeps every zone unharmed that the plan keeps so;
  /// the day before the plan when it does not get through its first.
  Date holds_until{};
  bool further = false;  ///< nothing goes wrong as far as is looked
  /// [zones] Full days that a zone stays unharmed when its valve fails shut on the plan's first
  /// day, from the depletion it then has; `outlook_days` may mean longer.
  std::vector<int> days_if_shut;
};

/// Runs the programme on, and each zone without it, over the futures.
[[nodiscard]] Outlook outlook(const Garden& garden, const SiteWeather& weather,
                              const GardenPlan& planned, double risk);

}  // namespace runnel

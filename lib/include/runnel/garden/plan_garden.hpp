#pragma once

#include <optional>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/outlook.hpp"
#include "runnel/garden/site_weather.hpp"
#include "runnel/garden/zone_task.hpp"
#include "runnel/schedule/plan.hpp"

namespace runnel {

struct PlanRequest {
  std::optional<Date> from;  ///< else the day after the last observed one
  double risk = 0.10;        ///< share of futures that may go beyond a zone's limit
};

/// A plan and all that it was made from.
struct GardenPlan {
  AssumedWeather weather;
  std::vector<PreparedZone> zones;  ///< in the garden's order, as plan.zones
  Constraints constraints;          ///< the hours cut at midnight, solar noon and for rules
  Plan plan;
  Outlook outlook;
  std::vector<Finding>
      findings;  ///< doubts and remarks about the inputs; plan.remarks has those about the plan
};

/// From a garden to this week's programme: weather, zones, candidates, timetable.
/// @throws InputError when an input cannot be used.
[[nodiscard]] GardenPlan plan_garden(const Garden& garden, const PlanRequest& request);

/// The watering hours as the timer's days have them: cut at midnight, since what is typed for a
/// Tuesday runs on Tuesday, and at solar noon of that day; in order, what begins after noon marked.
[[nodiscard]] WateringHours usable_hours(const Garden& garden, Date date);

}  // namespace runnel

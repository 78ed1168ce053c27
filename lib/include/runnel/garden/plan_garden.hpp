#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "runnel/garden/advice.hpp"
#include "runnel/garden/away.hpp"
#include "runnel/garden/carry_on.hpp"
#include "runnel/garden/garden.hpp"
#include "runnel/garden/outlook.hpp"
#include "runnel/garden/saved_plan.hpp"
#include "runnel/garden/site_weather.hpp"
#include "runnel/garden/zone_task.hpp"
#include "runnel/schedule/plan.hpp"

namespace runnel {

/// What to plan, beside the garden itself.
struct PlanRequest {
  std::optional<Date> from;             ///< else the day after the last observed one
  double risk = 0.10;                   ///< share of futures that may go beyond a zone's limit
  std::optional<SavedPlan> after = {};  ///< the plan before, from which to carry on
  bool by_hand = false;                 ///< runs by hand before the first day may be proposed
  std::optional<Date> until = {};       ///< last day of an absence; else a week is planned
};

/// A plan and all that it was made from.
struct GardenPlan {
  AssumedWeather weather;
  std::vector<PreparedZone> zones;  ///< in the garden's order, as plan.zones
  Constraints constraints;          ///< the hours cut at midnight, solar noon and for rules
  Plan plan;
  std::string observed_digest;             ///< of the observed days before the first
  std::vector<std::vector<PastDay>> past;  ///< [zones] the days since the plan before began; empty
                                           ///< without one
  Outlook outlook;
  Advice advice;
  std::optional<Away> away = {};  ///< where an absence is planned for
  std::vector<Finding>
      findings;  ///< doubts and remarks about the inputs; shortfalls() those about the plan
};

/// From a garden to this week's programme, or one for all of an absence: weather, zones,
/// candidates, timetable. After another plan, whose programmes are in force, only settings that
/// earn it are changed.
/// @throws InputError when an input cannot be used, or the plan before is not for these days;
/// WrongDays when an absence ends before it begins or is too long.
[[nodiscard]] GardenPlan plan_garden(const Garden& garden, const PlanRequest& request);

/// What the plan's programmes make the garden's valves do, with its timer as it is now; nothing for
/// a valve that the plan does not know. [valves in use]
[[nodiscard]] std::vector<ValveTimes> times_in_force(const Garden& garden, const SavedPlan& plan);

/// The plan of a garden that differs from the one planned: the same weather and days; the zones
/// `changed`, and those that the other had not, are prepared anew. @param garden its zones begin
/// with those planned, in that order.
[[nodiscard]] Plan plan_again(const Garden& garden, const GardenPlan& planned,
                              std::span<const std::size_t> changed, const PlanRequest& request);

/// The watering hours as the timer's days have them: cut at midnight, since what is typed for a
/// Tuesday runs on Tuesday, and at solar noon of that day; in order, what begins after noon marked.
[[nodiscard]] WateringHours usable_hours(const Garden& garden, Date date);

/// When the sun stands highest that day, by the site's clock, to the minute.
[[nodiscard]] WallTime solar_noon(const Garden& garden, Date date);

}  // namespace runnel

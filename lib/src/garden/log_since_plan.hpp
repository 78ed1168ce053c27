#pragma once

#include <span>
#include <vector>

#include "runnel/garden/carry_on.hpp"
#include "runnel/garden/zone_task.hpp"

namespace runnel {

/// What in the log cannot be used, or not as meant, when a garden is carried on from a plan to the
/// morning of `date`: entries of other days, a watering that fell out of nothing, rain in a gauge
/// where none gets to. @param water as planned, and the log.
void doubt_log(const Garden& garden, const SavedPlan& plan, Date date, const PastWater& water,
               std::vector<Finding>& findings);

/// What the water meter counted on those days beside what the valves should have drawn.
/// @param zones of the garden, for their flows.
void compare_meter(const Garden& garden, const SavedPlan& plan, Date date, const PastWater& water,
                   std::span<const PreparedZone> zones, std::vector<Finding>& findings);

}  // namespace runnel

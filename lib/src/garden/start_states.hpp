#pragma once

#include <optional>
#include <vector>

#include "runnel/garden/carry_on.hpp"
#include "runnel/garden/saved_plan.hpp"
#include "runnel/garden/zone_task.hpp"

namespace runnel {

/// How wet each zone is on the morning of `from`, as far as a plan before and the log know: what a
/// plan before and the days since have left, else what was found the evening before. What in the
/// log cannot be used is doubted. @param water as the plan before meant it, and the log.
/// @return [zones of the garden]
/// @throws InputError as states_at.
[[nodiscard]] std::vector<StartState> start_states(const Garden& garden, const SiteWeather& weather,
                                                   const std::optional<SavedPlan>& after, Date from,
                                                   const PastWater& water,
                                                   std::vector<Finding>& findings);

/// The same start for the zone prepared once more, as another garden has it: found as before, else
/// left to what that garden says.
[[nodiscard]] StartState start_again(const PreparedZone& zone);

}  // namespace runnel

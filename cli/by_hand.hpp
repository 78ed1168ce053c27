#pragma once

#include <string>

#include "json_writer.hpp"
#include "runnel/garden/saved_plan.hpp"
#include "runnel/schedule/plan.hpp"

namespace runnel::cli {

/// What all zones of a valve get while it is open so long.
[[nodiscard]] double litres_by_hand(const Plan& plan, const HandRun& run);

/// Whether the plan before said this run already.
[[nodiscard]] bool decided_before(const SavedPlan& before, const Plan& plan, int valve);

/// "22 min, as the plan before said; counted as given": of a run that a week's plan carries on.
[[nodiscard]] std::string as_said_before(const HandRun& run);

/// The member "by_hand": an array.
void write_by_hand(JsonWriter& json, const Plan& plan);

}  // namespace runnel::cli

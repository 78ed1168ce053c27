#pragma once

#include <string>

#include "runnel/garden/replan.hpp"
#include "runnel/schedule/plan.hpp"

namespace runnel::cli::sheet {

/// Runs by hand that the plan before decided and this one carries on; empty when there is none.
[[nodiscard]] std::string by_hand_content(const Display& display, const Plan& plan);

/// What to run once by hand before the new plan's first day.
[[nodiscard]] std::string by_hand_content(const Display& display, const SavedPlan& before,
                                          const Replan& again);

}  // namespace runnel::cli::sheet

#pragma once

#include <string>

#include "remedy_report.hpp"
#include "runnel/garden/replan.hpp"

namespace runnel::cli {

/// What the weather did, how dry each zone is, what to do valve by valve and why, and the new
/// programme, for a terminal of 80 columns.
[[nodiscard]] std::string replan_text(const Garden& garden, const SavedPlan& before,
                                      const Replan& again, const Mending& mending);
/// One line per zone.
[[nodiscard]] std::string replan_csv(const Garden& garden, const SavedPlan& before,
                                     const Replan& again);
/// The new plan as `plan_json` has it, with what it was looked at again for.
[[nodiscard]] std::string replan_json(const Garden& garden, const SavedPlan& before,
                                      const Replan& again, const Mending& mending);

}  // namespace runnel::cli

#pragma once

#include <string>

#include "runnel/garden/replan.hpp"

namespace runnel::cli {

/// What the weather did, then what to do valve by valve and why, for a terminal of 80 columns.
[[nodiscard]] std::string replan_text(const Garden& garden, const SavedPlan& before,
                                      const Replan& again);

}  // namespace runnel::cli

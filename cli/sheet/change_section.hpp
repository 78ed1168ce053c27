#pragma once

#include <string>

#include "runnel/garden/replan.hpp"

namespace runnel::cli::sheet {

/// What to change on the timer, valve by valve: was, now, and why.
[[nodiscard]] std::string change_content(const Garden& garden, const SavedPlan& before,
                                         const Replan& again);

/// Which valves to leave as they are, and why.
[[nodiscard]] std::string left_content(const Display& display, const Replan& again);

}  // namespace runnel::cli::sheet

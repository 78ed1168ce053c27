#pragma once

#include <string>

#include "runnel/garden/replan.hpp"

namespace runnel::cli::sheet {

/// The weather as the plan before took it, and as it came or is expected now: a picture and its
/// figures.
[[nodiscard]] std::string weather_twice_content(const Display& display, const Replan& again);

}  // namespace runnel::cli::sheet

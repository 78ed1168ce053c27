#pragma once

#include <string>

#include "runnel/garden/replan.hpp"

namespace runnel::cli::sheet {

/// How dry each zone is against what was expected and its limit: a bar and its figures.
[[nodiscard]] std::string dryness_content(const Display& display, const Replan& again);

}  // namespace runnel::cli::sheet

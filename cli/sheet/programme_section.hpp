#pragma once

#include <string>

#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli::sheet {

/// What all valves are set to, close together, for a sheet that says first what is to be changed.
[[nodiscard]] std::string programme_content(const Garden& garden, const GardenPlan& planned);

}  // namespace runnel::cli::sheet

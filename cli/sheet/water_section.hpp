#pragma once

#include <string>

#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli::sheet {

/// A picture for each zone of the water it holds, and its figures day by day.
[[nodiscard]] std::string water_content(const Display& display, const GardenPlan& planned);

}  // namespace runnel::cli::sheet

#pragma once

#include <string>

#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli::sheet {

/// The table of what to set, a block for each zone, its minutes the largest thing on the page.
[[nodiscard]] std::string settings_content(const Garden& garden, const GardenPlan& planned);

}  // namespace runnel::cli::sheet

#pragma once

#include <string>

#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {

/// What each zone uses, side by side and day by day, as one HTML file.
[[nodiscard]] std::string compare_html(const Garden& garden, const GardenPlan& planned);

}  // namespace runnel::cli

#pragma once

#include <string>

#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli::sheet {

/// When each valve runs: a row for each valve, the days across, the clock within each day. Empty
/// when none runs.
[[nodiscard]] std::string week_picture(const Display& display, const GardenPlan& planned);

}  // namespace runnel::cli::sheet

#pragma once

#include <string>

#include "remedy_report.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli::sheet {

// What the page says beside settings and pictures, each empty when there is nothing to say.

/// Frost, and waterings to leave out.
[[nodiscard]] std::string advice_content(const Display& display, const GardenPlan& planned);
/// Zones that fall short, by how much.
[[nodiscard]] std::string shortfall_content(const Display& display, const Plan& plan,
                                            const Mending& mending);
/// What would mend it.
[[nodiscard]] std::string remedy_content(const Display& display, const Mending& mending);
/// Reference ET and rain, day by day, and where they come from.
[[nodiscard]] std::string weather_content(const Display& display, const GardenPlan& planned);
/// How long the programme holds, and each zone without it.
[[nodiscard]] std::string outlook_content(const GardenPlan& planned);
/// What the plan takes without knowing.
[[nodiscard]] std::string assumption_content(const Garden& garden, const GardenPlan& planned);

}  // namespace runnel::cli::sheet

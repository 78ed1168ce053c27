#pragma once

#include <string>

#include "remedy_report.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli::sheet {

// What the page says beside settings and pictures, each empty when there is nothing to say.

/// On top of the page where a zone falls short.
[[nodiscard]] std::string alarm_content(const Plan& plan);
/// Frost, and waterings to leave out.
[[nodiscard]] std::string advice_content(const Display& display, const GardenPlan& planned);
/// Rules that stand in the way, as items of a list.
[[nodiscard]] std::string binding_items(const Mending& mending);
/// Zones that fall short, by how much, and what would mend it.
[[nodiscard]] std::string fault_sections(const Display& display, const Plan& plan,
                                         const Mending& mending);
/// Reference ET and rain, day by day, and where they come from.
[[nodiscard]] std::string weather_content(const Display& display, const GardenPlan& planned);
/// How long the programme holds and each zone without it, what the plan takes without knowing, and
/// what to be cautious about.
[[nodiscard]] std::string closing_sections(const Garden& garden, const GardenPlan& planned);

}  // namespace runnel::cli::sheet

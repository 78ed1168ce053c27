#pragma once

#include <string>

#include "remedy_report.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {

/// One programme for an absence, and how each zone gets through it, as one HTML file.
/// @param planned its `away` must be there
[[nodiscard]] std::string away_html(const Garden& garden, const GardenPlan& planned,
                                    const Mending& mending);

}  // namespace runnel::cli

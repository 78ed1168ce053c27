#pragma once

#include <string>

#include "remedy_report.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {

/// The programme as one HTML file to print or to read on a phone: nothing is fetched, nothing runs.
[[nodiscard]] std::string plan_html(const Garden& garden, const GardenPlan& planned,
                                    const Mending& mending);

}  // namespace runnel::cli

#pragma once

#include <string>

#include "remedy_report.hpp"
#include "runnel/garden/replan.hpp"

namespace runnel::cli {

/// What to change in the middle of a week, run by hand and leave, and why, as one HTML file.
[[nodiscard]] std::string replan_html(const Garden& garden, const SavedPlan& before,
                                      const Replan& again, const Mending& mending);

}  // namespace runnel::cli

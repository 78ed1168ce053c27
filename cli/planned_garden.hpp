#pragma once

#include <string>

#include "commands.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {

/// A garden read from its file, and planned.
struct PlannedGarden {
  Garden garden;
  PlanRequest request;
  GardenPlan plan;  ///< its findings hold those of the files too, in the order they were read
};

/// The garden file read, to be shown in these units; to programs (csv, json) always in metric ones.
/// @throws InputError when it cannot be used.
[[nodiscard]] Garden displayed_garden(const std::string& path, const Display& display,
                                      const std::string& format, std::vector<Finding>& findings);

/// @throws InputError when a file cannot be used.
[[nodiscard]] PlannedGarden planned_garden(const PlanOptions& options);

}  // namespace runnel::cli

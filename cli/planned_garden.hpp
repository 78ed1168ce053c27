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

/// @throws InputError when a file cannot be used.
[[nodiscard]] PlannedGarden planned_garden(const PlanOptions& options);

}  // namespace runnel::cli

#pragma once

#include <string>
#include <vector>

#include "commands.hpp"
#include "planned_garden.hpp"
#include "runnel/units/finding.hpp"

namespace runnel::cli {

/// The name of a garden's plan file in a folder of many: that of the garden file, or where it is
/// called garden.yaml, of its folder ("gardens/larkspur.yaml" and "larkspur/garden.yaml" both give
/// "larkspur.yaml"). It hangs on nothing else, so that next week's command finds it again.
[[nodiscard]] std::string plan_file_name(const std::string& garden);

/// Where the plan is saved: `options.save`, or where that is a folder (there already, or written
/// with a slash at its end) the garden's file in it; empty: nowhere.
[[nodiscard]] std::string save_path(const PlanOptions& options);

/// The plan to carry on from: `options.after`, or where that is a folder the garden's file in it;
/// empty: none. A folder without one is doubted: the garden is planned afresh.
/// @throws InputError when the folder is not there.
[[nodiscard]] std::string after_path(const PlanOptions& options, std::vector<Finding>& findings);

/// Writes the plan where `save_path` says, if anywhere; makes the folder where there is none.
/// @throws InputError, FileExists as write_file; InputError where the garden, its weather or its
/// log stands.
void save_plan(const PlanOptions& options, const Garden& garden, const GardenPlan& plan);

/// What is wrong with the folders and names of gardens to be planned together, before any work;
/// empty: nothing.
/// @throws InputError when there is no folder `options.after`; FileExists when a plan file to be
/// written is there already and may not be replaced.
[[nodiscard]] std::string fault_of_folders(const std::vector<std::string>& gardens,
                                           const PlanOptions& options);

}  // namespace runnel::cli

#pragma once

#include <string>

#include "runnel/garden/plan_garden.hpp"

namespace runnel {

/// The plan as a YAML text a person can read: format number, garden, dates, the weather assumed,
/// and for each zone the programme with the depletion at its start and end. Numbers in their
/// shortest exact form.
[[nodiscard]] std::string plan_file_text(const Garden& garden, const GardenPlan& plan);

}  // namespace runnel

#pragma once

#include <string>

#include "json_writer.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {

/// How the days since the plan before went, zone by zone; empty when there are none.
[[nodiscard]] std::string past_text(const Display& display, const GardenPlan& planned);
/// The same day by day under the key "past": an array.
void write_past(JsonWriter& json, const GardenPlan& planned);

}  // namespace runnel::cli

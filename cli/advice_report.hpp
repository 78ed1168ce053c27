#pragma once

#include <string>

#include "json_writer.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {

/// What the weather asks of the gardener; empty when it asks nothing.
[[nodiscard]] std::string advice_text(const GardenPlan& planned);
/// The same under the key "advice": an array.
void write_advice(JsonWriter& json, const GardenPlan& planned);

}  // namespace runnel::cli

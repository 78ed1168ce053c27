#pragma once

#include <string>
#include <vector>

#include "json_writer.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {

[[nodiscard]] std::string frost_caution(const Display& display, const std::vector<FrostDay>& frost);
/// What to do about one watering, and why.
[[nodiscard]] std::string advice_line(const Display& display, const GardenPlan& planned,
                                      const WateringAdvice& advice);
/// What the weather asks of the gardener, a sentence or two each.
[[nodiscard]] std::vector<std::string> advice_lines(const Display& display,
                                                    const GardenPlan& planned);
/// The same under a heading; empty when it asks nothing.
[[nodiscard]] std::string advice_text(const Display& display, const GardenPlan& planned);
/// The same under the key "advice": an array.
void write_advice(JsonWriter& json, const GardenPlan& planned);

}  // namespace runnel::cli

#pragma once

#include <string>

#include "runnel/garden/watering_rules.hpp"
#include "runnel/units/display.hpp"

namespace runnel {

/// "only Wed Sat, not 10:00-18:00, at most 20 min a day": what a rule says, in the order of the
/// garden file's keys.
[[nodiscard]] std::string rule_text(const WateringRule& rule, const Display& display);

}  // namespace runnel

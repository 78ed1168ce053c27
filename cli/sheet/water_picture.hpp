#pragma once

#include <string>

#include "plan_days.hpp"

namespace runnel::cli::sheet {

/// The water in one zone's root zone: a line between full and the limit, with what waterings and
/// rain bring each day.
[[nodiscard]] std::string water_picture(const Display& display, const GardenPlan& planned,
                                        std::size_t zone, const ZoneDays& days);

}  // namespace runnel::cli::sheet

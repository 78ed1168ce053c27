#pragma once

#include <string>

#include "zone_use.hpp"

namespace runnel::cli::sheet {

/// What a zone uses each day, as bars; where reference ET stands, as a mark over each.
/// @param most_mm the height of all zones' pictures alike.
[[nodiscard]] std::string use_picture(const Display& display, const GardenPlan& planned,
                                      std::size_t zone, const ZoneUse& use, double most_mm);

}  // namespace runnel::cli::sheet

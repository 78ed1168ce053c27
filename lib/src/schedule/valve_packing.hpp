#pragma once

#include <span>
#include <vector>

#include "planned_valve.hpp"
#include "runnel/schedule/timetable.hpp"

namespace runnel {

/// One timetable of all valves, with pots as they do at the start times found, and as few settings
/// changed as it can be where changes have a price.
/// @param lists [valves] of each at least one candidate, cheapest first; what is chosen is
/// corrected there.
[[nodiscard]] Timetable pack_valves(std::span<const PlannedValve> valves,
                                    std::vector<std::vector<Candidate>>& lists,
                                    const Constraints& constraints, Date from,
                                    const SearchOptions& options);

}  // namespace runnel

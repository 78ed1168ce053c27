#pragma once

#include <vector>

#include "sequence.hpp"

namespace runnel {

/// Branch and bound over the order of cycles. Exact within its limit of nodes as far as the map is,
/// with several valves at once on the safe side: cycles placed in order of their starts, each as
/// early as it goes, reach every schedule in which nothing can be moved forward, and if any
/// schedule fits, one of those does.
/// @param map must be empty. Writes the starts into `placed` when it fits.
[[nodiscard]] Fits search_order(std::vector<Placed>& placed, MinuteMap& map, long most_looks,
                                long& visits);

}  // namespace runnel

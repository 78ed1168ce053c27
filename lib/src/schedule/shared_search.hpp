#pragma once

#include <vector>

#include "shared_garden.hpp"

namespace runnel {

/// The cheapest ways found to share at most so many programmes, best first: one frame after the
/// other that saves most, then one exchanged at a time, as long as that saves. Valves that take
/// most minutes choose first, each the cheapest that still goes in. Deterministic, limited by
/// counts.
[[nodiscard]] std::vector<Sharing> cheapest_sharings(const SharedGarden& garden);

}  // namespace runnel

#pragma once

#include <functional>
#include <span>
#include <vector>

#include "shared_garden.hpp"
#include "shared_programmes.hpp"

namespace runnel {

/// With one of the frames replaced by another that has much room, or one such added; every valve
/// still dry.
[[nodiscard]] std::vector<Sharing> roomier(const SharedGarden& garden, const Sharing& sharing);

/// The same frames with shorter runs where the hours do not hold all: each valve as cheap as can be
/// there, then step by step what costs least for what it frees.
[[nodiscard]] Sharing shortened(const SharedGarden& garden, const Sharing& sharing);

/// Adds shorter runs of each valve in each frame of the sharings, but for those that the lists
/// have. They come after all others, so that the frames keep their numbers.
void add_shorter(const SharedGarden& garden, std::span<const Sharing> sharings,
                 std::vector<std::vector<Candidate>>& lists, const WithRuns& with_runs);

}  // namespace runnel

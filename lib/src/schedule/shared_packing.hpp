#pragma once

#include <vector>

#include "shared_garden.hpp"

namespace runnel {

/// Start times of one programme, found by pack(), and its valves in order of their numbers.
struct Timed {
  std::vector<WallTime> starts;
  std::vector<std::size_t> members;
};
struct PackedProgrammes {
  Sharing sharing;                ///< what came of the one wanted
  std::vector<Timed> programmes;  ///< of its frames
};

/// Whether all valves of a programme may move to other days and cycles together.
enum class OtherDays { no, yes };

/// Start times for the programmes of a sharing, each of which stands in the hours like one valve
/// with the runs of all its valves and the pauses between. Where it does not go in, with shorter
/// runs, on other days, or not at all.
[[nodiscard]] PackedProgrammes packed(const SharedGarden& garden, const Sharing& sharing,
                                      OtherDays others);

}  // namespace runnel

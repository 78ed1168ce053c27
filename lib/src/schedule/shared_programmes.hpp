#pragma once

#include <functional>
#include <span>
#include <vector>

#include "runnel/schedule/timetable.hpp"

namespace runnel {

/// A valve's candidate with other runs [windows]: its soak and cost anew.
using WithRuns = std::function<Candidate(std::size_t valve, const Candidate& whole,
                                         std::vector<std::chrono::minutes> run_in)>;

/// As pack(), for a timer whose valves share a few programmes (Timer::programmes): at each start of
/// one its valves run one after the other, so that it stands in the hours like a single valve with
/// all their runs and the pauses between. The cheapest few ways to share are tried in turn.
/// Deterministic, limited by counts. The bound is what each valve would cost by itself.
/// @param lists as in pack(); where the hours do not hold all, candidates with shorter runs are
/// added at their ends.
[[nodiscard]] Timetable pack_shared(std::span<const int> numbers,
                                    std::vector<std::vector<Candidate>>& lists,
                                    const Constraints& constraints, const WithRuns& with_runs);

}  // namespace runnel

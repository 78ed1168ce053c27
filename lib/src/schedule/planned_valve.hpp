#pragma once

#include <chrono>
#include <span>
#include <vector>

#include "runnel/schedule/plan.hpp"

namespace runnel {

/// A valve to be planned: its zones, in the garden's order, and what is known of it already.
struct PlannedValve {
  int number;
  std::vector<std::size_t> zones;  ///< indices into the tasks
  std::vector<ZoneTask> tasks;
  const ValveTimes* in_force = nullptr;  ///< where its changes have a price
  int by_hand_min = 0;                   ///< decided already
};

/// The valves of those zones, by number. They point into `in_force`.
[[nodiscard]] std::vector<PlannedValve> by_valve(std::span<const ZoneTask> tasks,
                                                 const Timer& timer,
                                                 std::span<const ValveTimes> in_force,
                                                 std::span<const HandRun> by_hand);

[[nodiscard]] bool has_pots(const PlannedValve& valve);

/// What the valve could be set to, cheapest first; with its changes priced where they have one.
[[nodiscard]] std::vector<Candidate> candidates_of(const PlannedValve& valve,
                                                   const Constraints& constraints, Date from,
                                                   const SearchOptions& options);

/// The candidate with other runs in each window: with its price where changes have one.
[[nodiscard]] Candidate with_other_runs(const PlannedValve& valve, Candidate candidate,
                                        std::vector<std::chrono::minutes> run_in,
                                        const Constraints& constraints, Date from,
                                        const SearchOptions& options);

/// The candidate as it does at start times found: with more minutes if that keeps its zones within
/// their limits, else with the harm it does; where changes have a price, with the minutes that do
/// the least.
[[nodiscard]] Candidate at_these_times(const PlannedValve& valve, const Candidate& chosen,
                                       const ValveTimes& times, const Constraints& constraints,
                                       Date from, const SearchOptions& options);

}  // namespace runnel

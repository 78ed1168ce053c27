#pragma once

#include <span>
#include <vector>

#include "runnel/schedule/candidates.hpp"
#include "runnel/schedule/programme.hpp"

namespace runnel {

/// One candidate per valve and its start times.
struct Timetable {
  std::vector<std::size_t> chosen;  ///< [valves] index into that valve's candidates
  std::vector<ValveTimes> valves;   ///< [valves]
  std::vector<Programme>
      programmes;  ///< what to type for that; those of shut valves have no starts
  Cost cost;
  /// No timetable can cost less: the sum of what each valve would cost by itself, or more where the
  /// hours are known to be too short for that (Lagrangian relaxation,
  /// schedule/timetable_bound.hpp); the cost found when the search came to its end and each choice
  /// it left aside is known not to fit. The last is never known with several valves open at once,
  /// when a day's hours touch the next day's, when intervals round the day find no room, or where
  /// litres of odd and even dates are counted on the safe side.
  Cost bound;
  bool proven = false;  ///< cost == bound
};

/// The cheapest timetable found in which every window can be sequenced within the constraints.
/// Deterministic; the search is limited by a count of nodes, never by time.
/// @param valve_numbers, candidates [valves], same order. Each list must hold a "no watering"
/// candidate, so that there always is a timetable. Litres count to the day in whose hours a run
/// starts. Days and minutes of a valve's own rules are the candidates' business: they are not
/// looked at here.
/// @throws std::invalid_argument without such a candidate, or when a valve's own hours are not part
/// of the garden's.
[[nodiscard]] Timetable pack(std::span<const int> valve_numbers,
                             std::span<const std::vector<Candidate>> candidates,
                             const Constraints& constraints);

}  // namespace runnel

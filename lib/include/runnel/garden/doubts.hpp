#pragma once

#include <string>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel {

/// What planning with an input at one end of its range gives.
struct DoubtAnswer {
  std::string value = {};  ///< of the input, with its unit
  /// Run minutes a week of the zone's valve, mean of the two weeks a plan is judged over; of all
  /// valves where no zone is named.
  double minutes = 0.0;
  std::string days = {};  ///< on which that valve waters; empty where no zone is named
  bool short_of = false;  ///< goes beyond its limit whatever is done
};

/// An input that the garden file does not state by measurement, and what the plan would be at the
/// ends of its range.
struct Doubt {
  std::string input;  ///< as the garden file calls it: "emitters.uniformity"
  std::string zone;   ///< empty: the garden's own
  DoubtAnswer now, low, high;
  bool matters = false;  ///< what is typed is otherwise at one end at least
  std::string how;       ///< to measure it
  std::string write;     ///< in the garden file then
  std::string source;    ///< of the range
  /// Between the least and the most of the three answers.
  [[nodiscard]] double change_minutes() const;
};

/// What to measure first. Every input that is estimated, taken from words or by default is moved to
/// the ends of its range (data/doubts.csv and the tables it names), one at a time, and the plan of
/// its valve made again: the one with the greatest change in minutes first; then those that change
/// days or start times alone; last those that change nothing that is typed. Each valve is planned
/// for itself, in its own hours, before and after: what the others leave of the time is not looked
/// at. @param planned the plan of `garden` that `request` gave.
[[nodiscard]] std::vector<Doubt> doubts(const Garden& garden, const GardenPlan& planned,
                                        const PlanRequest& request);

}  // namespace runnel

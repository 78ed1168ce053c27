#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "runnel/schedule/candidates.hpp"

namespace runnel {

/// Days of the task's horizon through which a future's harm counts whole: a week, or all of an
/// absence, and on through the next day on which the valve may be watered, until when no next plan
/// can mend what this one leaves.
[[nodiscard]] int days_certain(const ZoneTask& task, const ValveRules& rules, Date from,
                               const SearchOptions& options);

/// What a programme's harm to a zone comes to. Each future beyond the limit counts by the chance
/// that the programme is still in force when it first is: whole within the days certain, after them
/// by the share of plans that run on.
class Harm {
 public:
  /// @param outcome of those waterings, through all days judged.
  Harm(const ZoneTask& task, const Waterings& waterings, const Outcome& outcome, int days_certain,
       double risk);

  /// Whether the futures beyond the limit come to no more than may be.
  [[nodiscard]] bool allowed() const { return worst_first_.empty(); }
  /// Cost::harm_um, in mm.
  [[nodiscard]] double mm() const { return mm_; }
  /// The future with the most harm, mm beyond the limit and of ET unmet, of those that count. Not
  /// when allowed.
  [[nodiscard]] Eigen::Index worst() const { return worst_first_.front(); }

 private:
  std::vector<Eigen::Index> worst_first_;  // futures that count, by harm
  double mm_ = 0.0;
};

/// What a valve's times do to one of its zones, after a run by hand (0: none) on the first day.
[[nodiscard]] Harm harm_at(const ZoneTask& task, const ValveTimes& times, int by_hand_min,
                           const Constraints& constraints, Date from, const SearchOptions& options);

/// The same of all its zones, as Cost::harm_um.
[[nodiscard]] std::int64_t harm_um(std::span<const ZoneTask> tasks, const ValveTimes& times,
                                   int by_hand_min, const Constraints& constraints, Date from,
                                   const SearchOptions& options);

}  // namespace runnel

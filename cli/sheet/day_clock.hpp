#pragma once

#include <vector>

#include "plan_days.hpp"

namespace runnel::cli::sheet {

/// The hours of the day that some valve uses, put end to end: a day's picture without its empty
/// hours.
class DayClock {
 public:
  struct Stretch {
    WallTime from, to;  ///< whole hours
  };
  /// @param runs none: the clock has no stretch.
  explicit DayClock(const std::vector<DatedRun>& runs);

  [[nodiscard]] const std::vector<Stretch>& stretches() const { return stretches_; }
  /// Where a time stands, 0 to 1. @param time within a stretch.
  [[nodiscard]] double place(WallTime time) const;

 private:
  [[nodiscard]] double whole_minutes() const;
  std::vector<Stretch> stretches_;  ///< in order of time, at least `least_gap` apart
};

}  // namespace runnel::cli::sheet

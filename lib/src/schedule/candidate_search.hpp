#pragma once

#include <optional>
#include <span>
#include <vector>

#include "assessment.hpp"
#include "runnel/schedule/candidates.hpp"
#include "spread.hpp"

namespace runnel {

/// The search for the candidates of one valve. Keeps references to what it is given.
class CandidateSearch {
 public:
  CandidateSearch(std::span<const ZoneTask> tasks, const ValveRules& rules, const Timer& timer,
                  Date from, const SearchOptions& options);

  [[nodiscard]] Candidate none() const;
  [[nodiscard]] bool needs_water() const;
  /// Whether each day looked at is watered.
  [[nodiscard]] std::vector<bool> watered(const DayPattern& days) const;

  /// The fewest minutes for this pattern and spread, or nothing when the timer cannot run so short
  /// or so long. `week_minutes` is where the search begins and then what it found: it changes
  /// how long the search takes, not what it finds.
  [[nodiscard]] std::optional<Candidate> best(const DayPattern& days, const std::vector<bool>& on,
                                              const Spread& spread, double& week_minutes) const;

  [[nodiscard]] Candidate with_runs(const Candidate& whole,
                                    std::vector<std::chrono::minutes> run_in) const;
  /// Window by window, from the last to the first, the fewest minutes that do as well and cost no
  /// more: for a timer that takes a length for each start.
  [[nodiscard]] Candidate with_own_lengths(const Candidate& alike) const;
  /// Each run cut down to that share, or to the timer's least.
  [[nodiscard]] Candidate shortened(const Candidate& whole, double share) const;

  /// Whether more cycles in the same windows would bring no more water, nor an amount that one run
  /// cannot have.
  [[nodiscard]] bool more_cycles_only_divide(const Candidate& candidate,
                                             const Spread& spread) const;

 private:
  [[nodiscard]] std::chrono::minutes longest_on(const DayPattern& days, const Spread& spread) const;
  [[nodiscard]] bool fits(const Spread& spread, std::chrono::minutes run) const;
  [[nodiscard]] int lengths_up_to(std::chrono::minutes most) const;
  [[nodiscard]] std::chrono::minutes length(int i) const {
    return lengths_[static_cast<std::size_t>(i)].runs;
  }

  std::span<const ZoneTask> tasks_;
  const ValveRules& rules_;
  const Timer& timer_;
  std::vector<RunLength> lengths_;
  Date from_;
  Assessor assessor_;
};

}  // namespace runnel

#pragma once

#include <span>
#include <vector>

#include "runnel/schedule/candidates.hpp"

namespace runnel {

/// Two depths that differ by less are the same: far below what a timer's minute brings.
inline constexpr double same_depth_mm = 1e-3;

/// Gross, to meet the mean demand.
[[nodiscard]] double weekly_litres(const ZoneTask& task);

/// What a candidate does to the zones of a valve.
struct Assessment {
  bool within = true;     ///< the limit, in all but the allowed futures (harm.hpp)
  double short_mm = 0.0;  ///< by how much the root zones are too dry at the end
  Cost cost;
};

/// Judges the candidates of one valve. Keeps references to what it is given.
class Assessor {
 public:
  Assessor(std::span<const ZoneTask> tasks, const ValveRules& rules, Date from,
           const SearchOptions& options);

  /// @param on whether each day of the horizon is watered.
  [[nodiscard]] Assessment of(const Candidate& candidate, const std::vector<bool>& on) const;
  [[nodiscard]] Assessment without_water() const;

 private:
  /// What does not change from candidate to candidate.
  struct Need {
    double weekly_litres;          // gross, to meet the mean demand
    double drained_without_mm;     // by rain alone, mean of the futures
    double evaporated_without_mm;  // from the surface, likewise; 0 with the single coefficient
    double most_end_mm;            // depletion at the end that a programme may leave
  };
  [[nodiscard]] static Need need_of(const ZoneTask& task);
  [[nodiscard]] static double price_l(const ZoneTask& task, const Need& need,
                                      const Waterings& given, const Outcome& outcome);

  std::span<const ZoneTask> tasks_;
  const WateringHours& hours_;
  int days_certain_;
  double risk_;
  std::vector<Need> needs_;
};

}  // namespace runnel

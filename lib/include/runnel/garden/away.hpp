#pragma once

#include <cstddef>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/units/calendar.hpp"

namespace runnel {

struct GardenPlan;
struct Plan;
struct PlanRequest;

/// The longest absence that is planned for (design decision, no source): plants grow, and a season
/// turns.
inline constexpr int longest_absence_days = 56;

/// Days that cannot be planned for as they were asked for.
class WrongDays : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// From the first day planned to the last one away; 0 without an absence.
/// @throws WrongDays when it ends before it begins or is longer than `longest_absence_days`.
[[nodiscard]] int absence_days(Date from, const std::optional<Date>& until);

/// Days looked at for so long an absence: with the day of coming home, and two weeks at least.
[[nodiscard]] int absence_horizon_days(int away_days);

/// One zone through an absence. Litres are of the valve, mean of the futures.
struct AwayZone {
  double brought_l = 0.0;
  /// Of them, what drains away and would not, had each watering been left out that rain made
  /// needless: without which the zone stays within its limit, in that future's weather, through its
  /// next watering. Futures without rain count 0.
  double needless_l = 0.0;
};

/// Something that would raise the chance of a zone, or of all, and the chances then.
struct ChanceRaised {
  std::string does;
  std::vector<int> futures_beyond;  ///< [zones] of as many as the plan's
  double litres = 0.0;              ///< of all valves, over the days planned
};

/// How a garden gets through an absence; harm is counted through the day of coming home. Each
/// zone's own count of futures stands in its ZonePlan.
struct Away {
  int days = 0;
  int futures = 1;
  int record_years = 0;      ///< in how many past years the futures begin; 0: no chance can be
                             ///< given, since there is one future only
  int unharmed_futures = 0;  ///< in which no zone is harmed
  int frosty_futures = 0;    ///< with frost_caution_c or less on some day away
  std::vector<AwayZone> zones = {};  ///< in the garden's order
  /// What would raise the chances of zones that some future harms: more water where the stated risk
  /// is met, then mulch, place and size of pots under the same programme, the least size that does
  /// most. Where the risk is not met `remedies` has other programmes.
  std::vector<ChanceRaised> raised = {};
};

/// Of all valves, over the days planned, runs by hand among them.
[[nodiscard]] double planned_litres(const Plan& plan);

/// @param planned a plan for the days of `request`, which has an `until`.
[[nodiscard]] Away away(const Garden& garden, const GardenPlan& planned,
                        const PlanRequest& request);

}  // namespace runnel

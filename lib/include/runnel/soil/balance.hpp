#pragma once

#include <Eigen/Core>
#include <vector>

#include "runnel/demand/zone_model.hpp"
#include "runnel/units/column.hpp"

namespace runnel {

/// When water that the root zone cannot hold leaves it.
enum class Surplus {
  end_of_day,  ///< FAO-56 Eq. 88: the day's ETc may still use it
  before_et,   ///< as FAO-56 Example 38 does
  at_once,     ///< a pot: at each watering
};

struct RootZone {
  double p;       ///< share of TAW that may be depleted without stress (FAO-56 Table 22), 0 to < 1
  bool adjust_p;  ///< p + 0.04 (5 - ETc), within 0.1-0.8 (FAO-56 Table 22, footnote 2)
  double aim_ks;  ///< the stress coefficient still accepted: sets the limit of depletion, 1 -
                  ///< aim_ks (1 - p) of TAW; 1 makes the limit the readily available water
  Surplus surplus;
};

/// All the state there is, the same for all members.
struct SoilState {
  double depletion_mm;  ///< of the root zone, 0 = field capacity
};

/// What the sky does over the days looked at. [members, days]
struct Horizon {
  Lanes et_mm;    ///< zone reference ET (exposure included), before the coefficient
  Lanes rain_mm;  ///< that enters the root zone: runoff and rain too light to count taken off
                  ///< (soil/rain)
};

/// Waterings of each day in order of time.
struct Waterings {
  std::vector<double>
      et_share_before;  ///< [slots], not decreasing: 0 = before the day's ET, 1 = after all of it
  Eigen::ArrayXXd net_mm;  ///< [slots, days]: depth credited to the root zone
};

/// One value per member over all days.
struct Outcome {
  Eigen::ArrayXi days_beyond;  ///< days on which depletion stood beyond the limit
  Eigen::ArrayXd beyond_mm;    ///< by how much, summed over those days (each day's worst)
  Eigen::ArrayXi stress_days;  ///< days with Ks < 1
  Eigen::ArrayXd etc_mm;       ///< actual, Ks included
  Eigen::ArrayXd unmet_mm;     ///< ETc without stress less actual
  Eigen::ArrayXd drained_mm;   ///< deep percolation (Eq. 88)
  Eigen::ArrayXd end_mm;       ///< depletion at the end
};

/// Daily soil water balance of one zone, all members side by side. FAO-56 Eq. 82-88.
///
/// Within a day: rain and waterings with share 0 come first; Ks (Eq. 84) from the depletion after
/// them; then ETc (Eq. 81), split at each later watering by its share, with Ks anew; what is beyond
/// field capacity drains as `surplus` says. A day counts as beyond the limit when the depletion
/// after the morning's water is; of a pot (Surplus::at_once), when the depletion just before any
/// watering or at the day's end is, since a pot's day is balanced within the day. Depletion never
/// exceeds TAW: the last day's ET is then what is left (and the rest unmet). A start beyond TAW, or
/// a TAW that shrinks below the depletion, leaves no ET until water comes. A slot without water
/// that day does not split it.
/// @throws std::invalid_argument on sizes that differ, values not finite, TAW <= 0, shares that
/// decrease, p or aim_ks out of range.
[[nodiscard]] Outcome balance(const RootZone& zone, const SoilState& start, const ZoneModel& model,
                              const Horizon& horizon, const Waterings& waterings);

/// The same day by day for one member: what --explain prints and examples are checked against.
/// `after_morning_mm` is 0 where the water exceeds field capacity, `ks` the least of the day.
/// [days]
struct BalanceTrace {
  Column p, limit_mm, after_morning_mm, ks, etc_mm, rain_mm, net_irrigation_mm, drained_mm, end_mm;
};
[[nodiscard]] BalanceTrace trace(const RootZone& zone, const SoilState& start,
                                 const ZoneModel& model, const Horizon& horizon,
                                 const Waterings& waterings, Eigen::Index member);

}  // namespace runnel

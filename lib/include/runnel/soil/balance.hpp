#pragma once

#include <Eigen/Core>
#include <optional>
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

/// The ground that evaporates, for the dual crop coefficient. FAO-56 chapter 7.
struct SoilSurface {
  double rew_mm;                   ///< readily evaporable water (Table 19)
  double tew_mm;                   ///< total evaporable water (Table 19, Eq. 73), above REW
  double fw;                       ///< share of the ground that irrigation wets (Table 20), 0 to 1
  double evaporation_share = 1.0;  ///< of evaporation that a mulch leaves (chapter 10); De goes on
                                   ///< as of bare ground
};

/// The ground that roots draw from, as the balance needs it.
struct RootZone {
  double p;       ///< share of TAW that may be depleted without stress (FAO-56 Table 22), 0 to < 1
  bool adjust_p;  ///< p + 0.04 (5 - ETc), within 0.1-0.8 (FAO-56 Table 22, footnote 2)
  double aim_ks;  ///< the stress coefficient still accepted: sets the limit of depletion, 1 -
                  ///< aim_ks (1 - p) of TAW; 1 makes the limit the readily available water
  Surplus surplus;
  double wetted_share = 1.0;  ///< of the root zone, that irrigation reaches (soil/wetted_share):
                              ///< not the surface's fw; above 0
  std::optional<SoilSurface> surface = {};  ///< in use when the model has kc_max and cover
};

/// All the state there is, the same for all members. Depletions are of the ground they are in, 0 =
/// field capacity.
struct SoilState {
  double depletion_mm;      ///< of the root zone; with a dry part, of the wetted part
  double dry_mm = 0.0;      ///< of the dry part; not looked at without one
  double surface_mm = 0.0;  ///< De, of the exposed and wetted surface
  double surface_fw = 1.0;  ///< share of the ground that the last water wetted: 1 after rain
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
  Eigen::ArrayXXd net_mm;  ///< [slots, days]: depth credited to the root zone, over the whole zone
};

/// One value per member over all days. What flows (ETc, drainage) is a depth over the whole zone;
/// what is depleted (end, beyond) is of the wetted part, which is the whole zone unless
/// `wetted_share` is below 1.
struct Outcome {
  Eigen::ArrayXi days_beyond;  ///< days on which depletion stood beyond the limit
  Eigen::ArrayXd beyond_mm;    ///< by how much, summed over those days (each day's worst)
  Eigen::ArrayXi stress_days;  ///< days with Ks < 1
  Eigen::ArrayXd etc_mm;       ///< actual, Ks and evaporation included
  Eigen::ArrayXd unmet_mm;     ///< ETc without stress less actual
  Eigen::ArrayXd drained_mm;   ///< deep percolation (Eq. 88), of both parts
  Eigen::ArrayXd end_mm;       ///< depletion at the end
  Eigen::ArrayXd
      evaporated_mm;  ///< of `etc_mm`, from the surface; empty with the single coefficient
  Eigen::ArrayXd evaporable_mm;  ///< water that the exposed and wetted surface still holds at the
                                 ///< end, over the whole zone; empty likewise
  Eigen::ArrayXd dry_end_mm;     ///< the dry part's own depletion at the end; empty without one
};

/// Daily soil water balance of one zone, all members side by side. FAO-56 Eq. 85, held
/// within the limits of Eq. 87.
///
/// Within a day: rain and waterings with share 0 come first; Ks (Eq. 84) from the depletion after
/// them; then ETc (Eq. 81), split at each later watering by its share, with Ks anew; what is beyond
/// field capacity drains as `surplus` says. A day counts as beyond the limit when the depletion
/// after the morning's water is; of a pot (Surplus::at_once), when the depletion just before any
/// watering or at the day's end is, since a pot's day is balanced within the day; less than 0.05 mm
/// beyond it is not counted. Depletion never
/// exceeds TAW: the last day's ET is then what is left (and the rest unmet). A start beyond TAW, or
/// a TAW that shrinks below the depletion, leaves no ET until water comes. A slot without water
/// that day does not split it.
///
/// With a surface, kc_max and cover (chapter 7): ETc = (Ks Kcb + Ke) ET. Ke goes by the surface
/// after the morning's water, and anew after each later watering; rain of more than 3 mm wets all
/// of the ground, a watering after it only its share fw. E leaves the root zone too; p goes by all
/// of ETc. A watering after the day's ET wets the surface for the next day.
///
/// With a wetted share below 1 there are two root zones. Rain fills both; irrigation, depth /
/// share, the wetted one, which is judged; each drains by itself. The dry one gives Ks_dry ETc (1 -
/// share), the wetted one is asked for the rest, and its own Ks reduces that. E comes from the
/// wetted part alone while no more than its share of the ground is wet at the surface (fw <=
/// share), else from both by area.
/// @throws std::invalid_argument on sizes that differ, values not finite, TAW <= 0, shares that
/// decrease, p, aim_ks, the wetted share or a figure of the surface out of range, kc_max without
/// cover or without a surface.
[[nodiscard]] Outcome balance(const RootZone& zone, const SoilState& start, const ZoneModel& model,
                              const Horizon& horizon, const Waterings& waterings);

/// The same day by day for one member: what --explain prints and examples are checked against.
/// `after_morning_mm` is 0 where the water exceeds field capacity, `ks` the least of the day.
/// Depths are per what Outcome's are per. [days]
struct BalanceTrace {
  Column p, limit_mm, after_morning_mm, ks, etc_mm, rain_mm, net_irrigation_mm, drained_mm, end_mm;
  Column unmet_mm;  ///< ETc without stress less actual
  // Empty with the single coefficient; kr, few and ke are the means of a day that waterings split.
  Column kr, few, ke;
  Column e_mm;                                ///< evaporation, part of `etc_mm`
  Column surface_morning_mm, surface_end_mm;  ///< De after the morning's water and at the end
  Column surface_fw;                          ///< share of the ground wetted last, at the end
  Column dry_end_mm;                          ///< the dry part's own depletion; empty without one
};
/// The balance of that member, from 0; throws as `balance` does.
[[nodiscard]] BalanceTrace trace(const RootZone& zone, const SoilState& start,
                                 const ZoneModel& model, const Horizon& horizon,
                                 const Waterings& waterings, Eigen::Index member);

}  // namespace runnel

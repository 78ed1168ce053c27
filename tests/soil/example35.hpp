#pragma once

#include <vector>

#include "reference_table.hpp"
#include "runnel/soil/evaporation_layer.hpp"

namespace runnel {

/// One day of FAO-56 Example 35 by Runnel's surface layer.
struct Example35Day {
  double few, kc;
  SurfaceDay day;
  SurfaceOutcome surface;
};

/// The ten days with the conditions the table states: sandy loam with TEW 18 mm, h 0.30 m, u2 1.6
/// m/s, RHmin 35 %, a dry surface before day 1, Kcb from 0.30 to 0.40 and 1-fc from 0.92 to 0.86 in
/// straight lines.
inline std::vector<Example35Day> example35(double rew_mm) {
  const ReferenceTable table("fao56_example35.csv");
  const EvaporationLayer layer{.tew_mm = 18.0, .rew_mm = rew_mm};
  double depletion_mm = layer.tew_mm;
  std::vector<Example35Day> days;
  for (Eigen::Index row = 0; row < table.rows(); ++row) {
    const double along = static_cast<double>(row) / 9.0;
    const double fw = table.printed("fw", row).value;
    const double kcb = 0.30 + 0.10 * along;
    const double few = exposed_wetted_share(1.0 - (0.92 - 0.06 * along), fw);
    const SurfaceDay day{
        .eto_mm = table.printed("ETo", row).value,
        .rain_mm = table.printed("P_minus_RO", row).value,
        .irrigation_mm = table.printed("I_over_fw", row).value * fw,
        .fw = fw,
        .few = few,
        .kcb = kcb,
        .kc_max = kc_max({.u2_m_s = 1.6, .rh_min_pct = 35.0, .height_m = 0.30, .kcb = kcb})};
    const SurfaceOutcome surface = evaporate(layer, depletion_mm, day);
    depletion_mm = surface.end_mm;
    days.push_back({.few = few, .kc = kcb + surface.ke, .day = day, .surface = surface});
  }
  return days;
}

}  // namespace runnel

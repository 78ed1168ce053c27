#pragma once

namespace runnel {

/// @file
/// The soil surface of the dual crop coefficient. FAO-56 chapter 7.

/// Total evaporable water, mm, of a layer `ze_m` deep (0.10-0.15). Eq. 73.
[[nodiscard]] double total_evaporable_water_mm(double field_capacity, double wilting_point,
                                               double ze_m);
/// Kr, 0-1: 1 up to REW, falling to 0 at TEW. Eq. 74.
[[nodiscard]] double evaporation_reduction(double depletion_mm, double tew_mm, double rew_mm);

/// What the upper limit of Kc depends on.
struct KcMaxTerms {
  double u2_m_s, rh_min_pct, height_m, kcb;
};
/// Kc max, at least Kcb + 0.05. Eq. 72.
[[nodiscard]] double kc_max(const KcMaxTerms& terms);

/// Share of the ground covered by plants, 0-0.99, from Kcb. Eq. 76.
/// @param kc_min of bare dry soil, 0.15-0.20.
[[nodiscard]] double covered_share(double kcb, double kc_min, double kc_max, double height_m);
/// few: share of the ground both exposed and wetted, at least 0.01. Eq. 75. @param fw wetted by
/// rain or irrigation (Table 20).
[[nodiscard]] double exposed_wetted_share(double covered, double fw);
/// Ke, at most few Kc max. Eq. 71.
[[nodiscard]] double evaporation_coefficient(double kr, double kc_max, double kcb, double few);

/// The layer's total and readily evaporable water, mm (FAO-56 Table 19).
struct EvaporationLayer {
  double tew_mm, rew_mm;
};
/// One day's weather, water and plants over the layer. Rain and irrigation come early in the day;
/// irrigation is a depth over the whole ground, fw the share it (or the rain) wets.
struct SurfaceDay {
  double eto_mm, rain_mm, irrigation_mm, fw, few, kcb, kc_max;
};
/// What the day makes of it. Depletions and drainage are of the exposed and wetted part; E is over
/// the whole ground.
struct SurfaceOutcome {
  double start_mm;    ///< De after the early water
  double drained_mm;  ///< DPe
  double kr, ke, e_mm;
  double end_mm;  ///< De at the end
};
/// The layer's balance over one day, transpiration from it left out. Eq. 77-79.
[[nodiscard]] SurfaceOutcome evaporate(const EvaporationLayer& layer, double depletion_mm,
                                       const SurfaceDay& day);

}  // namespace runnel

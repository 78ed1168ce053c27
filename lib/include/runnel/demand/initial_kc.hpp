#pragma once

namespace runnel {

/// @file
/// Kc of the initial stage, when nearly all water is lost from bare soil, from how often and how
/// deep it is wetted. FAO-56 Annex 7 (the equations behind Figures 29 and 30).

/// The wetted layer: what can evaporate in all, and before evaporation slows down.
struct WettedLayer {
  double tew_mm, rew_mm;
};
/// Textures as Figure 30 tells them apart.
enum class WettedSoil { coarse, medium_or_fine };

/// Light wettings, 10 mm and less, any soil (Figure 29). @param eto_mm_d above 0.
[[nodiscard]] WettedLayer lightly_wetted(double eto_mm_d);
/// Heavy wettings, 40 mm and more (Figure 30a coarse, 30b medium and fine).
[[nodiscard]] WettedLayer heavily_wetted(double eto_mm_d, WettedSoil soil);

/// Days until evaporation slows down. FAO-56 Annex 7, t1.
[[nodiscard]] double first_stage_days(double rew_mm, double eto_mm_d);
/// Kc ini of a layer wetted every so many days, at most 1.15. FAO-56 Eq. 7-3, 7-4.
[[nodiscard]] double initial_kc(const WettedLayer& layer, double eto_mm_d, double interval_days);
/// Kc ini for wettings between light and heavy. FAO-56 Eq. 59; below 10 and above 40 mm the ends
/// hold.
[[nodiscard]] double interpolated_initial_kc(double wetting_mm, double kc_light, double kc_heavy);
/// All of it: wettings of that depth every so many days. @throws std::invalid_argument unless all
/// are above 0.
[[nodiscard]] double initial_kc(double eto_mm_d, double interval_days, double wetting_mm,
                                WettedSoil soil);
/// The same where a watering wets only the share fw of the surface, its depth counted over all the
/// ground: fw x Kc ini of depth / fw. FAO-56 Eq. 60, 61 (from memory). @param fw above 0, at most
/// 1. @throws std::invalid_argument as above.
[[nodiscard]] double partly_wetted_initial_kc(double eto_mm_d, double interval_days,
                                              double wetting_mm, WettedSoil soil, double fw);

/// Wettings that a rainfall amounts to when each brings so much (FAO-56 Table 13), and the days
/// between so many.
[[nodiscard]] double wettings(double rain_mm, double each_mm);
/// Mean days between so many wettings in a period.
[[nodiscard]] double interval_days(double period_days, double wettings);

}  // namespace runnel

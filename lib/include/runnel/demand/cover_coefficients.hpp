#pragma once

namespace runnel {

/// @file
/// Mid-season Kcb of plants that no table lists, or that stand sparse, from how much ground they
/// cover. FAO-56 chapter 9.

/// Kcb of the plants at full cover under the site's climate. Eq. 100, 101.
struct FullCoverTerms {
  double height_m, u2_m_s, rh_min_pct;
};
/// FAO-56 Eq. 100 with Eq. 101.
[[nodiscard]] double full_cover_kcb(const FullCoverTerms& terms);

/// Kcb from leaf area index. Eq. 97. @param kc_min of bare dry soil, 0.15-0.20.
[[nodiscard]] double kcb_from_leaf_area(double leaf_area_index, double kcb_full, double kc_min);

/// Kcb from ground cover. Eq. 98.
struct CoverTerms {
  double cover, effective_cover, height_m, kcb_full, kc_min;
};
/// FAO-56 Eq. 98.
[[nodiscard]] double kcb_from_cover(const CoverTerms& terms);

/// Share of the ground under canopies of that diameter, each with so much ground of its own.
[[nodiscard]] double canopy_cover(double canopy_diameter_m, double ground_per_plant_m2);
/// Cover as the sun sees it at noon, at most 1. FAO-56 Box 18. @param height_width_ratio of the
/// plants.
[[nodiscard]] double effective_cover(double cover, double height_width_ratio,
                                     double sun_elevation_rad);

/// What Kcb is multiplied by for leaves that close more than those of farm crops (100 s/m). Eq.
/// 102.
struct LeafResistanceTerms {
  double delta_kpa_c, gamma_kpa_c, u2_m_s, leaf_resistance_s_m;
};
/// FAO-56 Eq. 102; 1 at 100 s/m.
[[nodiscard]] double leaf_resistance_factor(const LeafResistanceTerms& terms);

}  // namespace runnel

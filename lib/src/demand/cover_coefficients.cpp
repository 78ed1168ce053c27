#include "runnel/demand/cover_coefficients.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace runnel {

double full_cover_kcb(const FullCoverTerms& terms) {
  const double kcb_h = std::min(1.0 + 0.1 * terms.height_m, 1.2);  // Eq. 101
  return kcb_h + (0.04 * (terms.u2_m_s - 2.0) - 0.004 * (terms.rh_min_pct - 45.0)) *
                     std::pow(terms.height_m / 3.0, 0.3);
}

double kcb_from_leaf_area(double leaf_area_index, double kcb_full, double kc_min) {
  return kc_min + (kcb_full - kc_min) * (1.0 - std::exp(-0.7 * leaf_area_index));
}

double kcb_from_cover(const CoverTerms& terms) {
  const double density =
      std::min(2.0 * terms.cover, std::pow(terms.effective_cover, 1.0 / (1.0 + terms.height_m)));
  return terms.kc_min + (terms.kcb_full - terms.kc_min) * std::min(density, 1.0);
}

double canopy_cover(double canopy_diameter_m, double ground_per_plant_m2) {
  return std::numbers::pi / 4.0 * canopy_diameter_m * canopy_diameter_m / ground_per_plant_m2;
}

double effective_cover(double cover, double height_width_ratio, double sun_elevation_rad) {
  return std::min(cover * (1.0 + height_width_ratio / std::tan(sun_elevation_rad)), 1.0);
}

double leaf_resistance_factor(const LeafResistanceTerms& terms) {
  const double wind = 0.34 * terms.u2_m_s;
  return (terms.delta_kpa_c + terms.gamma_kpa_c * (1.0 + wind)) /
         (terms.delta_kpa_c + terms.gamma_kpa_c * (1.0 + wind * terms.leaf_resistance_s_m / 100.0));
}

}  // namespace runnel

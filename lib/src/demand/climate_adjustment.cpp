#include "runnel/demand/climate_adjustment.hpp"

#include <algorithm>
#include <cmath>

namespace runnel {

double adjusted_kc(double kc_table, const Climate& climate, double height_m) {
  const double u2 = std::clamp(climate.u2_m_s, 1.0, 6.0);
  const double rh_min = std::clamp(climate.rh_min_pct, 20.0, 80.0);
  const double h = std::clamp(height_m, 0.1, 10.0);
  return kc_table + (0.04 * (u2 - 2.0) - 0.004 * (rh_min - 45.0)) * std::pow(h / 3.0, 0.3);
}

double adjusted_kc_end(double kc_table, const Climate& climate, double height_m) {
  return kc_table < 0.45 ? kc_table : adjusted_kc(kc_table, climate, height_m);
}

double alfalfa_over_grass(const Climate& climate) { return adjusted_kc(1.2, climate, 0.5); }

}  // namespace runnel

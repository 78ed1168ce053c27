#include "runnel/soil/root_zone.hpp"

#include <algorithm>

namespace runnel {

double available_water_mm(double field_capacity, double wilting_point, double root_depth_m) {
  return 1000.0 * (field_capacity - wilting_point) * root_depth_m;
}

double readily_available_water_mm(double taw_mm, double p) { return p * taw_mm; }

double adjusted_p(double p_table, double etc_mm_d) {
  return std::clamp(p_table + 0.04 * (5.0 - etc_mm_d), 0.1, 0.8);
}

double stress_coefficient(double depletion_mm, double taw_mm, double p) {
  const double over_raw_mm = depletion_mm - p * taw_mm;
  if (over_raw_mm <= 0.0) return 1.0;
  return std::clamp((taw_mm - depletion_mm) / ((1.0 - p) * taw_mm), 0.0, 1.0);
}

}  // namespace runnel

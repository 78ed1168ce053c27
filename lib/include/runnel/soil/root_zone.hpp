#pragma once

namespace runnel {

/// Total available water, mm: field capacity and wilting point in m3/m3, root depth in m. FAO-56
/// Eq. 82.
[[nodiscard]] double available_water_mm(double field_capacity, double wilting_point,
                                        double root_depth_m);

/// Readily available water, mm. FAO-56 Eq. 83.
[[nodiscard]] double readily_available_water_mm(double taw_mm, double p);

/// Depletion share p on a day of that ETc: p + 0.04 (5 - ETc), within 0.1-0.8. FAO-56 Table 22,
/// footnote 2.
[[nodiscard]] double adjusted_p(double p_table, double etc_mm_d);

/// Ks, 0-1: of a root zone so depleted. FAO-56 Eq. 84.
[[nodiscard]] double stress_coefficient(double depletion_mm, double taw_mm, double p);

}  // namespace runnel

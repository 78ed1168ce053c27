#pragma once

#include <Eigen/Core>

#include "runnel/reference_et/combination.hpp"
#include "runnel/reference_et/method.hpp"
#include "runnel/sky/vapour_equations.hpp"

namespace runnel::daily_kernel {

/// Days computed side by side: two AVX or four SSE registers to a value. Measured against 2, 4 and
/// 16: the fastest.
inline constexpr Eigen::Index block_days = 8;
using Block = Eigen::Array<double, block_days, 1>;

/// What the weather brings on each day of a block.
struct Weather {
  Block t_max_c, t_min_c, ea_kpa, u2_m_s, rs_mj_m2_d;
};

/// What the sun and the place bring. Where the sun does not rise, `per_rso` is 0 and
/// `least_clear_ratio` 1, so that the clear ratio comes out as 1 (ASCE-EWRI 2005 leaves it
/// undefined; the cold long-wave sky of a clear night is assumed).
struct Sky {
  Block per_rso;            ///< 1 / Rso
  Block least_clear_ratio;  ///< the method's floor, or 1
};

/// Every value on the way, in the order in which they arise.
struct Terms {
  Block t_mean_c, delta_kpa_c, es_kpa, u2_m_s, rns_mj_m2_d, rnl_mj_m2_d, rn_mj_m2_d, eto_mm_d;
};

/// FAO-56 Eq. 6 and what leads to it, with G = 0 (Eq. 42). The only place where the daily equations
/// are put together.
[[nodiscard]] inline Terms terms(const Weather& day, const Sky& sky, double gamma_kpa_c,
                                 const Method& method) {
  Terms out;
  out.t_mean_c = 0.5 * (day.t_max_c + day.t_min_c);  // Eq. 9
  const Block e0_mean = saturation_vapour_pressure(out.t_mean_c);
  out.delta_kpa_c = vapour_pressure_slope(e0_mean, out.t_mean_c);  // Eq. 13
  out.es_kpa = 0.5 * (saturation_vapour_pressure(day.t_max_c) +
                      saturation_vapour_pressure(day.t_min_c));  // Eq. 12
  out.u2_m_s = day.u2_m_s.max(method.least_wind_m_s);
  out.rns_mj_m2_d = net_shortwave(day.rs_mj_m2_d);  // Eq. 38
  const Block clear_ratio =
      (day.rs_mj_m2_d * sky.per_rso).max(sky.least_clear_ratio).min(1.0);  // Rs/Rso <= 1
  const Block k4 = 0.5 * (fourth_power_k4(day.t_max_c) + fourth_power_k4(day.t_min_c));
  out.rnl_mj_m2_d = net_longwave(k4, day.ea_kpa, clear_ratio, method);  // Eq. 39
  out.rn_mj_m2_d = out.rns_mj_m2_d - out.rnl_mj_m2_d;                   // Eq. 40
  const Block deficit = out.es_kpa - day.ea_kpa;
  const EtParts<Block> et =
      penman_monteith(CombinationTerms<Block>{.t_c = out.t_mean_c,
                                              .delta_kpa_c = out.delta_kpa_c,
                                              .vapour_deficit_kpa = deficit,
                                              .u2_m_s = out.u2_m_s,
                                              .rn_less_g_mj_m2 = out.rn_mj_m2_d},
                      gamma_kpa_c, method.cd_day, method);
  out.eto_mm_d = et.radiation_mm + et.aerodynamic_mm;  // Eq. 6
  return out;
}

}  // namespace runnel::daily_kernel

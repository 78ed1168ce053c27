#pragma once

#include "runnel/reference_et/inputs.hpp"
#include "runnel/reference_et/method.hpp"

namespace runnel {

/// Reference evapotranspiration, mm/d, one per day of the inputs. FAO-56 Eq. 6 (ASCE-EWRI 2005 Eq.
/// 1), its terms by FAO-56 Eq. 7, 8, 11, 12, 13, 21, 23, 24, 25, 37, 38, 39, 40 and 42 (G = 0). One
/// pass over the columns.
/// @param method a daily one. @throws std::invalid_argument when columns differ in length or hold a
/// value not finite.
[[nodiscard]] Column eto_mm_d(const EtInputs& inputs, const Site& site, const Method& method);

/// Every intermediate value of that computation, in the order in which they arise. [days], units in
/// the names.
struct DailySteps {
  Column t_mean_c, delta_kpa_c, gamma_kpa_c, es_kpa, ea_kpa, u2_m_s, ra_mj_m2_d, rso_mj_m2_d,
      rs_mj_m2_d, rns_mj_m2_d, rnl_mj_m2_d, rn_mj_m2_d, g_mj_m2_d, eto_mm_d;
};
/// All steps of `eto_mm_d` with the same inputs; throws as it does.
[[nodiscard]] DailySteps daily_steps(const EtInputs& inputs, const Site& site,
                                     const Method& method);

}  // namespace runnel

#pragma once

#include "runnel/reference_et/inputs.hpp"
#include "runnel/reference_et/method.hpp"

namespace runnel {

/// As DailySteps, for hours. [hours]
struct HourlySteps {
  Column t_c, delta_kpa_c, gamma_kpa_c, es_kpa, ea_kpa, u2_m_s, ra_mj_m2_h, rso_mj_m2_h, rs_mj_m2_h, rns_mj_m2_h,
      rnl_mj_m2_h, rn_mj_m2_h, g_mj_m2_h, eto_mm_h;
};

/// Hourly reference evapotranspiration and its steps. FAO-56 Eq. 53, ASCE-EWRI 2005 Eq. 1 with Tables 1 and 2. The
/// cloudiness ratio of low sun and night is the one of the last hour with the sun high enough (method.cpp gives the rule and
/// the value taken before there is one).
/// @param method an hourly one. @throws std::invalid_argument as eto_mm_d.
[[nodiscard]] HourlySteps hourly_steps(const HourlyEtInputs& inputs, const Site& site, const Method& method);

}  // namespace runnel

#pragma once

#include "runnel/reference_et/inputs.hpp"
#include "runnel/reference_et/method.hpp"

namespace runnel {

/// Rs/Rso of a night of which nothing is known. FAO-56 chapter 4: 0.4-0.6 in humid, 0.7-0.8 in arid
/// climates; ASCE-EWRI p. 36: 0.3-1.0. The value between the two climates is taken.
inline constexpr double clear_ratio_when_unknown = 0.65;

/// As DailySteps, for hours. [hours]
struct HourlySteps {
  Column t_c, delta_kpa_c, gamma_kpa_c, es_kpa, ea_kpa, u2_m_s, ra_mj_m2_h, rso_mj_m2_h, rs_mj_m2_h,
      clear_ratio, rns_mj_m2_h, rnl_mj_m2_h, rn_mj_m2_h, g_mj_m2_h, eto_mm_h;
};

/// Hourly reference evapotranspiration and its steps. FAO-56 Eq. 53, ASCE-EWRI 2005 Eq. 1 with
/// Tables 1 and 2.
///
/// Rs/Rso of the night is carried from an earlier hour. FAO-56: in the hours whose middle lies in
/// the night, from the hour with omega in [omega_s - 0.79, omega_s - 0.52]. ASCE-EWRI (p. 35): in
/// the hours whose middle has the sun below 0.3 rad, from the last hour above. Before there is such
/// an hour, the first one to come serves; where there is none in the whole series (a short piece of
/// night, the polar night), clear_ratio_when_unknown.
/// @param method an hourly one. @throws std::invalid_argument as eto_mm_d.
[[nodiscard]] HourlySteps hourly_steps(const HourlyEtInputs& inputs, const Site& site,
                                       const Method& method);

}  // namespace runnel

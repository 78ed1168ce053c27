#include "runnel/reference_et/hourly.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <stdexcept>
#include <vector>

#include "runnel/reference_et/combination.hpp"
#include "runnel/sky/psychrometrics.hpp"
#include "runnel/sky/radiation.hpp"
#include "runnel/sky/sun.hpp"

namespace runnel {
namespace {

using Eigen::Index;

constexpr double pi = std::numbers::pi;
constexpr double half_hour_rad = pi / 24.0;  // FAO-56 Eq. 29, 30 with t1 = 1
constexpr double high_sun_rad = 0.3;         // ASCE-EWRI 2005 p. 35
constexpr double window_opens_rad = 0.79;    // FAO-56 chapter 4: the hour 2 to 3 h before sunset
constexpr double window_closes_rad = 0.52;

/// The sun in one hour; `omega` and `elevation` at its middle, omega in [-pi, pi).
struct HourSun {
  double omega_rad, elevation_rad, sunset_rad, ra_mj_m2_h;
};

/// How an hour stands to the cloudiness that is carried through the night.
enum class Cloudiness {
  own,           ///< uses its own ratio
  own_and_kept,  ///< and hands it on to the night
  carried,       ///< uses the one handed on
};

HourSun sun_of_hour(const HourlyEtInputs& inputs, const Site& site, Index hour) {
  const double phi = site.latitude_deg * pi / 180.0;
  const int day = day_of_year(inputs.first_day + std::chrono::days{hour / 24});
  const double offset_h = static_cast<double>(inputs.utc_offset.count()) / 60.0;
  const double middle_h = static_cast<double>(hour % 24) + 0.5;
  double omega = solar_time_angle_rad(middle_h, site.longitude_deg, offset_h, day);
  omega -= 2.0 * pi * std::floor((omega + pi) / (2.0 * pi));
  return {.omega_rad = omega,
          .elevation_rad = sun_elevation_rad(phi, day, omega),
          .sunset_rad = sunset_hour_angle_rad(phi, day),
          .ra_mj_m2_h = extraterrestrial_radiation_mj_m2(phi, day, omega - half_hour_rad,
                                                         omega + half_hour_rad)};
}

Cloudiness cloudiness_of(const HourSun& sun, const Method& method) {
  if (!(sun.ra_mj_m2_h > 0.0)) return Cloudiness::carried;
  if (method.night == NightTest::net_radiation) {
    return sun.elevation_rad >= high_sun_rad ? Cloudiness::own_and_kept : Cloudiness::carried;
  }
  if (!(sun.elevation_rad > 0.0)) return Cloudiness::carried;
  const bool before_sunset = sun.omega_rad >= sun.sunset_rad - window_opens_rad &&
                             sun.omega_rad <= sun.sunset_rad - window_closes_rad;
  return before_sunset ? Cloudiness::own_and_kept : Cloudiness::own;
}

/// Rs/Rso of every hour, the nights' carried. [hours]
Column clear_ratios(const HourlyEtInputs& inputs, const std::vector<HourSun>& suns,
                    const Column& rso, const Method& method) {
  const Index hours = rso.size();
  constexpr double not_yet_known = -1.0;
  Column ratio(hours);
  std::optional<double> kept;
  Index waiting = 0;  // hours at the start that no earlier hour serves
  for (Index i = 0; i < hours; ++i) {
    const Cloudiness kind = cloudiness_of(suns[static_cast<std::size_t>(i)], method);
    if (kind != Cloudiness::carried) {
      ratio[i] = std::clamp(inputs.rs_mj_m2_h[i] / rso[i], method.least_clear_ratio, 1.0);
      if (kind == Cloudiness::own_and_kept) kept = ratio[i];
    } else {
      ratio[i] = kept.value_or(not_yet_known);
    }
    if (!kept) waiting = i + 1;
  }
  // The hour at `waiting` is the first that hands its ratio on.
  const double first = waiting < hours ? ratio[waiting] : clear_ratio_when_unknown;
  for (Index i = 0; i < waiting; ++i) {
    if (ratio[i] == not_yet_known) ratio[i] = first;
  }
  return ratio;
}

void check(const HourlyEtInputs& inputs) {
  for (const Column* column : {&inputs.t_c, &inputs.ea_kpa, &inputs.u2_m_s, &inputs.rs_mj_m2_h}) {
    if (column->size() != inputs.t_c.size())
      throw std::invalid_argument("hourly ET: columns of different length");
    if (!column->isFinite().all()) throw std::invalid_argument("hourly ET: a value is not finite");
  }
  if (!(inputs.ea_kpa >= 0.0).all())
    throw std::invalid_argument("hourly ET: a negative vapour pressure");
}

HourlySteps sized(Index hours) {
  HourlySteps steps;
  for (Column* column : {&steps.delta_kpa_c, &steps.es_kpa, &steps.u2_m_s, &steps.ra_mj_m2_h,
                         &steps.rso_mj_m2_h, &steps.rns_mj_m2_h, &steps.rnl_mj_m2_h,
                         &steps.rn_mj_m2_h, &steps.g_mj_m2_h, &steps.eto_mm_h}) {
    column->resize(hours);
  }
  return steps;
}

/// Fills row i from what is known of it: temperature, vapour pressure, wind, radiation and the
/// clear ratio.
void compute_hour(HourlySteps& steps, Index i, bool sun_is_down, const Method& method) {
  const double t = steps.t_c[i];
  steps.delta_kpa_c[i] = vapour_pressure_slope_kpa_c(t);
  steps.es_kpa[i] = saturation_vapour_pressure_kpa(t);
  steps.rns_mj_m2_h[i] = net_shortwave(steps.rs_mj_m2_h[i]);
  steps.rnl_mj_m2_h[i] =
      net_longwave(fourth_power_k4(t), steps.ea_kpa[i], steps.clear_ratio[i], method);
  const double rn = steps.rns_mj_m2_h[i] - steps.rnl_mj_m2_h[i];
  const bool night = method.night == NightTest::net_radiation ? rn <= 0.0 : sun_is_down;
  const double g = (night ? method.g_share_night : method.g_share_day) * rn;
  const EtParts<double> et = penman_monteith(
      CombinationTerms<double>{.t_c = t,
                               .delta_kpa_c = steps.delta_kpa_c[i],
                               .vapour_deficit_kpa = steps.es_kpa[i] - steps.ea_kpa[i],
                               .u2_m_s = steps.u2_m_s[i],
                               .rn_less_g_mj_m2 = rn - g},
      steps.gamma_kpa_c[i], night ? method.cd_night : method.cd_day, method);
  steps.rn_mj_m2_h[i] = rn;
  steps.g_mj_m2_h[i] = g;
  steps.eto_mm_h[i] =
      et.radiation_mm + et.aerodynamic_mm;  // may be slightly negative: dew. Kept (ASCE-EWRI p. 45)
}

}  // namespace

HourlySteps hourly_steps(const HourlyEtInputs& inputs, const Site& site, const Method& method) {
  check(inputs);
  const Index hours = inputs.t_c.size();
  std::vector<HourSun> suns;
  suns.reserve(static_cast<std::size_t>(hours));
  HourlySteps steps = sized(hours);
  for (Index i = 0; i < hours; ++i) {
    suns.push_back(sun_of_hour(inputs, site, i));
    steps.ra_mj_m2_h[i] = suns.back().ra_mj_m2_h;
  }
  steps.rso_mj_m2_h = clear_sky_share(site.elevation_m) * steps.ra_mj_m2_h;  // FAO-56 Eq. 37
  steps.gamma_kpa_c = Column::Constant(
      hours, psychrometric_constant_kpa_c(atmospheric_pressure_kpa(site.elevation_m)));
  steps.t_c = inputs.t_c;
  steps.ea_kpa = inputs.ea_kpa;
  steps.rs_mj_m2_h = inputs.rs_mj_m2_h;
  steps.u2_m_s = inputs.u2_m_s.max(method.least_wind_m_s);
  steps.clear_ratio = clear_ratios(inputs, suns, steps.rso_mj_m2_h, method);
  for (Index i = 0; i < hours; ++i) {
    compute_hour(steps, i, !(suns[static_cast<std::size_t>(i)].elevation_rad > 0.0), method);
  }
  return steps;
}

}  // namespace runnel

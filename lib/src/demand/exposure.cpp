#include "runnel/demand/exposure.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "runnel/reference_et/combination.hpp"
#include "runnel/reference_et/penman_monteith.hpp"
#include "runnel/sky/diffuse.hpp"
#include "runnel/sky/sun.hpp"
#include "runnel/sky/sun_path.hpp"

namespace runnel {
namespace {

using Eigen::Index;

constexpr double pi = std::numbers::pi;
constexpr double degrees = pi / 180.0;
constexpr double steepest_rad = 45.001 * degrees;  // 45 degrees, however they were converted

bool is_share(double value) { return value >= 0.0 && value <= 1.0; }

void check(const Exposure& exposure) {
  const bool fits = is_share(exposure.canopy_share) && is_share(exposure.albedo) &&
                    is_share(exposure.sky_share.value_or(1.0)) &&
                    is_share(exposure.longwave_share.value_or(1.0)) && exposure.slope_rad >= 0.0 &&
                    exposure.slope_rad <= steepest_rad && std::isfinite(exposure.facing_rad) &&
                    exposure.wind_share >= 0.0 && std::isfinite(exposure.wind_share);
  if (!fits) throw std::invalid_argument("exposure: a share, albedo or slope is out of its range");
}

/// Whether the sun shines on the place in that step, as a share of it.
double sunlit(const SunStep& step, const Exposure& exposure) {
  const double skyline_rad = exposure.skyline.height_at_rad(step.sun.azimuth_rad);
  if (skyline_rad > 0.0 && step.sun.elevation_rad <= skyline_rad) return 0.0;
  if (!exposure.sun_hours) return 1.0;
  return share_within({step.from_rad, step.to_rad}, *exposure.sun_hours);
}

/// Beam on a unit of the tilted bed over that on level ground: cosine of the angle from the bed's
/// upright over the sine of the sun's height.
double tilt_ratio(const SunPosition& sun, const Exposure& exposure) {
  if (exposure.slope_rad == 0.0) return 1.0;
  const double up = std::sin(sun.elevation_rad);
  if (!(up > 0.0)) return 1.0;
  const double on_bed = std::cos(exposure.slope_rad) * up +
                        std::sin(exposure.slope_rad) * std::cos(sun.elevation_rad) *
                            std::cos(sun.azimuth_rad - exposure.facing_rad);
  return std::max(0.0, on_bed) / up;
}

/// The day's light and where it goes, before it is multiplied by Rs.
struct DayLight {
  double beam_part, beam_share, on_zone;
};

DayLight day_light(double rs_mj_m2_d, double ra_mj_m2_d, double latitude_rad, int day_of_year,
                   const Exposure& exposure, double sky) {
  const double delta_rad = declination_rad(day_of_year);
  const double clearness = ra_mj_m2_d > 0.0 ? rs_mj_m2_d / ra_mj_m2_d : 0.0;
  const double diffuse =
      daily_diffuse_share(clearness, sunset_hour_angle_at_rad(latitude_rad, delta_rad));
  const double share = beam_share(latitude_rad, delta_rad, diffuse, exposure);
  // What is lost is taken off 1, so that nothing lost leaves exactly 1.
  const double on_zone = 1.0 - (1.0 - diffuse) * (1.0 - share) -
                         diffuse * (1.0 - sky * exposure.canopy_share) +
                         (1.0 - sky) * exposure.albedo;
  return {.beam_part = 1.0 - diffuse, .beam_share = share, .on_zone = std::max(0.0, on_zone)};
}

ExposureSteps columns_of(Index days) {
  ExposureSteps steps;
  for (Column* column : {&steps.beam_part, &steps.beam_share, &steps.rs_mj_m2_d, &steps.rnl_mj_m2_d,
                         &steps.rn_mj_m2_d, &steps.u2_m_s, &steps.open_et_mm_d, &steps.et_mm_d}) {
    column->resize(days);
  }
  return steps;
}

}  // namespace

bool is_open(const Exposure& exposure) {
  const bool level_horizon =
      std::all_of(exposure.skyline.height_rad.begin(), exposure.skyline.height_rad.end(),
                  [](double height_rad) { return height_rad <= 0.0; });
  return level_horizon && !exposure.sun_hours && exposure.canopy_share == 1.0 &&
         exposure.slope_rad == 0.0 && exposure.wind_share == 1.0 &&
         exposure.sky_share.value_or(1.0) == 1.0 && exposure.longwave_share.value_or(1.0) == 1.0;
}

double sky_share(const Exposure& exposure) {
  return exposure.sky_share.value_or(
      sky_view(exposure.skyline, exposure.slope_rad, exposure.facing_rad));
}

double beam_share(double latitude_rad, double declination_rad, double diffuse_share,
                  const Exposure& exposure) {
  const std::vector<SunStep> path = sun_path(latitude_rad, declination_rad);
  if (path.empty()) return 1.0;
  const std::vector<double> beam = beam_shares(path, diffuse_share);
  double open = 0.0;
  double on_zone = 0.0;
  for (std::size_t i = 0; i < path.size(); ++i) {
    open += beam[i];
    on_zone += beam[i] * sunlit(path[i], exposure) * tilt_ratio(path[i].sun, exposure);
  }
  return exposure.canopy_share * (on_zone / open);
}

ExposureSteps zone_et_steps(const EtInputs& inputs, const Site& site, const Exposure& exposure,
                            const Method& method) {
  check(exposure);
  const DailySteps open = daily_steps(inputs, site, method);
  const double sky = sky_share(exposure);
  const double longwave = exposure.longwave_share.value_or(sky * exposure.canopy_share);
  ExposureSteps steps = columns_of(open.eto_mm_d.size());
  steps.open_et_mm_d = open.eto_mm_d;
  for (Index i = 0; i < open.eto_mm_d.size(); ++i) {
    const DayLight light =
        day_light(open.rs_mj_m2_d[i], open.ra_mj_m2_d[i], site.latitude_deg * degrees,
                  day_of_year(inputs.first_day + std::chrono::days{i}), exposure, sky);
    steps.beam_part[i] = light.beam_part;
    steps.beam_share[i] = light.beam_share;
    steps.rs_mj_m2_d[i] = open.rs_mj_m2_d[i] * light.on_zone;
    steps.rnl_mj_m2_d[i] = open.rnl_mj_m2_d[i] * longwave;
    steps.rn_mj_m2_d[i] = net_shortwave(steps.rs_mj_m2_d[i]) - steps.rnl_mj_m2_d[i];
    steps.u2_m_s[i] = std::max(open.u2_m_s[i] * exposure.wind_share,
                               std::min(open.u2_m_s[i], least_zone_wind_m_s));
    const EtParts<double> et = penman_monteith(
        CombinationTerms<double>{.t_c = open.t_mean_c[i],
                                 .delta_kpa_c = open.delta_kpa_c[i],
                                 .vapour_deficit_kpa = open.es_kpa[i] - open.ea_kpa[i],
                                 .u2_m_s = steps.u2_m_s[i],
                                 .rn_less_g_mj_m2 = steps.rn_mj_m2_d[i]},
        open.gamma_kpa_c[i], method.cd_day, method);
    steps.et_mm_d[i] = et.radiation_mm + et.aerodynamic_mm;
  }
  return steps;
}

Column zone_et_mm_d(const EtInputs& inputs, const Site& site, const Exposure& exposure,
                    const Method& method) {
  return zone_et_steps(inputs, site, exposure, method).et_mm_d;
}

Column exposure_factor(const Column& place_et_mm_d, const Column& open_et_mm_d) {
  if (place_et_mm_d.size() != open_et_mm_d.size())
    throw std::invalid_argument("exposure factor: columns of different length");
  Column factor = Column::Ones(open_et_mm_d.size());
  for (Index i = 0; i < factor.size(); ++i) {
    if (open_et_mm_d[i] > 0.0) factor[i] = std::max(0.0, place_et_mm_d[i]) / open_et_mm_d[i];
  }
  return factor;
}

}  // namespace runnel

#include "runnel/sky/sun_path.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "runnel/sky/diffuse.hpp"

namespace runnel {
namespace {

constexpr double longest_step_rad = std::numbers::pi / 144.0;  // five minutes

/// 1 on a day with a night; on a polar day the swing of the sine of the sun's height over its mean:
/// 1 where the sun just touches the horizon at midnight, 0 at the pole.
double variation(double latitude_rad, double declination_rad) {
  const double mean = std::abs(std::sin(latitude_rad) * std::sin(declination_rad));
  const double swing = std::cos(latitude_rad) * std::cos(declination_rad);
  return mean > swing ? swing / mean : 1.0;
}

}  // namespace

std::vector<SunStep> sun_path(double latitude_rad, double declination_rad) {
  std::vector<SunStep> path;
  const double sunset_rad = sunset_hour_angle_at_rad(latitude_rad, declination_rad);
  const int half = static_cast<int>(std::ceil(sunset_rad / longest_step_rad));
  if (half == 0) return path;
  const double step_rad = sunset_rad / half;
  const double varies = variation(latitude_rad, declination_rad);
  path.resize(2 * static_cast<std::size_t>(half));
  for (int i = -half; i < 0; ++i) {
    const double middle_rad = (i + 0.5) * step_rad;
    const SunPosition sun = sun_position(latitude_rad, declination_rad, middle_rad);
    const double shape = std::max(0.0, std::sin(sun.elevation_rad));
    const int from_sunrise = half + i;
    SunStep& morning = path[static_cast<std::size_t>(from_sunrise)];
    morning = {
        .from_rad = i * step_rad,
        .to_rad = (i + 1) * step_rad,
        .sun = sun,
        .global_share = shape * global_over_diffuse(sunset_rad, varies * std::cos(middle_rad)),
        .diffuse_share = shape};
    // The afternoon is its mirror image.
    SunStep& afternoon = path[static_cast<std::size_t>(half - i - 1)];
    afternoon = morning;
    afternoon.from_rad = -morning.to_rad;
    afternoon.to_rad = -morning.from_rad;
    afternoon.sun.azimuth_rad = 2.0 * std::numbers::pi - sun.azimuth_rad;
  }
  double global = 0.0;
  double diffuse = 0.0;
  for (const SunStep& step : path) {
    global += step.global_share;
    diffuse += step.diffuse_share;
  }
  // A day of seconds, lost in rounding: night.
  if (!(global > 0.0 && diffuse > 0.0)) return {};
  for (SunStep& step : path) {
    step.global_share /= global;
    step.diffuse_share /= diffuse;
  }
  return path;
}

std::vector<double> beam_shares(const std::vector<SunStep>& path, double diffuse_share) {
  std::vector<double> shares;
  shares.reserve(path.size());
  double sum = 0.0;
  for (const SunStep& step : path) {
    shares.push_back(std::max(0.0, step.global_share - diffuse_share * step.diffuse_share));
    sum += shares.back();
  }
  for (std::size_t i = 0; i < path.size(); ++i)
    shares[i] = sum > 0.0 ? shares[i] / sum : path[i].global_share;
  return shares;
}

}  // namespace runnel

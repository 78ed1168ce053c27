#include "runnel/sky/diffuse.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace runnel {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double degrees = pi / 180.0;

/// Days of a sunset angle below this are winter days to Erbs et al.
constexpr double winter_sunset_rad = 81.4 * degrees;

/// (pi/24)(cos w - cos ws) / (sin ws - ws cos ws): the shape of extraterrestrial radiation.
double extraterrestrial_share_per_h(double ws, double w) {
  const double shape = std::cos(w) - std::cos(ws);
  const double whole = std::sin(ws) - ws * std::cos(ws);
  if (std::abs(w) >= ws || !(shape > 0.0) || !(whole > 0.0)) return 0.0;
  return pi / 24.0 * shape / whole;
}

}  // namespace

double hourly_diffuse_share(double clearness) {
  const double k = std::clamp(clearness, 0.0, 1.0);
  if (k <= 0.22) return 1.0 - 0.09 * k;
  if (k <= 0.80) return 0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336)));
  return 0.165;
}

double daily_diffuse_share(double clearness, double sunset_hour_angle_rad) {
  const double k = std::clamp(clearness, 0.0, 1.0);
  if (sunset_hour_angle_rad <= winter_sunset_rad) {
    if (k >= 0.715) return 0.143;
    return 1.0 + k * (-0.2727 + k * (2.4495 + k * (-11.9514 + k * 9.3879)));
  }
  // The curve rises a hair above 1 on the darkest days.
  if (k >= 0.722) return 0.175;
  return std::min(1.0, 1.0 + k * (0.2832 + k * (-2.5557 + k * 0.8448)));
}

double global_over_diffuse(double sunset_hour_angle_rad, double cos_time_angle) {
  const double tilt = sunset_hour_angle_rad - 60.0 * degrees;
  const double a = 0.409 + 0.5016 * std::sin(tilt);
  const double b = 0.6609 - 0.4767 * std::sin(tilt);
  return std::max(0.0, a + b * cos_time_angle);
}

double global_share_per_h(double sunset_hour_angle_rad, double time_angle_rad) {
  return global_over_diffuse(sunset_hour_angle_rad, std::cos(time_angle_rad)) *
         extraterrestrial_share_per_h(sunset_hour_angle_rad, time_angle_rad);
}

double diffuse_share_per_h(double sunset_hour_angle_rad, double time_angle_rad) {
  return extraterrestrial_share_per_h(sunset_hour_angle_rad, time_angle_rad);
}

}  // namespace runnel

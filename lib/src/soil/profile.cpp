#include "runnel/soil/profile.hpp"

#include <algorithm>
#include <stdexcept>

#include "runnel/soil/root_zone.hpp"

namespace runnel {
namespace {

void check(const SoilProfile& profile) {
  if (profile.empty()) throw std::invalid_argument("soil profile: no layers");
  for (const SoilLayer& layer : profile) {
    if (!(layer.thickness_m > 0.0 && layer.wilting_point < layer.field_capacity &&
          layer.stones >= 0.0 && layer.stones < 1.0)) {
      throw std::invalid_argument(
          "soil profile: a layer needs a thickness, water to hold and less stones than all");
    }
  }
}

}  // namespace

double depth_m(const SoilProfile& profile) {
  double sum_m = 0.0;
  for (const SoilLayer& layer : profile) sum_m += layer.thickness_m;
  return sum_m;
}

double available_water_mm(const SoilProfile& profile, double root_depth_m) {
  check(profile);
  if (!(root_depth_m >= 0.0)) throw std::invalid_argument("soil profile: root depth below 0");
  double sum_mm = 0.0;
  double left_m = root_depth_m;
  for (const SoilLayer& layer : profile) {
    const double reached_m = std::min(left_m, layer.thickness_m);
    sum_mm += (1.0 - layer.stones) *
              available_water_mm(layer.field_capacity, layer.wilting_point, reached_m);
    left_m -= reached_m;
    if (left_m <= 0.0) break;
  }
  return sum_mm;
}

Column available_water_mm(const SoilProfile& profile, const Column& root_depth_m) {
  return root_depth_m.unaryExpr([&](double deep_m) { return available_water_mm(profile, deep_m); });
}

}  // namespace runnel

#include "runnel/soil/evaporation_layer.hpp"

#include <algorithm>
#include <cmath>

namespace runnel {

double total_evaporable_water_mm(double field_capacity, double wilting_point, double ze_m) {
  return 1000.0 * (field_capacity - 0.5 * wilting_point) * ze_m;
}

double evaporation_reduction(double depletion_mm, double tew_mm, double rew_mm) {
  if (depletion_mm <= rew_mm) return 1.0;
  if (depletion_mm >= tew_mm) return 0.0;
  return (tew_mm - depletion_mm) / (tew_mm - rew_mm);
}

double kc_max(const KcMaxTerms& terms) {
  const double climate = (0.04 * (terms.u2_m_s - 2.0) - 0.004 * (terms.rh_min_pct - 45.0)) *
                         std::pow(terms.height_m / 3.0, 0.3);
  return std::max(1.2 + climate, terms.kcb + 0.05);
}

double covered_share(double kcb, double kc_min, double kc_max, double height_m) {
  const double above = std::max(kcb - kc_min, 0.01);  // the floor that Eq. 76 asks for
  return std::min(std::pow(above / (kc_max - kc_min), 1.0 + 0.5 * height_m), 0.99);
}

double exposed_wetted_share(double covered, double fw) {
  return std::max(std::min(1.0 - covered, fw), 0.01);
}

double evaporation_coefficient(double kr, double kc_max, double kcb, double few) {
  return std::min(kr * (kc_max - kcb), few * kc_max);
}

SurfaceOutcome evaporate(const EvaporationLayer& layer, double depletion_mm,
                         const SurfaceDay& day) {
  const double arriving_mm = day.rain_mm + day.irrigation_mm / day.fw;
  SurfaceOutcome out{};
  out.start_mm = std::max(depletion_mm - arriving_mm, 0.0);
  out.drained_mm = std::max(arriving_mm - depletion_mm, 0.0);
  out.kr = evaporation_reduction(out.start_mm, layer.tew_mm, layer.rew_mm);
  out.ke = evaporation_coefficient(out.kr, day.kc_max, day.kcb, day.few);
  out.e_mm = std::min(out.ke * day.eto_mm,
                      (layer.tew_mm - out.start_mm) * day.few);  // no more than is there
  out.end_mm = out.start_mm + out.e_mm / day.few;
  return out;
}

}  // namespace runnel

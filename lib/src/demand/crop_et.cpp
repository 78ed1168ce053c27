#include "runnel/demand/crop_et.hpp"

#include <stdexcept>

namespace runnel {

double crop_et_mm_d(double kc, double eto_mm_d) { return kc * eto_mm_d; }

double under_plastic_mulch(double kc, double reduction) { return kc * (1.0 - reduction); }

double mean_pan_eto_mm_d(const Column& pan_mm_d, double kp) {
  if (pan_mm_d.size() == 0) throw std::invalid_argument("mean_pan_eto_mm_d: no day");
  return kp * pan_mm_d.mean();
}

double ks_from_yield(double actual_over_full_yield, double ky) {
  return 1.0 - (1.0 - actual_over_full_yield) / ky;
}

}  // namespace runnel

#include "runnel/delivery/friction.hpp"

#include <cmath>
#include <stdexcept>
#include <string>

namespace runnel {
namespace {

constexpr double flow_exponent = 1.852;
constexpr double diameter_exponent = 4.87;

void require_positive(double value, const char* what) {
  if (!(std::isfinite(value) && value > 0.0)) {
    throw std::invalid_argument(std::string("friction: the pipe's ") + what + " must be > 0");
  }
}

}  // namespace

double friction_loss_kpa(const Pipe& pipe, Flow flow) {
  require_positive(pipe.length_m, "length");
  require_positive(pipe.inside_diameter_m, "inside diameter");
  require_positive(pipe.roughness_c, "roughness C");
  constexpr double l_h_per_m3_s = 3.6e6;
  const double q_m3_s = flow.litres_per_hour() / l_h_per_m3_s;
  if (!(std::isfinite(q_m3_s) && q_m3_s >= 0.0)) {
    throw std::invalid_argument("friction: the flow must be >= 0");
  }
  const double loss_m = 10.67 * pipe.length_m * std::pow(q_m3_s / pipe.roughness_c, flow_exponent) /
                        std::pow(pipe.inside_diameter_m, diameter_exponent);
  return loss_m * kpa_per_metre_of_water;
}

double christiansen_factor(int outlets) {
  if (outlets < 1) throw std::invalid_argument("christiansen_factor: outlets must be >= 1");
  if (outlets == 1) return 1.0;  // the formula, meant for many, gives 1.0044
  const double n = outlets;
  return 1.0 / (flow_exponent + 1.0) + 1.0 / (2.0 * n) +
         std::sqrt(flow_exponent - 1.0) / (6.0 * n * n);
}

}  // namespace runnel

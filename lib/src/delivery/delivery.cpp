#include "runnel/delivery/delivery.hpp"

#include <stdexcept>

namespace runnel {

double run_time_multiplier(double du_low_quarter, EnoughFor part) {
  if (!(du_low_quarter > 0.0 && du_low_quarter <= 1.0)) {
    throw std::invalid_argument("run_time_multiplier: uniformity must lie in (0, 1]");
  }
  if (part == EnoughFor::driest_quarter) return 1.0 / du_low_quarter;
  return 1.0 / (0.4 + 0.6 * du_low_quarter);
}

}  // namespace runnel

#include "runnel/delivery/emitter_flow.hpp"

#include <cmath>
#include <stdexcept>

namespace runnel {

Flow flow_at(const EmitterFlow& emitter, double pressure_kpa) {
  const double rated_l_h = emitter.rated.litres_per_hour();
  if (!(std::isfinite(rated_l_h) && rated_l_h > 0.0)) {
    throw std::invalid_argument("flow_at: the rated flow must be > 0");
  }
  if (!(std::isfinite(emitter.rated_kpa) && emitter.rated_kpa > 0.0)) {
    throw std::invalid_argument("flow_at: the rated pressure must be > 0");
  }
  if (!(emitter.exponent >= 0.0 && emitter.exponent <= 1.0)) {
    throw std::invalid_argument("flow_at: the exponent must lie between 0 and 1");
  }
  if (!std::isfinite(pressure_kpa)) {
    throw std::invalid_argument("flow_at: the pressure must be finite");
  }
  if (pressure_kpa <= 0.0) return Flow::litres_per_hour(0.0);
  return emitter.rated * std::pow(pressure_kpa / emitter.rated_kpa, emitter.exponent);
}

}  // namespace runnel

#include "runnel/delivery/cycle_soak.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

namespace runnel {
namespace {

void require_usable(Rate application, const Intake& intake) {
  const double rate = application.mm_per_hour();
  const double basic_rate = intake.basic_rate.mm_per_hour();
  const double storage = intake.surface_storage.mm();
  if (!(std::isfinite(rate) && rate > 0.0)) {
    throw std::invalid_argument("cycle and soak: the application rate must be > 0");
  }
  if (!(std::isfinite(basic_rate) && basic_rate > 0.0)) {
    throw std::invalid_argument("cycle and soak: the intake rate must be > 0");
  }
  if (!(std::isfinite(storage) && storage >= 0.0)) {
    throw std::invalid_argument("cycle and soak: the surface storage must be >= 0");
  }
}

}  // namespace

CycleLimit cycle_limit(Rate application, const Intake& intake) {
  require_usable(application, intake);
  if (application <= intake.basic_rate) {
    return {.longest_cycle = Duration::minutes(std::numeric_limits<double>::infinity()),
            .full_soak = Duration::minutes(0.0)};
  }
  return {.longest_cycle = intake.surface_storage / (application - intake.basic_rate),
          .full_soak = intake.surface_storage / intake.basic_rate};
}

Duration soak_after(Duration cycle, Rate application, const Intake& intake) {
  const CycleLimit limit = cycle_limit(application, intake);
  if (!(cycle.minutes() >= 0.0)) {
    throw std::invalid_argument("soak_after: the cycle must be >= 0");
  }
  if (application <= intake.basic_rate) return limit.full_soak;
  const Duration to_sink_in = cycle * ((application - intake.basic_rate) / intake.basic_rate);
  return to_sink_in < limit.full_soak ? to_sink_in : limit.full_soak;
}

}  // namespace runnel

#include "runnel/delivery/lateral.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "runnel/delivery/friction.hpp"

namespace runnel {
namespace {

constexpr int most_on_a_line = 2000;

/// Walks from the closed end to the inlet.
class Walk {
 public:
  Walk(const Lateral& lateral, double inlet_kpa)
      : lateral_(lateral),
        beyond_kpa_(2.0 * (inlet_kpa + std::abs(lateral.rise_m) * kpa_per_metre_of_water)),
        rise_kpa_(lateral.rise_m / lateral.emitters * kpa_per_metre_of_water),
        // Friction goes with the flow to a power: that of one litre an hour serves all segments.
        segment_kpa_(friction_loss_kpa({.length_m = lateral.spacing_m,
                                        .inside_diameter_m = lateral.inside_diameter_m,
                                        .roughness_c = lateral.roughness_c},
                                       Flow::litres_per_hour(1.0))) {}

  /// The figures when the last emitter has that pressure, and the inlet's; that is infinite once
  /// the walk is past any pressure the inlet could bring about (it may grow without bounds).
  LateralFlow from_end(double last_kpa, double& inlet_kpa) const {
    const Flow last = flow_at(lateral_.emitter, last_kpa);
    LateralFlow flow{.fed = true,
                     .first_kpa = last_kpa,
                     .last_kpa = last_kpa,
                     .least_kpa = last_kpa,
                     .most_kpa = last_kpa,
                     .total = last,
                     .least = last,
                     .most = last};
    double kpa = last_kpa;
    for (int emitter = 1; emitter < lateral_.emitters; ++emitter) {
      kpa += loss_kpa(flow.total);
      if (kpa > beyond_kpa_) {
        inlet_kpa = std::numeric_limits<double>::infinity();
        return flow;
      }
      const Flow one = flow_at(lateral_.emitter, kpa);
      flow.total = flow.total + one;
      flow.least = std::min(flow.least, one);
      flow.most = std::max(flow.most, one);
      flow.least_kpa = std::min(flow.least_kpa, kpa);
      flow.most_kpa = std::max(flow.most_kpa, kpa);
    }
    flow.first_kpa = kpa;
    inlet_kpa = kpa + loss_kpa(flow.total);
    return flow;
  }

 private:
  [[nodiscard]] double loss_kpa(Flow flow) const {
    return segment_kpa_ * std::pow(flow.litres_per_hour(), 1.852) + rise_kpa_;
  }
  const Lateral& lateral_;
  double beyond_kpa_, rise_kpa_, segment_kpa_;
};

void require_usable(const Lateral& lateral, double inlet_kpa) {
  if (lateral.emitters < 1 || lateral.emitters > most_on_a_line) {
    throw std::invalid_argument("lateral_flow: a line has 1 to 2000 emitters");
  }
  if (!std::isfinite(lateral.rise_m)) {
    throw std::invalid_argument("lateral_flow: the rise must be finite");
  }
  if (!(std::isfinite(inlet_kpa) && inlet_kpa > 0.0)) {
    throw std::invalid_argument("lateral_flow: the pressure at the inlet must be > 0");
  }
}

constexpr LateralFlow not_fed{.fed = false,
                              .first_kpa = 0.0,
                              .last_kpa = 0.0,
                              .least_kpa = 0.0,
                              .most_kpa = 0.0,
                              .total = {},
                              .least = {},
                              .most = {}};

}  // namespace

LateralFlow lateral_flow(const Lateral& lateral, double inlet_kpa) {
  require_usable(lateral, inlet_kpa);
  const Walk walk(lateral, inlet_kpa);
  double low_kpa = 1e-9 * inlet_kpa;
  double high_kpa = inlet_kpa + std::max(0.0, -lateral.rise_m) * kpa_per_metre_of_water;
  double at_inlet_kpa = 0.0;
  (void)walk.from_end(low_kpa, at_inlet_kpa);
  if (at_inlet_kpa > inlet_kpa) return not_fed;
  while (high_kpa - low_kpa > 1e-9 * inlet_kpa) {
    const double middle_kpa = 0.5 * (low_kpa + high_kpa);
    (void)walk.from_end(middle_kpa, at_inlet_kpa);
    (at_inlet_kpa > inlet_kpa ? high_kpa : low_kpa) = middle_kpa;
  }
  const LateralFlow flow = walk.from_end(low_kpa, at_inlet_kpa);
  return flow.least_kpa > 0.0 ? flow : not_fed;
}

int most_emitters(const Lateral& lateral, double inlet_kpa, const LateralLimit& limit) {
  const double rise_per_emitter_m = lateral.rise_m / std::max(1, lateral.emitters);
  const auto keeps = [&](int emitters) {
    Lateral line = lateral;
    line.emitters = emitters;
    line.rise_m = rise_per_emitter_m * emitters;
    const LateralFlow flow = lateral_flow(line, inlet_kpa);
    return flow.fed && flow.variation() <= limit.most_variation &&
           flow.least_kpa >= limit.least_kpa;
  };
  if (!keeps(1)) return 0;
  int within = 1;
  int beyond = 2;
  while (keeps(beyond)) {
    within = beyond;
    if (within == most_on_a_line) return within;
    beyond = std::min(2 * beyond, most_on_a_line);
  }
  while (beyond - within > 1) {
    const int middle = within + (beyond - within) / 2;
    (keeps(middle) ? within : beyond) = middle;
  }
  return within;
}

}  // namespace runnel

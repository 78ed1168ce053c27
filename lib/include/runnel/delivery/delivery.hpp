#pragma once

#include "runnel/units/quantity.hpp"

namespace runnel {

/// What a zone's valve delivers: the figures scheduling needs, whatever emitters bring them about.
struct Delivery {
  Flow flow;              ///< of the whole zone
  Area area;              ///< watered: the bed, or the canopies of all pots
  double multiplier;      ///< run-time multiplier >= 1 for uneven watering
  double leaching_share;  ///< 0 to < 1; of what is applied, to wash salts through a pot
  [[nodiscard]] constexpr Rate rate() const { return flow / area; }
  /// Depth credited to the root zone per minute of run: the rest is uniformity loss and leaching,
  /// booked at once.
  [[nodiscard]] constexpr double net_mm_per_minute() const {
    return rate().mm_per_hour() / 60.0 / multiplier * (1.0 - leaching_share);
  }
};

/// Run-time multiplier 1 / (0.4 + 0.6 DU), DU the low-quarter distribution uniformity, 0 < DU <= 1.
/// Irrigation Association, Landscape Irrigation Scheduling and Water Management (2005).
[[nodiscard]] double run_time_multiplier(double du_low_quarter);

}  // namespace runnel

#pragma once

#include "runnel/units/quantity.hpp"

namespace runnel {

/// What a zone's valve delivers: the figures scheduling needs, whatever emitters bring them about.
struct Delivery {
  Flow flow;              ///< of the whole zone
  Area area;              ///< watered: the bed, or the canopies of all pots
  double multiplier;      ///< run-time multiplier >= 1 for uneven watering
  double leaching_share;  ///< 0 to < 1; of what is applied, to wash salts through a pot
  /// Application rate, mean over the area.
  [[nodiscard]] constexpr Rate rate() const { return flow / area; }
  /// Depth credited to the root zone per minute of run: the rest is uniformity loss and leaching,
  /// booked at once.
  [[nodiscard]] constexpr double net_mm_per_minute() const {
    return rate().mm_per_hour() / 60.0 / multiplier * (1.0 - leaching_share);
  }
};

/// For which part of the ground the mean of what falls there shall be enough.
enum class EnoughFor {
  driest_half,     ///< 1 / (0.4 + 0.6 DU): Irrigation Association, Landscape Irrigation Scheduling
                   ///< and Water Management (2005)
  driest_quarter,  ///< 1 / DU: the older practice, which overstates the need of a planting whose
                   ///< roots share water (Mecham 2010, 5th Decennial Irrigation Conf. IRR10-10040)
};

/// Run-time multiplier of a low-quarter distribution uniformity, 0 < DU <= 1.
/// @throws std::invalid_argument outside those limits.
[[nodiscard]] double run_time_multiplier(double du_low_quarter,
                                         EnoughFor part = EnoughFor::driest_half);

}  // namespace runnel

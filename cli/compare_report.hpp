#pragma once

#include <string>

#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {

/// What each zone uses in the week, side by side and day by day, at 80 columns.
[[nodiscard]] std::string compare_text(const Garden& garden, const GardenPlan& planned);
/// A line for each zone and day.
[[nodiscard]] std::string compare_csv(const GardenPlan& planned);
[[nodiscard]] std::string compare_json(const Garden& garden, const GardenPlan& planned);

/// Why one zone uses more than another: the factors from reference ET to demand side by side. They
/// multiply to the ratio shown.
struct ZonePair {
  std::size_t zone, other;  ///< places in the garden
};
[[nodiscard]] std::string between_text(const Garden& garden, const GardenPlan& planned,
                                       const ZonePair& pair);
[[nodiscard]] std::string between_csv(const GardenPlan& planned, const ZonePair& pair);
[[nodiscard]] std::string between_json(const GardenPlan& planned, const ZonePair& pair);

}  // namespace runnel::cli

#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel {

/// How hard a change is to make, the easiest first: what is set, what is bought, what grows.
enum class Ease { hours, wishes, timer, emitters, valves, mulch, place_of_pots, size_of_pots };

/// Whether such a change asks for no other programme: the plants need less, or have more to draw
/// on.
[[nodiscard]] inline bool keeps_programme(Ease ease) { return ease >= Ease::mulch; }

/// A garden with something changed, and what that is in words.
struct ChangedGarden {
  std::string does;
  Garden garden;
};

/// A change that comes in sizes, 1 the least.
struct GardenChange {
  Ease ease;
  int sizes;
  /// Of a garden that may be changed otherwise already. @param size 1 to `sizes`
  std::function<ChangedGarden(const Garden&, int size)> make;
  std::vector<std::size_t> zones = {};  ///< whose tasks must be prepared again; new ones always are
};

/// Longer watering hours, in steps of a quarter of an hour, and further ones.
[[nodiscard]] std::vector<GardenChange> changes_of_hours(const Garden& garden,
                                                         const GardenPlan& planned);
/// The wishes of one zone given up, each by itself. Rules are kept: they may be the law.
[[nodiscard]] std::vector<GardenChange> changes_of_wishes(const Garden& garden, std::size_t zone);
/// What another timer could do.
[[nodiscard]] std::vector<GardenChange> changes_of_timer(const Garden& garden,
                                                         const GardenPlan& planned);
/// Emitters, valves, mulch and pots of one zone.
[[nodiscard]] std::vector<GardenChange> changes_of_zone(const Garden& garden,
                                                        const GardenPlan& planned,
                                                        std::size_t zone);

}  // namespace runnel

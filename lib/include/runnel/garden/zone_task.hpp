#pragma once

#include <string>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/site_weather.hpp"
#include "runnel/schedule/candidates.hpp"

namespace runnel {

/// One figure on the way from weather to minutes, and where it comes from.
struct Fact {
  std::string what;   ///< "landscape coefficient"
  std::string value;  ///< "0.50"
  std::string source;
};

/// A zone ready for scheduling, and the figures that made it so, in the order in which they are
/// used.
struct PreparedZone {
  ZoneTask task;
  std::vector<Fact> facts;
  double exposure_factor = 1.0;  ///< of the week as a whole
  Column exposure;               ///< [days] the factor of each
  Column kc;                     ///< [days] crop or landscape coefficient
  Column demand_mm;  ///< [days] ETc without stress: reference ET x exposure x coefficient, mean of
                     ///< the futures
  bool containers = false;
};

/// Looks up the zone's plants, soil or pots and emitters and builds its task over the assumed
/// weather. Doubts (a wind-blown guess, an application rate out of the ordinary, a pot that cannot
/// hold a day) go to `findings`.
[[nodiscard]] PreparedZone prepare_zone(const Garden& garden, const Zone& zone,
                                        const AssumedWeather& weather,
                                        std::vector<Finding>& findings);

}  // namespace runnel

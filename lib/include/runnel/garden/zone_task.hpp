#pragma once

#include <optional>
#include <string>
#include <vector>

#include "runnel/garden/demand_chain.hpp"
#include "runnel/garden/garden.hpp"
#include "runnel/garden/moisture_reading.hpp"
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
  DemandChain chain;             ///< from reference ET to ETc without stress, mean of the futures
  double exposure_factor = 1.0;  ///< the first week's zone reference ET over that of open ground
  double sky_seen = 1.0;         ///< share of the sky, where exposure is computed with it
  bool containers = false;
  bool start_assumed = false;  ///< how dry it is on the first day is not known: half the limit
  bool start_found = false;    ///< it is known from a plan before or a moisture reading
};

/// How wet a zone is on the first day, as far as that is known, and from where.
struct StartState {
  std::optional<SoilState> state = {};  ///< else as the zone states, or half the limit
  std::string source = {};              ///< "carried on from last-week.yaml over 7 days"
  std::string corrected_by = {};        ///< what the state's depletion goes back to beside that
  std::optional<MoistureReading> evening_before = {};  ///< goes before all of them
};

/// Looks up the zone's plants, soil or pots and emitters and builds its task over the assumed
/// weather. Doubts (a wind-blown guess, an application rate out of the ordinary, a pot that cannot
/// hold a day) go to `findings`.
[[nodiscard]] PreparedZone prepare_zone(const Garden& garden, const Zone& zone,
                                        const AssumedWeather& weather,
                                        std::vector<Finding>& findings,
                                        const StartState& start = {});

}  // namespace runnel

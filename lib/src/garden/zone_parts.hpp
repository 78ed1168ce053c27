#pragma once

#include <string>

#include "runnel/delivery/cycle_soak.hpp"
#include "runnel/delivery/emitters.hpp"
#include "runnel/garden/zone_task.hpp"
#include "runnel/soil/balance.hpp"

namespace runnel {

// A zone's task is made in parts, each in a file of its own: how the sky reaches it
// (zone_exposure.cpp), what grows there (zone_plants.cpp), what its ground or pots hold
// (zone_ground.cpp), what its valve delivers (zone_delivery.cpp, zone_pressure.cpp), and then the
// whole (zone_task.cpp).

/// The zone, what it is looked at with, and where the figures and doubts that come up are noted.
struct ZoneContext {
  const Garden& garden;
  const Zone& zone;
  const AssumedWeather& weather;
  std::vector<Finding>& findings;
  std::vector<Fact>& facts;

  [[nodiscard]] Eigen::Index days() const { return weather.eto_mm.size(); }
  [[nodiscard]] bool in_pots() const { return zone.containers.has_value(); }
  void fact(std::string what, std::string value, std::string source) const;
  void say(Finding::Kind kind, const Place& at, std::string says, std::string mend) const;
};

/// The source given for a figure that the garden file states itself.
inline constexpr const char* own_figure = "garden file";

/// How the sky reaches the zone. [days]
struct ZoneExposure {
  Column factor;  ///< zone reference ET over that of open ground
  Column et_mm;   ///< zone reference ET
};
[[nodiscard]] ZoneExposure zone_exposure(const ZoneContext& context);

/// What grows in the zone.
struct ZonePlants {
  Column kc;            ///< [days] of pots: per canopy area; with `kc_max` and `cover`: Kcb
  Column kc_max = {};   ///< [days] dual coefficient only, else empty
  Column cover = {};    ///< [days] dual coefficient only, else empty
  Column root_depth_m;  ///< [days] of a bed
  double p;             ///< allowable depletion, share of TAW
  bool adjust_p;
};
[[nodiscard]] ZonePlants zone_plants(const ZoneContext& context);

/// The zone's ground or pots: what a root zone holds, takes in, and lets rain into.
struct Ground {
  Column taw_mm;  ///< [days]
  Intake intake;
  double rain_share;
  double curve_number;  ///< 0 = rain does not run off
  Surplus surplus;
  Area area;
  double leaching_share;
};
[[nodiscard]] Ground bed(const ZoneContext& context, const ZonePlants& plants);
[[nodiscard]] Ground pots(const ZoneContext& context);

/// What pressure makes of the flow stated.
struct PressureEffect {
  double flow_factor = 1.0;      ///< mean emitter over the flow stated
  double least_over_mean = 1.0;  ///< q_min / q_mean along a line
};
[[nodiscard]] PressureEffect pressure_effect(const ZoneContext& context, const EmitterType& type);

/// What its valve delivers, with doubts about heads, lines, pressure and supply.
[[nodiscard]] Delivery zone_delivery(const ZoneContext& context, const Ground& ground);

[[nodiscard]] EmitterType emitter_type(const Zone& zone);

}  // namespace runnel

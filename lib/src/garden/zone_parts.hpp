#pragma once

#include <algorithm>
#include <optional>
#include <string>

#include "runnel/delivery/cycle_soak.hpp"
#include "runnel/delivery/emitters.hpp"
#include "runnel/demand/coefficient_parts.hpp"
#include "runnel/demand/containers.hpp"
#include "runnel/garden/zone_task.hpp"
#include "runnel/soil/balance.hpp"
#include "runnel/soil/wetted_share.hpp"

namespace runnel {

// A zone's task is made in parts, each in a file of its own: how the sky reaches it
// (zone_exposure.cpp), what grows there (zone_plants.cpp), what its ground or pots hold
// (zone_ground.cpp), where its water stands and evaporates (zone_surface.cpp), what its valve
// delivers (zone_delivery.cpp, zone_pressure.cpp), and then the whole (zone_task.cpp).

/// The zone, what it is looked at with, and where the figures and doubts that come up are noted.
struct ZoneContext {
  const Garden& garden;
  const Zone& zone;
  const AssumedWeather& weather;
  std::vector<Finding>& findings;
  std::vector<Fact>& facts;

  [[nodiscard]] Eigen::Index days() const { return weather.eto_mm.size(); }
  /// Whether the garden file states the zone's entry, as "containers.leaching".
  [[nodiscard]] bool states(const std::string& key) const;
  [[nodiscard]] bool in_pots() const { return zone.containers.has_value(); }
  [[nodiscard]] std::string shown(Shown kind, double value, int decimals) const {
    return measure(garden.display, kind, value, decimals);
  }
  void fact(std::string what, std::string value, std::string source) const;
  void say(Finding::Kind kind, const Place& at, std::string says, std::string mend) const;
};

/// What is said of a week is said of the first seven days, or of all when there are fewer.
[[nodiscard]] inline auto first_week(const Column& days) {
  return days.head(std::min<Eigen::Index>(7, days.size()));
}

/// The source given for a figure that the garden file states itself.
inline constexpr const char* own_figure = "garden file";

/// How the sky reaches the zone. [days]
struct ZoneExposure {
  Column factor;          ///< zone reference ET over that of open ground, means of the futures
  Column at_open_wind;    ///< the same with open ground's wind; a stated factor is not divided
  Lanes et_mm;            ///< [futures, days] zone reference ET
  double week_factor;     ///< the first week's zone reference ET over that of open ground
  double sky_seen = 1.0;  ///< share of the sky, where it is computed with
};
/// The day as of which hours of sun without a date are taken, in the year of the first day.
[[nodiscard]] Date midsummer(const Garden& garden, Date first_day);
[[nodiscard]] ZoneExposure zone_exposure(const ZoneContext& context);

/// What grows in the zone.
struct ZonePlants {
  Column kc;                    ///< [days] of pots: per canopy area; with `kc_max` and `cover`: Kcb
  Column kc_max = {};           ///< [days] dual coefficient only, else empty
  Column cover = {};            ///< [days] dual coefficient only, else empty
  CoefficientParts parts = {};  ///< what `kc` is made of
  Column root_depth_m;          ///< [days] of a bed
  double p;                     ///< allowable depletion, share of TAW
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
/// @param use_mm of a day without stress, over the canopies.
[[nodiscard]] Ground pots(const ZoneContext& context, double p, const Column& use_mm);
/// Pots with what is taken where their height or canopy is not stated.
[[nodiscard]] Containers pots_of(const ContainersEntry& entry);
/// The factor on the use of pots for how they stand: 1 with a stated coefficient, which holds it.
[[nodiscard]] double pot_place_factor(const ZoneContext& context);

/// How much of a bed's root zone irrigation reaches, and the ground that evaporates beside plants
/// with a dual coefficient. Of pots: all, and nothing.
struct ZoneSurface {
  double wetted_share = 1.0;
  std::optional<SoilSurface> surface = {};  ///< with a dual coefficient only
  double kcb_share = 1.0;                   ///< what a mulch leaves of Kcb
};
[[nodiscard]] ZoneSurface zone_surface(const ZoneContext& context, const ZonePlants& plants);
/// Share of the surface that a watering wets while nothing covers it: FAO-56 Table 20, at most the
/// share of the root zone. Of pots: all.
[[nodiscard]] double bare_ground_wetted(const Zone& zone);
/// What rain alone has left of water by the first day: the state, but for the depletion of the root
/// zone that irrigation reaches. @param factor zone reference ET over that of open ground.
[[nodiscard]] SoilState rain_fed_start(const ZoneContext& context, const Ground& ground,
                                       const ZoneTask& task, double factor);

/// What pressure makes of the flow stated.
struct PressureEffect {
  double flow_factor = 1.0;      ///< mean emitter over the flow stated
  double least_over_mean = 1.0;  ///< q_min / q_mean along a line
};
[[nodiscard]] PressureEffect pressure_effect(const ZoneContext& context, const EmitterType& type);

/// What its valve delivers, with doubts about heads, lines and pressure.
[[nodiscard]] Delivery zone_delivery(const ZoneContext& context, const Ground& ground);

[[nodiscard]] EmitterType emitter_type(const Zone& zone);
/// The grid on which a bed's emitters stand, where that is known: drippers counted only, evenly.
[[nodiscard]] std::optional<EmitterGrid> emitter_grid(const Zone& zone);

}  // namespace runnel

#include <algorithm>
#include <cmath>

#include "runnel/soil/evaporation_layer.hpp"
#include "runnel/soil/mulch.hpp"
#include "runnel/soil/rain.hpp"
#include "runnel/soil/texture.hpp"
#include "runnel/soil/wetted_share.hpp"
#include "runnel/units/number.hpp"
#include "zone_parts.hpp"

namespace runnel {
namespace {

std::string percent(double share) { return fixed(100.0 * share, 0) + " %"; }

/// Water contents to reckon with, and the soil's row of the table.
struct SoilWater {
  SoilTexture texture;
  double fc, wp;
  bool stated;
};
SoilWater soil_water(const SoilEntry& entry) {
  const SoilTexture texture = *find_texture(soil_table(), entry.texture);
  return {.texture = texture,
          .fc = entry.field_capacity.value_or(texture.field_capacity),
          .wp = entry.wilting_point.value_or(texture.wilting_point),
          .stated = entry.field_capacity.has_value()};
}

struct GridOver {
  Area area;
  std::optional<EmitterGrid> operator()(const Dripline& line) const {
    return EmitterGrid{.spacing_m = line.spacing_m, .row_spacing_m = line.row_spacing_m};
  }
  std::optional<EmitterGrid> operator()(const Drippers& drippers) const {
    const double side_m = std::sqrt(area.m2() / drippers.count);
    return EmitterGrid{.spacing_m = side_m, .row_spacing_m = side_m};
  }
  /// Wets a strip without gaps; its turns lie evenly over the bed.
  std::optional<EmitterGrid> operator()(const SoakerHose& hose) const {
    constexpr double no_gap_m = 0.01;
    return EmitterGrid{.spacing_m = no_gap_m, .row_spacing_m = area.m2() / hose.length_m};
  }
  std::optional<EmitterGrid> operator()(const Heads&) const { return std::nullopt; }
  std::optional<EmitterGrid> operator()(const MeasuredFlow&) const { return std::nullopt; }
  std::optional<EmitterGrid> operator()(const MeasuredRate&) const { return std::nullopt; }
};

/// As stated, else from where the emitters stand; nothing where that is not known.
std::optional<double> known_root_zone_share(const Zone& zone, const EmitterType& type, double fc) {
  if (zone.emitters.wetted_share) return zone.emitters.wetted_share;
  if (!type.drip) return 1.0;
  const auto grid = emitter_grid(zone);
  if (!grid) return std::nullopt;
  return wetted_share(wetted_diameter(wetted_diameter_table(), fc).diameter_m, *grid);
}

double root_zone_share(const ZoneContext& context, const EmitterType& type, double fc) {
  const EmittersEntry& emitters = context.zone.emitters;
  const char* const what = "root zone wetted";
  const std::optional<double> known = known_root_zone_share(context.zone, type, fc);
  if (emitters.wetted_share) {
    context.fact(what, percent(*known), own_figure);
    return *known;
  }
  if (!type.drip) {
    context.fact(what, percent(1.0), emitters.type + ": falls on all of the ground");
    return 1.0;
  }
  if (!known) {
    context.fact(what, percent(1.0), "spacing of the emitters not known: all of it");
    context.say(Finding::Kind::remark, emitters.at,
                "spacing of the emitters is not known: all of the root zone is taken to be wetted",
                "if dry ground is left between them, write wetted: 60 %");
    return 1.0;
  }
  const WettedDiameterTable table = wetted_diameter_table();
  const WettedDiameter& ground = wetted_diameter(table, fc);
  const auto grid = emitter_grid(context.zone);
  const double share = *known;
  const bool counted = std::holds_alternative<Drippers>(emitters.spec);
  context.fact(what, percent(share),
               (counted ? "spread evenly, " : "") +
                   number(context.garden.display, Shown::size, grid->spacing_m, 0) + " x " +
                   context.shown(Shown::size, grid->row_spacing_m, 0) + ", each " +
                   context.shown(Shown::height, ground.diameter_m, 2) +
                   " across: " + ground.source);
  // Utah State University Extension, Drip Irrigation for Trees: at least 50 % of the root area.
  constexpr double advised = 0.5;
  if (share < advised)
    context.say(Finding::Kind::doubt, emitters.at,
                "the emitters reach about " + percent(share) +
                    " of the root zone; at least half is advised",
                "more emitters or closer ones; or, if you know better, write wetted: 60 %");
  return share;
}

/// Evaporable water of the top 0.10 m. Of measured water contents by Eq. 73, REW in the table's
/// proportion (our choice).
void take_evaporable_water(const SoilWater& water, SoilSurface& surface) {
  constexpr double layer_m = 0.10;  // the depth that Table 19 is for
  surface.rew_mm = water.texture.rew_mm;
  surface.tew_mm = water.texture.tew_mm;
  if (!water.stated) return;
  surface.tew_mm = total_evaporable_water_mm(water.fc, water.wp, layer_m);
  surface.rew_mm *= surface.tew_mm / water.texture.tew_mm;
}

constexpr double least_wetted = 0.01;  // FAO-56 Eq. 75

/// Table 20; of drip under a canopy 1 - 2/3 of the cover (chapter 7). Water spreads below the
/// surface, so that no more of it is wet than of the root zone (our choice).
double wetted_surface(const ZoneContext& context, const EmitterType& type, double cover,
                      double wetted_share) {
  if (!type.drip) {
    context.fact("surface wetted, fw", percent(type.fw), type.name + ": " + type.source);
    return type.fw;
  }
  const double fw =
      std::max(least_wetted, std::min(type.fw * (1.0 - 2.0 / 3.0 * cover), wetted_share));
  context.fact("surface wetted, fw", percent(fw),
               percent(type.fw) + " (Table 20) x (1 - 2/3 cover), FAO-56 chapter 7; at most the " +
                   "share of the root zone");
  return fw;
}

SoilSurface evaporating_surface(const ZoneContext& context, const ZonePlants& plants,
                                const EmitterType& type, const SoilWater& water,
                                double wetted_share) {
  SoilSurface surface{.rew_mm = 0.0, .tew_mm = 0.0, .fw = 1.0};
  take_evaporable_water(water, surface);
  context.fact("evaporable REW, TEW",
               number(context.garden.display, Shown::depth, surface.rew_mm, 1) + ", " +
                   context.shown(Shown::depth, surface.tew_mm, 1),
               water.stated ? "FAO-56 Eq. 73, 0.10 m" : "FAO-56 Table 19");
  surface.fw = wetted_surface(context, type, first_week(plants.cover).mean(), wetted_share);
  return surface;
}

void take_mulch(const ZoneContext& context, ZoneSurface& zone) {
  const SoilEntry& soil = *context.zone.soil;
  if (soil.mulch.empty()) return;
  const Mulch mulch = *find_mulch(mulch_table(), soil.mulch);
  if (!zone.surface) {
    context.say(Finding::Kind::remark, soil.at,
                "the " + mulch.name +
                    " is not reckoned with: the coefficient of these plants has evaporation in it",
                "they may need a little less than planned");
    return;
  }
  zone.surface->evaporation_share = evaporation_share(mulch, soil.mulch_cover);
  zone.kcb_share = kcb_share(mulch, soil.mulch_cover);
  context.fact("evaporation under " + mulch.name, percent(zone.surface->evaporation_share),
               "on " + percent(soil.mulch_cover) + " of the ground: " + mulch.source);
  if (zone.kcb_share < 1.0)
    context.fact("Kcb under " + mulch.name, percent(zone.kcb_share), mulch.source);
}

}  // namespace

std::optional<EmitterGrid> emitter_grid(const Zone& zone) {
  return std::visit(GridOver{*zone.area}, zone.emitters.spec);
}

double bare_ground_wetted(const Zone& zone) {
  if (zone.containers) return 1.0;
  const EmitterType type = emitter_type(zone);
  const double root_zone =
      known_root_zone_share(zone, type, soil_water(*zone.soil).fc).value_or(1.0);
  return std::max(least_wetted, std::min(type.fw, root_zone));
}

ZoneSurface zone_surface(const ZoneContext& context, const ZonePlants& plants) {
  ZoneSurface zone;
  if (context.in_pots()) return zone;
  const EmitterType type = emitter_type(context.zone);
  const SoilWater water = soil_water(*context.zone.soil);
  zone.wetted_share = root_zone_share(context, type, water.fc);
  if (plants.kc_max.size() > 0)
    zone.surface = evaporating_surface(context, plants, type, water, zone.wetted_share);
  take_mulch(context, zone);
  return zone;
}

SoilState rain_fed_start(const ZoneContext& context, const Ground& ground, const ZoneTask& task,
                         double factor) {
  const bool dry_part = task.root_zone.wetted_share < 1.0;
  const bool dual = task.model.kc_max.size() > 0;
  SoilState state{.depletion_mm = 0.0};
  if (!dry_part && !dual) return state;

  const Column& eto_mm = context.weather.eto_before_mm;
  const Eigen::Index days = eto_mm.size();
  // Not watered at all, from half-way: ground beside the emitters.
  RootZone rain_fed = task.root_zone;
  rain_fed.wetted_share = 1.0;
  const double taw_mm = task.model.taw_mm[0];
  state = {.depletion_mm = 0.0, .dry_mm = 0.5 * taw_mm};
  if (dual) state.surface_mm = task.root_zone.surface->tew_mm;
  if (days > 0) {
    ZoneModel model{.kc = Column::Constant(days, task.model.kc[0]),
                    .taw_mm = Column::Constant(days, taw_mm)};
    if (dual) {
      model.kc_max = Column::Constant(days, task.model.kc_max[0]);
      model.cover = Column::Constant(days, task.model.cover[0]);
    }
    const Lanes open_mm = eto_mm.transpose();
    const Horizon horizon{.et_mm = factor * open_mm,
                          .rain_mm = rain_on_zone(context.weather.rain_before_mm.transpose(),
                                                  open_mm, ground.rain_share, ground.curve_number)
                                         .entering_mm};
    const BalanceTrace past =
        trace(rain_fed, {.depletion_mm = state.dry_mm, .surface_mm = state.surface_mm}, model,
              horizon, Waterings{}, 0);
    state.dry_mm = past.end_mm[days - 1];
    if (dual) state.surface_mm = past.surface_end_mm[days - 1];
  }
  const std::string since = days > 0 ? "rain of the last " + std::to_string(days) + " days alone"
                                     : "not known: half of TAW";
  if (dry_part)
    context.fact("dry part, depletion", context.shown(Shown::depth, state.dry_mm, 1), since);
  if (!dual) return state;
  // Drier than REW only where nothing has been watered: between two waterings that is the middle.
  const SoilSurface& surface = *task.root_zone.surface;
  const bool rained = state.surface_mm < surface.rew_mm;
  state.surface_mm = std::min(state.surface_mm, surface.rew_mm);
  state.surface_fw = rained ? 1.0 : surface.fw;
  context.fact("surface depletion De", context.shown(Shown::depth, state.surface_mm, 1),
               rained ? since : "not known: REW, half-way between waterings");
  return state;
}

}  // namespace runnel

#include <algorithm>

#include "runnel/schedule/candidates.hpp"
#include "runnel/soil/mulch.hpp"
#include "runnel/soil/texture.hpp"
#include "runnel/units/number.hpp"
#include "uncertain_inputs.hpp"

namespace runnel {
namespace {

/// A texture's available water as published, and as far as what is taken.
struct Available {
  double taken, low, high;
};
Available available(const SoilTexture& texture) {
  const double taken = texture.field_capacity - texture.wilting_point;
  return {.taken = taken,
          .low = std::min(taken, texture.available_low),
          .high = std::max(taken, texture.available_high)};
}

/// A layer holds least at the low end, most at the high one.
void hold(SoilLayerEntry& layer, const SoilTable& soils, bool most) {
  if (layer.field_capacity) return;
  constexpr double least_wilting_point = 0.01;
  const SoilTexture& texture = *find_texture(soils, layer.texture);
  const Available share = available(texture);
  layer.field_capacity = texture.field_capacity;
  layer.wilting_point =
      std::max(least_wilting_point, texture.field_capacity - (most ? share.high : share.low));
}

/// All layers of which nothing is measured together.
void add_texture(const UncertainZone& of) {
  const SoilEntry& soil = *of.zone().soil;
  const bool measured =
      std::all_of(soil.layers.begin(), soil.layers.end(),
                  [](const SoilLayerEntry& layer) { return layer.field_capacity.has_value(); });
  if (soil.layers.empty() ? soil.field_capacity.has_value() : measured) return;
  const SoilTable soils = soil_table();
  const Available top = available(*find_texture(soils, soil.texture));
  const auto put = [index = of.index()](bool most) {
    return [=](Garden& garden) {
      const SoilTable table = soil_table();
      SoilEntry& changed = *garden.zones[index].soil;
      hold(changed, table, most);
      for (SoilLayerEntry& layer : changed.layers) hold(layer, table, most);
    };
  };
  const auto text = [](double share) { return fixed(100.0 * share, 1) + " %"; };
  of.add({.row = &doubt_row("texture"),
          .zone = of.index(),
          .taken = text(top.taken),
          .low = text(top.low),
          .high = text(top.high),
          .put_low = put(false),
          .put_high = put(true)});
}

/// What a mulch saves goes with the ground it covers.
void add_mulch(const UncertainZone& of) {
  const SoilEntry& soil = *of.zone().soil;
  if (soil.mulch.empty() || !of.prepared().task.root_zone.surface) return;
  const MulchTable mulches = mulch_table();
  const Mulch& mulch = *find_mulch(mulches, soil.mulch);
  of.add(
      "mulch", mulch.saves * soil.mulch_cover, mulch.saves_low * soil.mulch_cover,
      mulch.saves_high * soil.mulch_cover, in_percent,
      [saves = mulch.saves](Zone& zone, double saved) { zone.soil->mulch_cover = saved / saves; });
}

void add_depletion(const UncertainZone& of) {
  if (!of.prepared().start_assumed) return;
  const ZoneTask& task = of.prepared().task;
  of.add("depletion", task.start.depletion_mm, 0.0, mean_limit_mm(task),
         of.shown_as(Shown::depth, 1),
         [](Zone& zone, double depth_mm) { zone.depletion_mm = depth_mm; });
}

}  // namespace

void add_uncertain_ground(const UncertainZone& of) {
  if (!of.in_pots()) {
    add_texture(of);
    if (!of.states("soil.slope"))
      of.add("slope", 0.0, in_percent,
             [](Zone& zone, double share) { zone.soil->slope_pct = 100.0 * share; });
    add_mulch(of);
  }
  if (!of.states("rain reaches"))
    of.add("rain reaches", of.zone().rain_reaches, in_percent,
           [](Zone& zone, double share) { zone.rain_reaches = share; });
  add_depletion(of);
}

}  // namespace runnel

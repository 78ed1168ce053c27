#include <algorithm>

#include "runnel/schedule/candidates.hpp"
#include "runnel/soil/mulch.hpp"
#include "runnel/soil/texture.hpp"
#include "runnel/units/number.hpp"
#include "uncertain_inputs.hpp"

namespace runnel {
namespace {

/// A layer holds least at the low end of its texture's available water, most at the high end.
void hold(SoilLayerEntry& layer, const SoilTable& soils, bool most) {
  if (layer.field_capacity) return;
  constexpr double least_wilting_point = 0.01;
  const SoilTexture& texture = *find_texture(soils, layer.texture);
  layer.field_capacity = texture.field_capacity;
  layer.wilting_point =
      std::max(least_wilting_point,
               texture.field_capacity - (most ? texture.available_high : texture.available_low));
}

/// All layers of which nothing is measured together.
void add_texture(const UncertainZone& of) {
  const SoilEntry& soil = *of.zone().soil;
  const bool measured =
      std::all_of(soil.layers.begin(), soil.layers.end(),
                  [](const SoilLayerEntry& layer) { return layer.field_capacity.has_value(); });
  if (soil.layers.empty() ? soil.field_capacity.has_value() : measured) return;
  const SoilTable soils = soil_table();
  const SoilTexture& top = *find_texture(soils, soil.texture);
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
          .taken = text(top.field_capacity - top.wilting_point),
          .low = text(top.available_low),
          .high = text(top.available_high),
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
  of.add(
      "depletion", task.start.depletion_mm, 0.0, mean_limit_mm(task),
      [](double depth_mm) { return fixed(depth_mm, 1) + " mm"; },
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

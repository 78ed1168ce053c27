#include <cmath>
#include <utility>
#include <variant>

#include "runnel/delivery/emitters.hpp"
#include "runnel/soil/texture.hpp"
#include "runnel/soil/wetted_share.hpp"
#include "runnel/units/number.hpp"
#include "uncertain_inputs.hpp"
#include "zone_parts.hpp"

namespace runnel {
namespace {

struct TimesFlow {
  double factor;
  void operator()(Drippers& drippers) const { drippers.each = factor * drippers.each; }
  void operator()(Dripline& line) const { line.each = factor * line.each; }
  void operator()(SoakerHose& hose) const { hose.per_metre = factor * hose.per_metre; }
  void operator()(Heads& heads) const {
    for (Head& head : heads.heads) head.each = factor * head.each;
  }
  void operator()(MeasuredFlow&) const {}
  void operator()(MeasuredRate&) const {}
};

/// The entry that states the flow, and its figure where there is one.
struct StatedFlow {
  std::string input;
  std::optional<Flow> each;
};
struct FlowStated {
  StatedFlow operator()(const Drippers& drippers) const { return {"emitters.flow", drippers.each}; }
  StatedFlow operator()(const Dripline& line) const { return {"emitters.flow", line.each}; }
  StatedFlow operator()(const SoakerHose& hose) const {
    return {"emitters.flow per metre", hose.per_metre};
  }
  StatedFlow operator()(const Heads&) const { return {"emitters.heads", std::nullopt}; }
  StatedFlow operator()(const MeasuredFlow&) const { return {}; }
  StatedFlow operator()(const MeasuredRate&) const { return {}; }
};

/// Whether what pressure makes of the flow is reckoned, or nothing.
bool pressure_is_known(const Garden& garden, const EmittersEntry& emitters) {
  const bool inlet = emitters.pressure_kpa || garden.supply_pressure_kpa;
  return emitters.compensating || (emitters.rated_kpa && inlet);
}

/// A flow on a label is not one that was measured.
void add_flow(const UncertainZone& of, bool drip) {
  const EmittersEntry& emitters = of.zone().emitters;
  if (!is_rated(emitters.spec)) return;
  const StatedFlow stated = std::visit(FlowStated{}, emitters.spec);
  const DoubtRow& row = doubt_row(pressure_is_known(of.garden(), emitters)
                                      ? "flow under known pressure"
                                      : (drip ? "flow of drip" : "flow of heads"));
  const auto text = [&](double factor) {
    return stated.each ? measure(of.garden().display, Shown::emitter_flow,
                                 factor * stated.each->litres_per_hour(), 2)
                       : in_percent(factor);
  };
  const auto put = [index = of.index()](double factor) {
    return
        [=](Garden& garden) { std::visit(TimesFlow{factor}, garden.zones[index].emitters.spec); };
  };
  of.add({.row = &row,
          .zone = of.index(),
          .taken = text(1.0),
          .low = text(row.low.value()),
          .high = text(row.high.value()),
          .put_low = put(row.low.value()),
          .put_high = put(row.high.value()),
          .input = stated.input});
}

/// How much of a bed's root zone drip reaches.
void add_wetted(const UncertainZone& of) {
  if (of.in_pots() || of.zone().emitters.wetted_share) return;
  const auto put = [](Zone& zone, double share) { zone.emitters.wetted_share = share; };
  const double taken = of.prepared().task.root_zone.wetted_share;
  const auto grid = emitter_grid(of.zone());
  if (!grid) return of.add("wetted", taken, in_percent, put);
  const SoilEntry& soil = *of.zone().soil;
  const double fc =
      soil.field_capacity.value_or(find_texture(soil_table(), soil.texture)->field_capacity);
  const WettedDiameterTable table = wetted_diameter_table();
  const WettedDiameter& ground = wetted_diameter(table, fc);
  of.add("wetted", taken, wetted_share(ground.low_m, *grid), wetted_share(ground.high_m, *grid),
         in_percent, put);
}

}  // namespace

void add_uncertain_delivery(const UncertainZone& of) {
  const EmitterType type = emitter_type(of.zone());
  if (!of.zone().emitters.uniformity) {
    // The multiplier is 1 / (0.4 + 0.6 DU), or 1 / DU.
    const double multiplier = of.prepared().task.delivery.multiplier;
    const double taken = of.zone().emitters.enough_for == EnoughFor::driest_quarter
                             ? 1.0 / multiplier
                             : (1.0 / multiplier - 0.4) / 0.6;
    of.add("uniformity", taken, type.du_low, type.du_high, in_percent,
           [](Zone& zone, double du) { zone.emitters.uniformity = du; });
  }
  add_flow(of, type.drip);
  if (type.drip) add_wetted(of);
}

}  // namespace runnel

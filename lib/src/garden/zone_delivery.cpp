#include <algorithm>
#include <string>
#include <variant>

#include "runnel/delivery/emitters.hpp"
#include "runnel/delivery/heads.hpp"
#include "runnel/delivery/uniformity.hpp"
#include "runnel/units/number.hpp"
#include "zone_parts.hpp"

namespace runnel {
namespace {

// Between heads of one zone: common practice, no source.
constexpr double most_rate_ratio = 1.10;
// How far beyond the usual rates of its type a zone may lie before a unit or digit is doubted: no
// source.
constexpr double far_beyond = 2.0;

struct Uniformity {
  double du;
  std::string source;
};

Uniformity uniformity(const EmittersEntry& entry, const EmitterType& type,
                      const PressureEffect& pressure) {
  if (entry.uniformity) return {.du = *entry.uniformity, .source = own_figure};
  // As little as a garden file may state; such a line is doubted anyway.
  constexpr double least_du = 0.1;
  if (entry.variation)
    return {.du = std::max(least_du,
                           emission_uniformity({.manufacturing_variation = *entry.variation,
                                                .emitters_per_plant = entry.per_plant,
                                                .least_over_mean = pressure.least_over_mean})),
            .source =
                "(1 - 1.27 Cv / sqrt(n)) least / mean flow, Keller & Karmeli 1974 (from "
                "memory)"};
  return {.du = type.du, .source = entry.type + ": " + type.source};
}

void judge_heads(const ZoneContext& context, const Heads& heads, const Delivery& delivery) {
  const RateSpread spread = rate_spread(heads.heads);
  const double rate_mm_h = delivery.rate().mm_per_hour();
  context.fact("rates of its heads",
               number(context.garden.display, Shown::rate, spread.lowest * rate_mm_h, 1) + " to " +
                   context.shown(Shown::rate, spread.highest * rate_mm_h, 1),
               "flow / arc of each, Irrigation Association");
  if (spread.ratio() > most_rate_ratio)
    context.say(
        Finding::Kind::doubt, context.zone.emitters.at,
        "its heads of " + fixed(spread.highest_arc_deg, 0) + " degrees bring " +
            fixed(spread.ratio(), 1) + " times as much as those of " +
            fixed(spread.lowest_arc_deg, 0) + " (" +
            number(context.garden.display, Shown::rate, spread.highest * rate_mm_h, 1) + " and " +
            context.shown(Shown::rate, spread.lowest * rate_mm_h, 1) + ")",
        "fit nozzles whose flow goes with the arc, 90, 180, 270, 360 degrees as 1, 2, 3, 4; "
        "or give unlike heads valves of their own");
  const auto reach = reached(heads.heads);
  if (reach && *reach < delivery.area)
    context.say(Finding::Kind::doubt, context.zone.emitters.at,
                "its heads reach at most " +
                    number(context.garden.display, Shown::area, reach->m2(), 0) + " of its " +
                    context.shown(Shown::area, delivery.area.m2(), 0) + ": some of it stays dry",
                "check radius, arc and area, or add heads");
}

void judge_rate(const ZoneContext& context, const EmitterType& type, const Delivery& delivery) {
  const double rate_mm_h = delivery.rate().mm_per_hour();
  if (rate_mm_h * far_beyond >= type.rate_low_mm_h && rate_mm_h <= type.rate_high_mm_h * far_beyond)
    return;
  context.say(Finding::Kind::doubt, context.zone.emitters.at,
              "brings " + context.shown(Shown::rate, rate_mm_h, 1) + ", where " +
                  number(context.garden.display, Shown::rate, type.rate_low_mm_h, 1) + " to " +
                  number(context.garden.display, Shown::rate, type.rate_high_mm_h, 1) +
                  " is usual for " + type.name,
              "check flow, number, spacing and area, and their units; or measure: runnel audit");
}

}  // namespace

Delivery zone_delivery(const ZoneContext& context, const Ground& ground) {
  const EmittersEntry& emitters = context.zone.emitters;
  const EmitterType type = emitter_type(context.zone);
  const PressureEffect pressure = pressure_effect(context, type);
  const Uniformity even = uniformity(emitters, type, pressure);
  const Delivery delivery{.flow = zone_flow(emitters.spec, ground.area) * pressure.flow_factor,
                          .area = ground.area,
                          .multiplier = run_time_multiplier(even.du, emitters.enough_for),
                          .leaching_share = ground.leaching_share};
  context.fact("flow", context.shown(Shown::emitter_flow, delivery.flow.litres_per_hour(), 0),
               "emitters of the garden file");
  context.fact("application rate", context.shown(Shown::rate, delivery.rate().mm_per_hour(), 1),
               "flow / " + context.shown(Shown::area, ground.area.m2(), 2));
  context.fact("uniformity DU", fixed(even.du, 2), even.source);
  context.fact("run-time multiplier", fixed(delivery.multiplier, 3),
               emitters.enough_for == EnoughFor::driest_quarter
                   ? "1 / DU: enough for the driest quarter"
                   : "1 / (0.4 + 0.6 DU), Irrigation Association 2005");
  if (ground.leaching_share > 0.0)
    context.fact("leaching share", fixed(ground.leaching_share, 2),
                 context.states("containers.leaching") ? own_figure : "not stated: 10 % taken");
  if (const auto* heads = std::get_if<Heads>(&emitters.spec))
    judge_heads(context, *heads, delivery);
  judge_rate(context, type, delivery);
  return delivery;
}

}  // namespace runnel

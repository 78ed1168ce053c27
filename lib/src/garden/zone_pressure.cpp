#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <variant>

#include "runnel/delivery/emitter_flow.hpp"
#include "runnel/delivery/emitters.hpp"
#include "runnel/delivery/lateral.hpp"
#include "runnel/units/number.hpp"
#include "zone_parts.hpp"

namespace runnel {
namespace {

// Drip systems work at 10-30 psi. Utah State University Extension, Drip Irrigation for Trees.
constexpr double least_drip_kpa = 68.9;
constexpr double most_drip_kpa = 206.8;

constexpr const char* pressure_caution =
    "; shut off and bleed a line before opening it, and have the backflow preventer that the local "
    "code asks for on drinking water";

std::string percent(double share) { return fixed(100.0 * share, 0) + " %"; }

/// The zone's emitters against the pressure they get.
class UnderPressure {
 public:
  UnderPressure(const ZoneContext& context, const EmitterType& type)
      : context_(context), entry_(context.zone.emitters), type_(type) {
    inlet_kpa_ = entry_.pressure_kpa ? entry_.pressure_kpa : context.garden.supply_pressure_kpa;
  }

  [[nodiscard]] PressureEffect effect() const {
    if (!is_rated(entry_.spec)) return {};
    judge_inlet();
    if (entry_.line) return along_line();
    if (!inlet_kpa_ || !entry_.rated_kpa || entry_.compensating) return {};
    const double factor = std::pow(*inlet_kpa_ / *entry_.rated_kpa, exponent());
    context_.fact("flow at " + pressure(*inlet_kpa_),
                  fixed(factor, 3) + " of that at " + pressure(*entry_.rated_kpa),
                  "q = k P^x, x " + fixed(exponent(), 1) + ", Keller & Karmeli 1974 (from memory)");
    return {.flow_factor = factor};
  }

 private:
  [[nodiscard]] std::string pressure(double kpa) const {
    return context_.shown(Shown::pressure, kpa, 1);
  }
  /// "1.92 to 2.10 L/h".
  [[nodiscard]] std::string range(const LateralFlow& flow) const {
    return number(context_.garden.display, Shown::emitter_flow, flow.least.litres_per_hour(), 2) +
           " to " + context_.shown(Shown::emitter_flow, flow.most.litres_per_hour(), 2);
  }

  [[nodiscard]] double exponent() const {
    if (entry_.compensating) return compensating_exponent;
    return std::holds_alternative<SoakerHose>(entry_.spec) ? laminar_exponent : turbulent_exponent;
  }

  /// The pressure where the water enters the zone.
  void judge_inlet() const {
    if (!inlet_kpa_) return;
    if (type_.drip && !entry_.compensating && *inlet_kpa_ > most_drip_kpa) {
      const bool looked_at = entry_.pressure_kpa || entry_.rated_kpa || entry_.line;
      context_.say(looked_at ? Finding::Kind::doubt : Finding::Kind::remark, entry_.at,
                   pressure(*inlet_kpa_) + " is more than the " + pressure(least_drip_kpa) +
                       " to " + pressure(most_drip_kpa) + " drip works at" +
                       (looked_at ? "" : ": the flow stated is taken to be what comes out"),
                   std::string("fit a pressure reducer and write pressure: " + pressure(150.0) +
                               ", or pressure "
                               "compensating: yes if the emitters are") +
                       pressure_caution);
    }
    if (!type_.drip && !entry_.compensating && entry_.rated_kpa && *inlet_kpa_ < *entry_.rated_kpa)
      context_.say(Finding::Kind::doubt, entry_.at,
                   "the heads are rated at " + pressure(*entry_.rated_kpa) + " and get " +
                       pressure(*inlet_kpa_) + ": they reach less far than meant",
                   std::string("open fewer heads at a time, or fit nozzles for less pressure") +
                       pressure_caution);
  }

  [[nodiscard]] Lateral lateral() const {
    const LineEntry& line = *entry_.line;
    Lateral lateral{.emitter = {.rated = Flow::litres_per_hour(1.0),
                                .rated_kpa = entry_.rated_kpa.value_or(*inlet_kpa_),
                                .exponent = exponent()},
                    .emitters = 1,
                    .spacing_m = line.length_m,
                    .inside_diameter_m = line.inside_diameter_m,
                    .roughness_c = line.roughness_c,
                    .rise_m = line.rise_m};
    if (const auto* dripline = std::get_if<Dripline>(&entry_.spec)) {
      lateral.emitter.rated = dripline->each;
      lateral.spacing_m = dripline->spacing_m;
      lateral.emitters =
          std::max(1, static_cast<int>(std::lround(line.length_m / dripline->spacing_m)));
    } else if (const auto* drippers = std::get_if<Drippers>(&entry_.spec)) {
      lateral.emitter.rated = drippers->each;
      lateral.emitters = (drippers->count + line.lines - 1) / line.lines;
      lateral.spacing_m = line.length_m / lateral.emitters;
    } else if (const auto* hose = std::get_if<SoakerHose>(&entry_.spec)) {
      constexpr int pieces = 100;  // a hose lets water out everywhere: as good as
      lateral.emitters = pieces;
      lateral.spacing_m = line.length_m / pieces;
      lateral.emitter.rated = hose->per_metre * lateral.spacing_m;
    }
    return lateral;
  }

  [[nodiscard]] PressureEffect along_line() const {
    if (!inlet_kpa_) {
      context_.say(Finding::Kind::doubt, entry_.line->at,
                   "the line cannot be judged: no pressure is stated",
                   "write supply: {pressure: " + pressure(280.0) +
                       "}, or pressure: " + pressure(150.0) + " beside the line");
      return {};
    }
    const Lateral line = lateral();
    const LateralFlow flow = lateral_flow(line, *inlet_kpa_);
    if (!flow.fed) {
      context_.say(
          Finding::Kind::doubt, entry_.line->at,
          "with " + pressure(*inlet_kpa_) + " at its inlet the line runs dry before its end",
          mend(line) + pressure_caution);
      return {};
    }
    context_.fact("line: pressure",
                  pressure(*inlet_kpa_) + " in, " + pressure(flow.last_kpa) + " at its end",
                  "Hazen-Williams, C " + fixed(line.roughness_c, 0) + ", emitter by emitter");
    context_.fact("line: one emitter", range(flow),
                  "q = k P^x, x " + fixed(exponent(), 1) + ", Keller & Karmeli 1974 (from memory)");
    judge(line, flow);
    const double mean_l_h = flow.total.litres_per_hour() / line.emitters;
    return {.flow_factor = mean_l_h / line.emitter.rated.litres_per_hour(),
            .least_over_mean = std::min(1.0, flow.least.litres_per_hour() / mean_l_h)};
  }

  void judge(const Lateral& line, const LateralFlow& flow) const {
    const double line_limit = entry_.line->most_variation;
    if (flow.variation() > line_limit) {
      context_.say(Finding::Kind::doubt, entry_.line->at,
                   "along the line the emitters give " + range(flow) + ", " +
                       percent(flow.variation()) + " apart (" + percent(line_limit) +
                       " is the most)",
                   mend(line) + pressure_caution);
    } else if (entry_.compensating && flow.least_kpa < least_drip_kpa) {
      context_.say(Finding::Kind::doubt, entry_.line->at,
                   "the pressure falls to " + pressure(flow.least_kpa) +
                       " along the line, too little for compensating emitters (" +
                       pressure(least_drip_kpa) + ")",
                   mend(line) + pressure_caution);
    }
  }

  [[nodiscard]] LateralLimit limit() const {
    return {.most_variation = entry_.line->most_variation,
            .least_kpa = entry_.compensating ? least_drip_kpa : 0.0};
  }
  [[nodiscard]] bool keeps(const Lateral& line) const {
    const LateralFlow flow = lateral_flow(line, *inlet_kpa_);
    return flow.fed && flow.variation() <= limit().most_variation &&
           flow.least_kpa >= limit().least_kpa;
  }

  /// What would bring the line within the limit: a shorter run, two halves, a larger bore.
  [[nodiscard]] std::string mend(const Lateral& line) const {
    const int most = most_emitters(line, *inlet_kpa_, limit());
    std::string text = most > 0 ? "lines of at most " +
                                      context_.shown(Shown::height, most * line.spacing_m, 1) +
                                      " are fed evenly"
                                : "more pressure at the inlet, or a line that rises less";
    Lateral half = line;
    half.emitters = (line.emitters + 1) / 2;
    half.rise_m = line.rise_m / 2.0;
    if (keeps(half)) text += "; or feed this one from its middle";
    if (const double bore_m = least_bore_m(line); bore_m > 0.0)
      text += "; or a pipe of " + context_.shown(Shown::bore, bore_m, 1) + " inside";
    return text;
  }

  /// Smallest inside diameter that keeps the limit, to 0.1 mm, up to four times the line's; 0 when
  /// friction is not what is wrong.
  [[nodiscard]] double least_bore_m(const Lateral& line) const {
    Lateral other = line;
    double low_m = line.inside_diameter_m;
    double high_m = 4.0 * low_m;
    other.inside_diameter_m = high_m;
    if (!keeps(other)) return 0.0;
    constexpr double tenth_mm = 1e-4;
    while (high_m - low_m > 0.1 * tenth_mm) {
      other.inside_diameter_m = 0.5 * (low_m + high_m);
      (keeps(other) ? high_m : low_m) = other.inside_diameter_m;
    }
    return std::ceil(high_m / tenth_mm) * tenth_mm;
  }

  const ZoneContext& context_;
  const EmittersEntry& entry_;
  const EmitterType& type_;
  std::optional<double> inlet_kpa_;
};

}  // namespace

PressureEffect pressure_effect(const ZoneContext& context, const EmitterType& type) {
  return UnderPressure(context, type).effect();
}

}  // namespace runnel

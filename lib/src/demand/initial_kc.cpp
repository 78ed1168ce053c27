#include "runnel/demand/initial_kc.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace runnel {
namespace {

constexpr double wet_soil_kc = 1.15;  // Eso = 1.15 ETo, FAO-56 Annex 7
constexpr double light_mm = 10.0, heavy_mm = 40.0;

}  // namespace

WettedLayer lightly_wetted(double eto_mm_d) {
  return {.tew_mm = 10.0, .rew_mm = std::min(std::max(2.5, 6.0 / std::sqrt(eto_mm_d)), 7.0)};
}

WettedLayer heavily_wetted(double eto_mm_d, WettedSoil soil) {
  const bool coarse = soil == WettedSoil::coarse;
  const double tew = std::min(coarse ? 15.0 : 28.0, (coarse ? 7.0 : 13.0) * std::sqrt(eto_mm_d));
  return {.tew_mm = tew, .rew_mm = std::min(coarse ? 6.0 : 9.0, tew - 0.01)};
}

double first_stage_days(double rew_mm, double eto_mm_d) {
  return rew_mm / (wet_soil_kc * eto_mm_d);
}

double initial_kc(const WettedLayer& layer, double eto_mm_d, double interval_days) {
  const double eso = wet_soil_kc * eto_mm_d;
  const double t1 = first_stage_days(layer.rew_mm, eto_mm_d);
  if (interval_days <= t1)
    return wet_soil_kc;  // Eq. 7-4: wetted again before evaporation slows down
  const double second_stage = layer.tew_mm - layer.rew_mm;
  const double decay =
      -(interval_days - t1) * eso * (1.0 + layer.rew_mm / second_stage) / layer.tew_mm;
  const double evaporated_mm = layer.tew_mm - second_stage * std::exp(decay);
  return std::min(evaporated_mm / (interval_days * eto_mm_d), wet_soil_kc);
}

double interpolated_initial_kc(double wetting_mm, double kc_light, double kc_heavy) {
  const double along = std::clamp((wetting_mm - light_mm) / (heavy_mm - light_mm), 0.0, 1.0);
  return kc_light + along * (kc_heavy - kc_light);
}

double initial_kc(double eto_mm_d, double interval_days, double wetting_mm, WettedSoil soil) {
  if (!(eto_mm_d > 0.0 && interval_days > 0.0 && wetting_mm > 0.0)) {
    throw std::invalid_argument("initial_kc: ETo, interval and depth must be above 0");
  }
  return interpolated_initial_kc(
      wetting_mm, initial_kc(lightly_wetted(eto_mm_d), eto_mm_d, interval_days),
      initial_kc(heavily_wetted(eto_mm_d, soil), eto_mm_d, interval_days));
}

double partly_wetted_initial_kc(double eto_mm_d, double interval_days, double wetting_mm,
                                WettedSoil soil, double fw) {
  if (!(fw > 0.0 && fw <= 1.0))
    throw std::invalid_argument("partly_wetted_initial_kc: the share wetted must be 0 to 1");
  return fw * initial_kc(eto_mm_d, interval_days, wetting_mm / fw, soil);
}

double wettings(double rain_mm, double each_mm) { return rain_mm / each_mm; }

double interval_days(double period_days, double wettings) { return period_days / wettings; }

}  // namespace runnel

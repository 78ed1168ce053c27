#include <algorithm>

#include "runnel/reference_et/inputs.hpp"
#include "runnel/units/number.hpp"
#include "uncertain_inputs.hpp"

namespace runnel {
namespace {

/// Whether those days go by a figure that was measured at the site.
bool fitted(const AssumedWeather& weather, bool FittedEstimates::*what) {
  return std::any_of(weather.stretches.begin(), weather.stretches.end(),
                     [what](const DailyWeather& stretch) { return stretch.fitted.*what; });
}

/// Whether the weather planned with has days whose wind was measured.
bool has_wind(const AssumedWeather& weather) {
  return std::any_of(
      weather.stretches.begin(), weather.stretches.end(), [](const DailyWeather& stretch) {
        return stretch.inputs &&
               std::any_of(stretch.estimated.begin(), stretch.estimated.end(),
                           [](Estimates day) { return !has(day, Estimate::wind_assumed); });
      });
}

class InputsOfSite {
 public:
  [[nodiscard]] std::vector<UncertainInput> take() { return std::move(inputs_); }

  template <class Value, class Text, class Put>
  void add(std::string_view doubt, const std::string& taken, Value low, Value high,
           const Text& text, Put put) {
    const auto put_in = [put](Value value) { return [=](Garden& garden) { put(garden, value); }; };
    inputs_.push_back({.row = &doubt_row(doubt),
                       .zone = std::nullopt,
                       .taken = taken,
                       .low = text(low),
                       .high = text(high),
                       .put_low = put_in(low),
                       .put_high = put_in(high)});
  }
  /// With the range of the row.
  template <class Text, class Put>
  void add(std::string_view doubt, const std::string& taken, const Text& text, Put put) {
    const DoubtRow& row = doubt_row(doubt);
    add(doubt, taken, row.low.value(), row.high.value(), text, put);
  }

 private:
  std::vector<UncertainInput> inputs_;
};

}  // namespace

std::vector<UncertainInput> uncertain_site(const Garden& garden, const GardenPlan& planned) {
  InputsOfSite site;
  const auto shown_as = [&garden](Shown kind, int decimals) {
    return [&garden, kind, decimals](double value) {
      return measure(garden.display, kind, value, decimals);
    };
  };
  const auto m_s = shown_as(Shown::speed, 1);
  if (planned.weather.days_estimated(Estimate::wind_assumed) > 0)
    site.add("wind speed", m_s(garden.weather.wind_when_unknown_m_s), m_s,
             [](Garden& other, double speed) { other.weather.wind_when_unknown_m_s = speed; });
  const auto metres = shown_as(Shown::height, 0);
  if (has_wind(planned.weather) && !is_written(garden, "weather.wind measured at"))
    site.add("wind measured at", metres(garden.weather.layout.wind_height_m), metres,
             [](Garden& other, double height) { other.weather.layout.wind_height_m = height; });
  if (planned.weather.days_estimated(Estimate::humidity_from_t_min) > 0 &&
      !fitted(planned.weather, &FittedEstimates::humidity)) {
    const auto air = [](bool dry) { return std::string(dry ? "dry" : "humid"); };
    site.add("air", air(garden.dry_air), false, true, air,
             [](Garden& other, bool dry) { other.dry_air = dry; });
  }
  if (planned.weather.days_estimated(Estimate::radiation_from_temperature) > 0 &&
      !fitted(planned.weather, &FittedEstimates::radiation)) {
    const auto setting = [](bool coast) { return std::string(coast ? "coast" : "inland"); };
    site.add("setting", setting(garden.coast), false, true, setting,
             [](Garden& other, bool coast) { other.coast = coast; });
  }
  if (!garden.supply_flow) {
    constexpr double minutes = 60.0;
    const auto l_min = [&garden](double flow) {
      return measure(garden.display, Shown::supply_flow, minutes * flow, 0);
    };
    site.add("supply", "enough", l_min, [](Garden& other, double flow) {
      other.supply_flow = Flow::litres_per_hour(minutes * flow);
    });
  }
  return site.take();
}

}  // namespace runnel

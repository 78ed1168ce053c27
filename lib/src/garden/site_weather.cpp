#include "runnel/garden/site_weather.hpp"

#include <algorithm>
#include <cmath>

#include "runnel/garden/files.hpp"
#include "runnel/garden/time_zone.hpp"
#include "runnel/reference_et/penman_monteith.hpp"
#include "runnel/sky/psychrometrics.hpp"
#include "runnel/units/number.hpp"
#include "runnel/weather/futures.hpp"
#include "runnel/weather/gaps.hpp"
#include "runnel/weather/night.hpp"
#include "runnel/weather/quality.hpp"
#include "runnel/weather/weather_csv.hpp"

namespace runnel {
namespace {

CompletionRules completion_rules(const Garden& garden) {
  // FAO-56 Eq. 50: 0.16 inland, 0.19 at the coast; Eq. 48: dew point 2 degC below Tmin in dry air.
  return {.k_rs_per_sqrt_c = garden.coast ? 0.19 : 0.16,
          .dew_point_below_t_min_c = garden.dry_air ? 2.0 : 0.0,
          .angstrom = fao56_angstrom,
          .u2_when_unknown_m_s = garden.weather.wind_when_unknown_m_s};
}

/// Relative humidity at the warmest hour, percent: FAO-56 Eq. 10 with the day's vapour pressure.
Column rh_min_pct(const EtInputs& inputs) {
  Column rh(inputs.t_max_c.size());
  for (Eigen::Index i = 0; i < rh.size(); ++i)
    rh[i] = std::min(100.0,
                     100.0 * inputs.ea_kpa[i] / saturation_vapour_pressure_kpa(inputs.t_max_c[i]));
  return rh;
}

/// A file that gives reference ET but no temperatures: taken as it is.
bool only_reference_et(const WeatherSeries& series) {
  return series.has(Variable::eto_mm) && !series.has(Variable::t_max_c);
}

void take_rain(const WeatherSeries& series, DailyWeather& weather) {
  weather.rain_mm = Column::Zero(weather.eto_mm.size());
  if (!series.has(Variable::rain_mm)) {
    weather.days_without_rain_value = weather.days();
    return;
  }
  const Column& rain = series[Variable::rain_mm];
  for (Eigen::Index i = 0; i < rain.size(); ++i) {
    if (std::isnan(rain[i])) {
      ++weather.days_without_rain_value;
    } else {
      weather.rain_mm[i] = rain[i];
    }
  }
}

DailyWeather from_given_reference_et(const WeatherSeries& series, const std::string& name) {
  const Column& eto = series[Variable::eto_mm];
  for (Eigen::Index i = 0; i < eto.size(); ++i) {
    if (std::isnan(eto[i]))
      throw InputError(Finding{.kind = Finding::Kind::error,
                               .at = in_file(name, series.lines[static_cast<std::size_t>(i)]),
                               .says = "no reference ET for " + iso_date(series.date_of(i)),
                               .mend = "fill the value in, or start the file after it"});
  }
  return {.first_day = series.first_day,
          .eto_mm = eto,
          .rain_mm = {},
          .u2_m_s =
              Column::Constant(eto.size(), 2.0),  // the climate for which FAO-56 Table 12 is given
          .rh_min_pct = Column::Constant(eto.size(), 45.0),
          .estimated = std::vector<Estimates>(static_cast<std::size_t>(eto.size()), 0),
          .inputs = std::nullopt};
}

DailyWeather computed(const WeatherSeries& series, const Garden& garden) {
  EtInputs inputs = complete(series, garden.site, completion_rules(garden));
  DailyWeather weather{.first_day = inputs.first_day,
                       .eto_mm = eto_mm_d(inputs, garden.site, fao56_daily()).max(0.0),
                       .rain_mm = {},
                       .u2_m_s = inputs.u2_m_s,
                       .rh_min_pct = rh_min_pct(inputs),
                       .estimated = inputs.estimated,
                       .inputs = std::nullopt};
  weather.inputs = std::move(inputs);
  return weather;
}

WeatherSeries parsed(const Garden& garden, const std::string& path, const Place& at,
                     std::vector<Finding>& findings) {
  const std::string text = read_file(path, at);
  WeatherSeries series = with_dark_hours(
      value_or_throw(parse_weather(text, path, garden.weather.layout), findings), garden.site);
  std::vector<Finding> doubts = check_quality(series, garden.site, path);
  if (has_error(doubts)) throw InputError(std::move(doubts));
  findings.insert(findings.end(), doubts.begin(), doubts.end());
  return series;
}

/// From a series without a hole in what reference ET needs.
DailyWeather daily_weather(const WeatherSeries& days, const Garden& garden,
                           const std::string& path) {
  DailyWeather weather =
      only_reference_et(days) ? from_given_reference_et(days, path) : computed(days, garden);
  take_rain(days, weather);
  return weather;
}

DailyWeather read_daily_weather(const Garden& garden, const std::string& written, const Place& at,
                                std::vector<Finding>& findings) {
  const std::string path = path_beside(garden.file, written);
  const WeatherSeries series = parsed(garden, path, at, findings);
  const WeatherSeries days =
      only_reference_et(series)
          ? daily(series)
          : value_or_throw(
                fill_gaps(daily(value_or_throw(fill_gaps(series, path), findings)), path),
                findings);
  return daily_weather(days, garden, path);
}

/// Unlike what was observed lately, past years may have holes of any length.
std::vector<DailyWeather> read_record(const Garden& garden, std::vector<Finding>& findings) {
  const std::string path = path_beside(garden.file, *garden.weather.record);
  const WeatherSeries days = daily(parsed(garden, path, garden.weather.record_at, findings));
  std::vector<DailyWeather> record;
  for (const auto& [first, last] : whole_stretches(days)) {
    const WeatherSeries part = rows_of(days, first, last);
    record.push_back(daily_weather(
        only_reference_et(part) ? part : value_or_throw(fill_gaps(part, path), findings), garden,
        path));
  }
  return record;
}

}  // namespace

SiteWeather read_site_weather(const Garden& garden, std::vector<Finding>& findings) {
  SiteWeather weather{.observed = read_daily_weather(garden, garden.weather.observed,
                                                     garden.weather.observed_at, findings),
                      .forecast = std::nullopt,
                      .record = {}};
  if (garden.weather.forecast)
    weather.forecast =
        read_daily_weather(garden, *garden.weather.forecast, garden.weather.forecast_at, findings);
  if (garden.weather.record) {
    std::vector<Finding> said_already;
    const bool same_file = *garden.weather.record == garden.weather.observed;
    weather.record = read_record(garden, same_file ? said_already : findings);
  }
  return weather;
}

}  // namespace runnel

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
#include "site_fit.hpp"

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

DailyWeather computed(const WeatherSeries& series, const Garden& garden,
                      const CompletionRules& rules) {
  EtInputs inputs = complete(series, garden.site, rules);
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

/// A weather file's days, in stretches without a hole in what reference ET needs.
struct WeatherDays {
  std::string path;
  Place at;
  std::vector<WeatherSeries> stretches;
};
struct FilesRead {
  WeatherDays observed;
  std::optional<WeatherDays> forecast;
  WeatherDays record;
};

WeatherDays read_days(const Garden& garden, const std::string& written, const Place& at,
                      std::vector<Finding>& findings) {
  const std::string path = path_beside(garden.file, written);
  const WeatherSeries series = parsed(garden, path, at, findings);
  return {.path = path,
          .at = at,
          .stretches = {
              only_reference_et(series)
                  ? daily(series)
                  : value_or_throw(
                        fill_gaps(daily(value_or_throw(fill_gaps(series, path), findings)), path),
                        findings)}};
}

/// Unlike what was observed lately, past years may have holes of any length.
WeatherDays read_record(const Garden& garden, std::vector<Finding>& findings) {
  const std::string path = path_beside(garden.file, *garden.weather.record);
  const WeatherSeries days = daily(parsed(garden, path, garden.weather.record_at, findings));
  WeatherDays record{.path = path, .at = garden.weather.record_at, .stretches = {}};
  for (const auto& [first, last] : whole_stretches(days)) {
    WeatherSeries part = rows_of(days, first, last);
    record.stretches.push_back(only_reference_et(part)
                                   ? std::move(part)
                                   : value_or_throw(fill_gaps(part, path), findings));
  }
  return record;
}

FilesRead read_files(const Garden& garden, std::vector<Finding>& findings) {
  FilesRead files{
      .observed = read_days(garden, garden.weather.observed, garden.weather.observed_at, findings),
      .forecast = std::nullopt,
      .record = {}};
  if (garden.weather.forecast)
    files.forecast =
        read_days(garden, *garden.weather.forecast, garden.weather.forecast_at, findings);
  if (garden.weather.record) {
    std::vector<Finding> said_already;
    const bool same_file = *garden.weather.record == garden.weather.observed;
    files.record = read_record(garden, same_file ? said_already : findings);
  }
  return files;
}

/// What FAO-56 chapter 3 takes, and which of it the site's own days have said.
struct SiteRules {
  CompletionRules rules;
  FittedEstimates fitted = {};
};

std::vector<DailyWeather> completed(const WeatherDays& days, const Garden& garden,
                                    const SiteRules& by) {
  std::vector<DailyWeather> all;
  for (const WeatherSeries& stretch : days.stretches) {
    DailyWeather weather = only_reference_et(stretch) ? from_given_reference_et(stretch, days.path)
                                                      : computed(stretch, garden, by.rules);
    take_rain(stretch, weather);
    weather.fitted = by.fitted;
    all.push_back(std::move(weather));
  }
  return all;
}

SiteWeather completed(const FilesRead& files, const Garden& garden, const SiteRules& by) {
  SiteWeather weather{.observed = completed(files.observed, garden, by).front(),
                      .forecast = std::nullopt,
                      .record = completed(files.record, garden, by)};
  if (files.forecast) weather.forecast = completed(*files.forecast, garden, by).front();
  return weather;
}

bool estimated(const SiteWeather& weather, Estimate what) {
  const auto in = [what](const DailyWeather& stretch) {
    return std::any_of(stretch.estimated.begin(), stretch.estimated.end(),
                       [what](Estimates day) { return has(day, what); });
  };
  return in(weather.observed) || (weather.forecast && in(*weather.forecast)) ||
         std::any_of(weather.record.begin(), weather.record.end(), in);
}

/// Of the record and the observed days, those that say it by more days, with their file.
struct FoundFit {
  SiteFit fit;
  const WeatherDays* file;
};
std::optional<FoundFit> find_fit(const FilesRead& files, const SiteWeather& weather,
                                 const auto& fit_of) {
  std::vector<const EtInputs*> record;
  for (const DailyWeather& stretch : weather.record)
    if (stretch.inputs) record.push_back(&*stretch.inputs);
  std::vector<const EtInputs*> observed;
  if (weather.observed.inputs) observed.push_back(&*weather.observed.inputs);
  const std::optional<SiteFit> of_record = fit_of(record);
  const std::optional<SiteFit> of_observed = fit_of(observed);
  if (of_observed && (!of_record || of_observed->days > of_record->days))
    return FoundFit{.fit = *of_observed, .file = &files.observed};
  if (of_record) return FoundFit{.fit = *of_record, .file = &files.record};
  return std::nullopt;
}

/// Of what is left open and matters: the site's own days where they say it, remarked.
SiteRules site_rules(const Garden& garden, const FilesRead& files, const SiteWeather& weather,
                     std::vector<Finding>& findings) {
  SiteRules by{.rules = completion_rules(garden)};
  const auto take = [&](const char* key, Estimate what, const auto& fit_of, const auto& words,
                        double& rule, bool& fitted) {
    if (is_written(garden, key) || !estimated(weather, what)) return;
    const auto found = find_fit(files, weather, fit_of);
    if (!found) return;
    rule = found->fit.value;
    fitted = true;
    findings.push_back(
        {.kind = Finding::Kind::remark,
         .at = found->file->at,
         .says = words(found->fit.value) + ": the median of the " +
                 std::to_string(found->fit.days) + " days of this file that have it",
         .mend = "state the site's " + std::string(key).substr(5) + " if that is not to be"});
  };
  take(
      "site.setting", Estimate::radiation_from_temperature,
      [&](const auto& days) { return fitted_k_rs_per_sqrt_c(days, garden.site); },
      [](double k_rs) {
        return "where radiation is not measured FAO-56 Eq. 50 is taken with " + fixed(k_rs, 3);
      },
      by.rules.k_rs_per_sqrt_c, by.fitted.radiation);
  take(
      "site.air", Estimate::humidity_from_t_min, fitted_dew_point_below_t_min_c,
      [&](double below_c) {
        const double below = converted(garden.display, Shown::temperature, below_c) -
                             converted(garden.display, Shown::temperature, 0.0);
        return "where humidity is not measured the dew point is taken " + fixed(below, 1) + " " +
               std::string(unit_shown(garden.display, Shown::temperature)) +
               " below the lowest temperature";
      },
      by.rules.dew_point_below_t_min_c, by.fitted.humidity);
  return by;
}

}  // namespace

SiteWeather read_site_weather(const Garden& garden, std::vector<Finding>& findings) {
  const FilesRead files = read_files(garden, findings);
  SiteWeather weather = completed(files, garden, {.rules = completion_rules(garden)});
  const SiteRules by = site_rules(garden, files, weather, findings);
  return by.fitted.radiation || by.fitted.humidity ? completed(files, garden, by) : weather;
}

}  // namespace runnel

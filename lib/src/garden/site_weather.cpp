#include "runnel/garden/site_weather.hpp"

#include <algorithm>
#include <cmath>

#include "runnel/garden/files.hpp"
#include "runnel/garden/time_zone.hpp"
#include "runnel/reference_et/penman_monteith.hpp"
#include "runnel/sky/psychrometrics.hpp"
#include "runnel/units/number.hpp"
#include "runnel/weather/gaps.hpp"
#include "runnel/weather/night.hpp"
#include "runnel/weather/quality.hpp"
#include "runnel/weather/weather_csv.hpp"

namespace runnel {
namespace {

constexpr Eigen::Index most_recent_days = 7;
/// Long enough for ground that only rain waters to forget what it held before.
constexpr Eigen::Index most_days_before = 60;

CompletionRules completion_rules(const Garden& garden) {
  // FAO-56 Eq. 50: 0.16 inland, 0.19 at the coast; Eq. 48: dew point 2 degC below Tmin in dry air.
  return {.k_rs_per_sqrt_c = garden.coast ? 0.19 : 0.16,
          .dew_point_below_t_min_c = garden.dry_air ? 2.0 : 0.0,
          .angstrom = fao56_angstrom};
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

DailyWeather read_daily_weather(const Garden& garden, const std::string& written, const Place& at,
                                std::vector<Finding>& findings) {
  const std::string path = path_beside(garden.file, written);
  const std::string text = read_file(path, at);
  const WeatherSeries series = with_dark_hours(
      value_or_throw(parse_weather(text, path, garden.weather.layout), findings), garden.site);

  std::vector<Finding> doubts = check_quality(series, garden.site, path);
  if (has_error(doubts)) throw InputError(std::move(doubts));
  findings.insert(findings.end(), doubts.begin(), doubts.end());

  const WeatherSeries days =
      only_reference_et(series)
          ? daily(series)
          : value_or_throw(
                fill_gaps(daily(value_or_throw(fill_gaps(series, path), findings)), path),
                findings);
  DailyWeather weather =
      only_reference_et(days) ? from_given_reference_et(days, path) : computed(days, garden);
  take_rain(days, weather);
  return weather;
}

}  // namespace

SiteWeather read_site_weather(const Garden& garden, std::vector<Finding>& findings) {
  SiteWeather weather{.observed = read_daily_weather(garden, garden.weather.observed,
                                                     garden.weather.observed_at, findings),
                      .forecast = std::nullopt};
  if (garden.weather.forecast)
    weather.forecast =
        read_daily_weather(garden, *garden.weather.forecast, garden.weather.forecast_at, findings);
  return weather;
}

namespace {

/// Rows [first, last) of `weather` that lie in the `days` before `from`.
std::pair<Eigen::Index, Eigen::Index> recent_rows(const DailyWeather& weather, Date from) {
  const Eigen::Index last =
      std::clamp<Eigen::Index>((from - weather.first_day).count(), 0, weather.days());
  return {std::max<Eigen::Index>(0, last - most_recent_days), last};
}

/// The inputs of `days` rows from `first` on, if reference ET was computed from any.
std::optional<EtInputs> inputs_of(const DailyWeather& weather, Eigen::Index first,
                                  Eigen::Index days) {
  if (!weather.inputs || days <= 0) return std::nullopt;
  const EtInputs& all = *weather.inputs;
  const auto begin = all.estimated.begin() + first;
  return EtInputs{.first_day = all.first_day + std::chrono::days{first},
                  .t_max_c = all.t_max_c.segment(first, days),
                  .t_min_c = all.t_min_c.segment(first, days),
                  .ea_kpa = all.ea_kpa.segment(first, days),
                  .u2_m_s = all.u2_m_s.segment(first, days),
                  .rs_mj_m2_d = all.rs_mj_m2_d.segment(first, days),
                  .estimated = std::vector<Estimates>(begin, begin + days)};
}

/// The inputs of the forecast days within a plan.
std::optional<EtInputs> forecast_inputs(const std::optional<DailyWeather>& forecast, Date from,
                                        int days) {
  if (!forecast) return std::nullopt;
  const Eigen::Index offset = (from - forecast->first_day).count();
  const Eigen::Index first = std::max<Eigen::Index>(0, offset);
  return inputs_of(*forecast, first, std::min(forecast->days(), offset + days) - first);
}

bool covers(const std::optional<DailyWeather>& weather, Date date) {
  return weather && date >= weather->first_day && date <= weather->last_day();
}

void remark(std::vector<Finding>& findings, Finding::Kind kind, const std::string& file,
            std::string says, std::string mend = {}) {
  findings.push_back(
      {.kind = kind, .at = in_file(file), .says = std::move(says), .mend = std::move(mend)});
}

}  // namespace

AssumedWeather assume_weather(const Garden& garden, const SiteWeather& weather, Date from, int days,
                              std::vector<Finding>& findings) {
  const auto [first, last] = recent_rows(weather.observed, from);
  const Eigen::Index recent = last - first;
  AssumedWeather assumed{
      .first_day = from, .eto_mm = Column::Zero(days), .rain_mm = Column::Zero(days), .source = {}};
  double u2_sum = 0.0;
  double rh_sum = 0.0;
  for (Eigen::Index i = 0; i < days; ++i) {
    const Date date = from + std::chrono::days{i};
    if (covers(weather.forecast, date)) {
      const Eigen::Index row = (date - weather.forecast->first_day).count();
      assumed.eto_mm[i] = weather.forecast->eto_mm[row];
      assumed.rain_mm[i] = weather.forecast->rain_mm[row];
      u2_sum += weather.forecast->u2_m_s[row];
      rh_sum += weather.forecast->rh_min_pct[row];
      assumed.source.push_back(DaySource::forecast);
      continue;
    }
    if (recent == 0)
      throw InputError(Finding{
          .kind = Finding::Kind::error,
          .at = garden.weather.observed_at,
          .says = "no weather for " + iso_date(date) +
                  ": no forecast reaches it, and no day before " + iso_date(from) + " was observed",
          .mend = "plan --from a day after " + iso_date(weather.observed.first_day) +
                  ", or give a forecast file"});
    assumed.eto_mm[i] = weather.observed.eto_mm.segment(first, recent).mean();
    u2_sum += weather.observed.u2_m_s.segment(first, recent).mean();
    rh_sum += weather.observed.rh_min_pct.segment(first, recent).mean();
    assumed.source.push_back(DaySource::recent_mean);
    assumed.recent_days = recent;
  }
  assumed.forecast_inputs = forecast_inputs(weather.forecast, from, days);
  if (assumed.recent_days > 0) assumed.recent_inputs = inputs_of(weather.observed, first, recent);
  assumed.u2_m_s = u2_sum / days;
  assumed.rh_min_pct = rh_sum / days;

  const Date last_known = weather.observed.first_day + std::chrono::days{last - 1};
  if (last > 0 && last_known + std::chrono::days{1} == from) {
    const Eigen::Index before = std::min(last, most_days_before);
    assumed.eto_before_mm = weather.observed.eto_mm.segment(last - before, before);
    assumed.rain_before_mm = weather.observed.rain_mm.segment(last - before, before);
  }
  if (recent > 0 && !covers(weather.forecast, from) && last_known + std::chrono::days{1} < from)
    remark(findings, Finding::Kind::doubt, garden.weather.observed,
           "observed weather ends on " + iso_date(last_known) + ", days before the plan starts",
           "add the days since, or a forecast");
  if (weather.observed.days_without_rain_value > 0)
    remark(findings, Finding::Kind::remark, garden.weather.observed,
           "rain is not known on " + std::to_string(weather.observed.days_without_rain_value) +
               " days and counts as none");
  return assumed;
}

}  // namespace runnel

#include "runnel/weather/quality.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>

#include "quality_rules.hpp"
#include "runnel/sky/psychrometrics.hpp"
#include "runnel/weather/gaps.hpp"
#include "runnel/weather/weather_csv.hpp"

namespace runnel {
namespace {

using Eigen::Index;
using V = Variable;
using Kind = Finding::Kind;

/// RHmin <= RHmax (open quality-control package, JOSS 2024, doi 10.21105/joss.06368).
void check_humidity_order(const WeatherSeries& series, Report& report) {
  if (!series.has(V::rh_max_pct) || !series.has(V::rh_min_pct)) return;
  Tally crossed;
  for (Index i = 0; i < series.rows(); ++i) {
    if (series[V::rh_min_pct][i] > series[V::rh_max_pct][i]) crossed.add(i);
  }
  report.tell(Kind::error, crossed, "rhmin is above rhmax",
              "check that the two columns are not exchanged");
}

/// A day's dew point lies at or below Tmin, plus about 1 degC: physical; ASCE-EWRI 2005 App. D,
/// from memory.
void check_dew_point_of_days(const WeatherSeries& series, Report& report) {
  if (!series.has(V::t_dew_c) || !series.has(V::t_min_c)) return;
  Tally above;
  for (Index i = 0; i < series.rows(); ++i) {
    if (series[V::t_dew_c][i] > series[V::t_min_c][i] + 1.0) above.add(i);
  }
  report.tell(Kind::doubt, above, "the dew point lies more than 1 degC above tmin",
              "check the humidity sensor and the unit");
}

/// ea <= es (physical). A day's es is the mean of FAO-56 Eq. 12, an hour's that of its own
/// temperature (Eq. 11). 1 % for rounding, no source.
void check_vapour_pressure(const WeatherSeries& series, Report& report) {
  const bool of_day = series.has(V::t_max_c) && series.has(V::t_min_c);
  const bool of_hour = series.step == Step::hour && series.has(V::t_mean_c);
  if (!series.has(V::ea_kpa) || (!of_day && !of_hour)) return;
  Tally above;
  for (Index i = 0; i < series.rows(); ++i) {
    const double es =
        of_hour ? saturation_vapour_pressure_kpa(series[V::t_mean_c][i])
                : mean_saturation_vapour_pressure_kpa(series[V::t_max_c][i], series[V::t_min_c][i]);
    if (series[V::ea_kpa][i] > 1.01 * es) above.add(i);
  }
  report.tell(Kind::doubt, above, "the vapour pressure is above saturation",
              "check the unit and the humidity sensor");
}

/// Tdew <= T every hour (physical). Half a degree for the tolerances of two sensors: common
/// practice, no source.
void check_dew_point_of_hours(const WeatherSeries& series, Report& report) {
  if (!series.has(V::t_dew_c) || !series.has(V::t_mean_c)) return;
  Tally above;
  for (Index i = 0; i < series.rows(); ++i) {
    if (series[V::t_dew_c][i] > series[V::t_mean_c][i] + 0.5) above.add(i);
  }
  report.tell(Kind::doubt, above, "the dew point lies above the air temperature",
              "check the humidity sensor and the unit");
}

/// Tmax - Tmin is typically 3 to 30 degC, near 0 means a stuck sensor: common agrometeorological
/// practice, from memory. Humid cloudy days can have 2, hence 0.5 for "near 0".
void check_range(const WeatherSeries& days, Report& report) {
  if (!days.has(V::t_max_c) || !days.has(V::t_min_c)) return;
  Tally flat;
  Tally wide;
  for (Index i = 0; i < days.rows(); ++i) {
    const double range = days[V::t_max_c][i] - days[V::t_min_c][i];
    if (range < 0.5) flat.add(i);
    if (range > 30.0) wide.add(i);
  }
  report.tell(Kind::doubt, flat, "tmax and tmin are less than 0.5 degC apart",
              "check the thermometer");
  report.tell(Kind::doubt, wide, "tmax and tmin are more than 30 degC apart",
              "check the unit and the thermometer");
}

/// A mean lies between the extremes (physical); 0.1 degC for rounding.
void check_mean(const WeatherSeries& series, Report& report) {
  if (!series.has(V::t_mean_c) || !series.has(V::t_max_c) || !series.has(V::t_min_c)) return;
  Tally outside;
  for (Index i = 0; i < series.rows(); ++i) {
    const double mean = series[V::t_mean_c][i];
    if (mean > series[V::t_max_c][i] + 0.1 || mean < series[V::t_min_c][i] - 0.1) outside.add(i);
  }
  report.tell(Kind::doubt, outside, "tmean does not lie between tmin and tmax",
              "check which columns were meant");
}

/// Daily reference ET is 0 to about 15 mm (short): recomputed for a dry, windy day of 46 degC, 14.8
/// mm.
void check_reference_et(const WeatherSeries& days, Report& report) {
  if (!days.has(V::eto_mm)) return;
  Tally high;
  for (Index i = 0; i < days.rows(); ++i) {
    if (days[V::eto_mm][i] > 15.0) high.add(i);
  }
  report.tell(Kind::doubt, high, "reference_et is above 15 mm",
              "check the unit, and that it is of short grass");
}

/// A working anemometer's mean is seldom below 1 m/s, below 0.5 nearly always a fault: ASCE-EWRI
/// 2005 App. D and FAO-56 chapter 3, from memory.
void check_calm(const WeatherSeries& days, Report& report) {
  if (!days.has(V::wind_m_s)) return;
  double sum = 0.0;
  std::size_t known = 0;
  for (const double u : days[V::wind_m_s]) {
    if (std::isnan(u)) continue;
    sum += u;
    ++known;
  }
  if (known < 7 || sum / static_cast<double>(known) >= 0.5) return;
  report.say(Kind::doubt, 0,
             "the mean wind is " + fixed(sum / static_cast<double>(known), 2) + " m/s over " +
                 counted(known, "day"),
             "check the anemometer's bearings; a sheltered one tells nothing about open ground");
}

/// The same reading for 6 hours or more: a common persistence test of station networks, from
/// memory; for days 4, no source.
void check_stuck(const WeatherSeries& series, V variable, Report& report) {
  if (!series.has(variable)) return;
  const Index shortest = series.step == Step::day ? 4 : 6;
  const Column& values = series[variable];
  Tally runs;
  Index longest = 0;
  for (Index from = 0; from < values.size();) {
    Index to = from + 1;
    while (to < values.size() && values[to] == values[from]) ++to;  // a missing one equals nothing
    if (to - from >= shortest) {
      runs.add(from);
      longest = std::max(longest, to - from);
    }
    from = to;
  }
  if (runs.count() == 0) return;
  const std::string_view word = series.step == Step::day ? "day" : "hour";
  report.say(Kind::doubt, runs.first(),
             std::string(standard_name(variable)) + " stands still for " +
                 std::to_string(shortest) + " " + std::string(word) + "s or more " +
                 counted(runs.count(), "time") + ", first from " + report.when(runs.first()) +
                 ", at most for " + counted(static_cast<std::size_t>(longest), word),
             "check the instrument");
}

/// Over watered ground the daily RHmax goes above 90 and approaches 100 % (ASCE-EWRI 2005 p. 16),
/// deserts excepted. Three months without such a night are long enough to say so: no source.
void check_humid_nights(const WeatherSeries& days, Report& report) {
  if (!days.has(V::rh_max_pct)) return;
  double highest = 0.0;
  std::size_t known = 0;
  for (const double rh : days[V::rh_max_pct]) {
    if (std::isnan(rh)) continue;
    highest = std::max(highest, rh);
    ++known;
  }
  if (known < 90 || highest >= 90.0) return;
  report.say(Kind::doubt, 0,
             "rhmax never passes " + fixed(highest, 0) + " % in " + counted(known, "day"),
             "check the humidity sensor, or whether the station stands over dry ground");
}

/// Rows that are left out after the first one that is there.
void remark_missing(const WeatherSeries& series, Report& report) {
  Tally absent;
  bool begun = false;
  for (Index i = 0; i < series.rows(); ++i) {
    const bool there = series.lines[static_cast<std::size_t>(i)] > 0;
    if (begun && !there) absent.add(i);
    begun = begun || there;
  }
  report.tell(Kind::remark, absent, "there is no row", "");
  for (std::size_t v = 0; v < variable_count; ++v) {
    const auto variable = static_cast<V>(v);
    if (!series.has(variable)) continue;
    Tally empty;
    for (Index i = 0; i < series.rows(); ++i) {
      if (series.lines[static_cast<std::size_t>(i)] > 0 && std::isnan(series[variable][i]))
        empty.add(i);
    }
    report.tell(Kind::remark, empty, std::string(standard_name(variable)) + " is missing", "");
  }
}

}  // namespace

std::vector<Finding> check_quality(const WeatherSeries& series, const Site& site,
                                   std::string_view name) {
  Report rows(series, name);
  remark_missing(series, rows);
  check_humidity_order(series, rows);
  check_vapour_pressure(series, rows);
  check_mean(series, rows);
  for (const V variable : {V::t_max_c, V::t_min_c, V::t_mean_c, V::wind_m_s})
    check_stuck(series, variable, rows);
  if (series.step == Step::day) {
    check_dew_point_of_days(series, rows);
  } else {
    check_dew_point_of_hours(series, rows);
    check_clock(series, site, rows);
  }

  const WeatherSeries days = daily(series);
  Report by_day(days, name);
  if (days.rows() > 0) {
    check_range(days, by_day);
    check_reference_et(days, by_day);
    check_calm(days, by_day);
    check_humid_nights(days, by_day);
    check_radiation(days, site, by_day);
  }
  std::vector<Finding> findings = rows.take();
  for (Finding& finding : by_day.take()) findings.push_back(std::move(finding));
  return findings;
}

}  // namespace runnel

#include "runnel/reference_et/inputs.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string_view>
#include <utility>

#include "runnel/sky/psychrometrics.hpp"
#include "runnel/sky/radiation.hpp"
#include "runnel/sky/sun.hpp"

namespace runnel {
namespace {

using Eigen::Index;
using V = Variable;

constexpr double degrees = std::numbers::pi / 180.0;

void mark(Estimates& set, Estimate one) {
  set = static_cast<Estimates>(set | static_cast<Estimates>(one));
}

/// One row of a series: values that may be missing, and where they come from.
class Row {
 public:
  Row(const WeatherSeries& series, Index row) : series_{&series}, row_{row} {}
  [[nodiscard]] bool has(V v) const {
    return series_->has(v) && std::isfinite((*series_)[v][row_]);
  }
  [[nodiscard]] double operator[](V v) const { return (*series_)[v][row_]; }
  [[nodiscard]] bool interpolated(V v) const {
    const auto& origin = series_->origin(v);
    return !origin.empty() && origin[static_cast<std::size_t>(row_)] == Origin::interpolated;
  }
  /// The value, with `filled` noted when a gap was filled there.
  [[nodiscard]] double take(V v, Estimate filled, Estimates& estimates) const {
    if (interpolated(v)) mark(estimates, filled);
    return (*this)[v];
  }

 private:
  const WeatherSeries* series_;
  Index row_;
};

/// FAO-56 Eq. 48 with the 0.6108 of Eq. 11 (it prints 0.611): dew falls near the day's lowest
/// temperature.
double vapour_pressure_from_t_min(double t_min_c, const CompletionRules& rules) {
  return vapour_pressure_from_dew_point_kpa(t_min_c - rules.dew_point_below_t_min_c);
}

/// The best that was measured; the order of FAO-56 chapter 3 ("Calculation procedures" of vapour
/// pressure).
double daily_vapour_pressure(const Row& row, double t_max_c, double t_min_c,
                             const CompletionRules& rules, Estimates& estimates) {
  constexpr auto filled = Estimate::humidity_interpolated;
  if (row.has(V::ea_kpa)) return row.take(V::ea_kpa, filled, estimates);
  if (row.has(V::t_dew_c))
    return vapour_pressure_from_dew_point_kpa(row.take(V::t_dew_c, filled, estimates));
  if (row.has(V::rh_max_pct) && row.has(V::rh_min_pct)) {
    const double rh_max = row.take(V::rh_max_pct, filled, estimates);
    const double rh_min = row.take(V::rh_min_pct, filled, estimates);
    return vapour_pressure_from_rh_max_min_kpa(t_max_c, t_min_c, rh_max, rh_min);
  }
  if (row.has(V::rh_max_pct)) {
    mark(estimates, Estimate::humidity_from_rh_max);
    return vapour_pressure_from_rh_max_kpa(t_min_c, row.take(V::rh_max_pct, filled, estimates));
  }
  if (row.has(V::rh_mean_pct)) {
    mark(estimates, Estimate::humidity_from_rh_mean);
    return vapour_pressure_from_rh_mean_kpa(t_max_c, t_min_c,
                                            row.take(V::rh_mean_pct, filled, estimates));
  }
  mark(estimates, Estimate::humidity_from_t_min);
  return vapour_pressure_from_t_min(t_min_c, rules);
}

double daily_radiation(const Row& row, double t_max_c, double t_min_c, int day_of_year,
                       const Site& site, const CompletionRules& rules, Estimates& estimates) {
  constexpr auto filled = Estimate::radiation_interpolated;
  // A measured value is taken as it is, above clear sky too: judging it is check_quality's task.
  if (row.has(V::rs_mj_m2)) return row.take(V::rs_mj_m2, filled, estimates);
  const double phi = site.latitude_deg * degrees;
  const double ra = extraterrestrial_radiation_mj_m2_d(phi, day_of_year);
  if (row.has(V::sunshine_h)) {
    mark(estimates, Estimate::radiation_from_sunshine);
    return radiation_from_sunshine(ra, row.take(V::sunshine_h, filled, estimates),
                                   daylight_hours(phi, day_of_year), rules.angstrom);
  }
  mark(estimates, Estimate::radiation_from_temperature);
  return radiation_from_temperature(ra, t_max_c, t_min_c, rules.k_rs_per_sqrt_c, site.elevation_m);
}

double wind_at_2m(const Row& row, double height_m, const CompletionRules& rules,
                  Estimates& estimates) {
  if (row.has(V::wind_m_s)) {
    return wind_at_2m_m_s(row.take(V::wind_m_s, Estimate::wind_interpolated, estimates), height_m);
  }
  mark(estimates, Estimate::wind_assumed);
  return rules.u2_when_unknown_m_s;
}

double hourly_temperature(const Row& row, Estimates& estimates) {
  constexpr auto filled = Estimate::temperature_interpolated;
  if (row.has(V::t_mean_c)) return row.take(V::t_mean_c, filled, estimates);
  if (row.has(V::t_max_c) && row.has(V::t_min_c)) {
    return (row.take(V::t_max_c, filled, estimates) + row.take(V::t_min_c, filled, estimates)) /
           2.0;
  }
  throw std::invalid_argument("complete_hourly: an hour without temperature");
}

/// Eq. 48 belongs to the day's minimum: the coldest hour of the calendar day stands for it.
double hourly_vapour_pressure(const Row& row, double t_c, double coldest_of_day_c,
                              const CompletionRules& rules, Estimates& estimates) {
  constexpr auto filled = Estimate::humidity_interpolated;
  if (row.has(V::ea_kpa)) return row.take(V::ea_kpa, filled, estimates);
  if (row.has(V::t_dew_c))
    return vapour_pressure_from_dew_point_kpa(row.take(V::t_dew_c, filled, estimates));
  if (row.has(V::rh_mean_pct)) {  // Eq. 54; the hour's own humidity, so no estimate
    return saturation_vapour_pressure_kpa(t_c) * row.take(V::rh_mean_pct, filled, estimates) /
           100.0;
  }
  mark(estimates, Estimate::humidity_from_t_min);
  return vapour_pressure_from_t_min(coldest_of_day_c, rules);
}

double hourly_radiation(const Row& row, const WeatherSeries& hourly, Index hour, const Site& site,
                        Estimates& estimates) {
  if (row.has(V::rs_mj_m2))
    return row.take(V::rs_mj_m2, Estimate::radiation_interpolated, estimates);
  // A logger that leaves the night empty: with the sun down for the whole hour there is nothing to
  // estimate.
  const int day = day_of_year(hourly.date_of(hour));
  const double offset_h = static_cast<double>(hourly.utc_offset.count()) / 60.0;
  const double from =
      solar_time_angle_rad(static_cast<double>(hour % 24), site.longitude_deg, offset_h, day);
  const double to = from + std::numbers::pi / 12.0;
  if (extraterrestrial_radiation_mj_m2(site.latitude_deg * degrees, day, from, to) == 0.0)
    return 0.0;
  throw std::invalid_argument("complete_hourly: no radiation on " + iso_date(hourly.date_of(hour)));
}

}  // namespace

EtInputs complete(const WeatherSeries& daily, const Site& site, const CompletionRules& rules) {
  if (daily.step != Step::day) throw std::invalid_argument("complete: the series is hourly");
  const Index days = daily.rows();
  EtInputs inputs{
      .first_day = daily.first_day,
      .t_max_c = Column(days),
      .t_min_c = Column(days),
      .ea_kpa = Column(days),
      .u2_m_s = Column(days),
      .rs_mj_m2_d = Column(days),
      .estimated = std::vector<Estimates>(static_cast<std::size_t>(days), Estimates{0})};
  for (Index i = 0; i < days; ++i) {
    const Row row{daily, i};
    if (!row.has(V::t_max_c) || !row.has(V::t_min_c)) {
      throw std::invalid_argument("complete: no Tmax or Tmin on " + iso_date(daily.date_of(i)));
    }
    Estimates& estimates = inputs.estimated[static_cast<std::size_t>(i)];
    const double t_max = row.take(V::t_max_c, Estimate::temperature_interpolated, estimates);
    const double t_min = row.take(V::t_min_c, Estimate::temperature_interpolated, estimates);
    inputs.t_max_c[i] = t_max;
    inputs.t_min_c[i] = t_min;
    inputs.ea_kpa[i] = daily_vapour_pressure(row, t_max, t_min, rules, estimates);
    inputs.u2_m_s[i] = wind_at_2m(row, daily.wind_height_m, rules, estimates);
    inputs.rs_mj_m2_d[i] =
        daily_radiation(row, t_max, t_min, day_of_year(daily.date_of(i)), site, rules, estimates);
  }
  return inputs;
}

HourlyEtInputs complete_hourly(const WeatherSeries& hourly, const Site& site,
                               const CompletionRules& rules) {
  if (hourly.step != Step::hour)
    throw std::invalid_argument("complete_hourly: the series is daily");
  const Index hours = hourly.rows();
  HourlyEtInputs inputs{
      .first_day = hourly.first_day,
      .utc_offset = hourly.utc_offset,
      .t_c = Column(hours),
      .ea_kpa = Column(hours),
      .u2_m_s = Column(hours),
      .rs_mj_m2_h = Column(hours),
      .estimated = std::vector<Estimates>(static_cast<std::size_t>(hours), Estimates{0})};
  for (Index i = 0; i < hours; ++i) {
    inputs.t_c[i] =
        hourly_temperature(Row{hourly, i}, inputs.estimated[static_cast<std::size_t>(i)]);
  }
  for (Index i = 0; i < hours; ++i) {
    const Row row{hourly, i};
    Estimates& estimates = inputs.estimated[static_cast<std::size_t>(i)];
    const Index midnight = i / 24 * 24;
    const double coldest =
        inputs.t_c.segment(midnight, std::min<Index>(24, hours - midnight)).minCoeff();
    inputs.ea_kpa[i] = hourly_vapour_pressure(row, inputs.t_c[i], coldest, rules, estimates);
    inputs.u2_m_s[i] = wind_at_2m(row, hourly.wind_height_m, rules, estimates);
    inputs.rs_mj_m2_h[i] = hourly_radiation(row, hourly, i, site, estimates);
  }
  return inputs;
}

std::string to_text(Estimates estimates) {
  using E = Estimate;
  constexpr std::array names{
      std::pair{E::temperature_interpolated, std::string_view{"temperature (interpolated)"}},
      std::pair{E::humidity_interpolated, std::string_view{"humidity (interpolated)"}},
      std::pair{E::wind_interpolated, std::string_view{"wind (interpolated)"}},
      std::pair{E::radiation_interpolated, std::string_view{"radiation (interpolated)"}},
      std::pair{E::humidity_from_rh_max, std::string_view{"humidity (Eq. 18)"}},
      std::pair{E::humidity_from_rh_mean, std::string_view{"humidity (Eq. 19)"}},
      std::pair{E::humidity_from_t_min, std::string_view{"humidity (Eq. 48)"}},
      std::pair{E::radiation_from_sunshine, std::string_view{"radiation (Eq. 35)"}},
      std::pair{E::radiation_from_temperature, std::string_view{"radiation (Eq. 50)"}},
      std::pair{E::wind_assumed, std::string_view{"wind (2 m/s)"}}};
  std::string text;
  for (const auto& [one, name] : names) {
    if (!has(estimates, one)) continue;
    if (!text.empty()) text += "; ";
    text += name;
  }
  return text;
}

}  // namespace runnel

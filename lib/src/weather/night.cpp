#include "runnel/weather/night.hpp"

#include <cmath>
#include <numbers>

#include "runnel/sky/radiation.hpp"
#include "runnel/sky/sun.hpp"

namespace runnel {
namespace {

constexpr double pi = std::numbers::pi;

/// Whether the sun stays down in the hour that begins at `hour` o'clock of the series' clock.
bool is_dark(const Site& site, double utc_offset_h, Date date, double hour) {
  constexpr double half_hour_rad = pi / 24.0;  // FAO-56 Eq. 29, 30 with t1 = 1
  const int day = day_of_year(date);
  double middle_rad = solar_time_angle_rad(hour + 0.5, site.longitude_deg, utc_offset_h, day);
  middle_rad -= 2.0 * pi * std::floor((middle_rad + pi) / (2.0 * pi));
  return extraterrestrial_radiation_mj_m2(site.latitude_deg * pi / 180.0, day,
                                          middle_rad - half_hour_rad,
                                          middle_rad + half_hour_rad) <= 0.0;
}

}  // namespace

WeatherSeries with_dark_hours(WeatherSeries series, const Site& site) {
  if (series.step == Step::day || !series.has(Variable::rs_mj_m2)) return series;
  const double utc_offset_h = static_cast<double>(series.utc_offset.count()) / 60.0;
  Column& rs = series[Variable::rs_mj_m2];
  for (Eigen::Index row = 0; row < rs.size(); ++row) {
    if (!std::isnan(rs[row]) ||
        !is_dark(site, utc_offset_h, series.date_of(row), static_cast<double>(row % 24)))
      continue;
    rs[row] = 0.0;
    series.origin(Variable::rs_mj_m2)[static_cast<std::size_t>(row)] = Origin::observed;
  }
  return series;
}

}  // namespace runnel

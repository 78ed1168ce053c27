#include "runnel/reference_et/inputs.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "runnel/sky/psychrometrics.hpp"
#include "runnel/sky/sun.hpp"
#include "support/near.hpp"

using namespace runnel;
using V = Variable;

namespace {

constexpr double absent = std::numeric_limits<double>::quiet_NaN();
constexpr Site site{.latitude_deg = 50.8, .longitude_deg = 4.35, .elevation_m = 100.0};

void set(WeatherSeries& series, V v, double value) {
  series[v] = Column::Constant(series.rows(), value);
  series.origin(v).assign(series.lines.size(),
                          std::isnan(value) ? Origin::missing : Origin::observed);
}

/// One 6 July (FAO-56 Example 18) with temperatures only.
WeatherSeries bare_day() {
  using namespace std::chrono;
  WeatherSeries series;
  series.first_day = local_days{year{2027} / July / 6};
  series.wind_height_m = 10.0;
  series.lines = {2};
  set(series, V::t_max_c, 21.5);
  set(series, V::t_min_c, 12.3);
  return series;
}

/// Everything that a day can be told, so that taking away shows the order.
WeatherSeries full_day() {
  WeatherSeries series = bare_day();
  set(series, V::ea_kpa, 1.40);
  set(series, V::t_dew_c, 12.0);
  set(series, V::rh_max_pct, 84.0);
  set(series, V::rh_min_pct, 63.0);
  set(series, V::rh_mean_pct, 70.0);
  set(series, V::wind_m_s, 2.778);
  set(series, V::rs_mj_m2, 22.0);
  set(series, V::sunshine_h, 9.25);
  return series;
}

Estimates flags(std::initializer_list<Estimate> list) {
  Estimates set = 0;
  for (const Estimate one : list) set = static_cast<Estimates>(set | static_cast<Estimates>(one));
  return set;
}

WeatherSeries hours(Eigen::Index count) {
  using namespace std::chrono;
  WeatherSeries series;
  series.step = Step::hour;
  series.first_day = local_days{year{2027} / July / 6};
  series.utc_offset = minutes{60};
  series.lines.assign(static_cast<std::size_t>(count), 2);
  set(series, V::t_mean_c, 20.0);
  set(series, V::rs_mj_m2, 1.0);
  return series;
}

}  // namespace

TEST_CASE("complete - nothing but temperatures: Eq. 48, Eq. 50 and 2 m/s, each flagged") {
  const EtInputs in = complete(bare_day(), site, CompletionRules{});
  CHECK(in.ea_kpa[0] == saturation_vapour_pressure_kpa(12.3));
  CHECK(in.u2_m_s[0] == 2.0);
  const double ra = extraterrestrial_radiation_mj_m2_d(50.8 * std::numbers::pi / 180.0, 187);
  CHECK(in.rs_mj_m2_d[0] == near(0.16 * std::sqrt(9.2) * ra, 1e-12));
  CHECK(in.estimated[0] == flags({Estimate::humidity_from_t_min,
                                  Estimate::radiation_from_temperature, Estimate::wind_assumed}));
  CHECK(to_text(in.estimated[0]) == "humidity (Eq. 48); radiation (Eq. 50); wind (2 m/s)");
}

TEST_CASE("complete - rules: coast, dry air, other Angstrom coefficients") {
  const CompletionRules rules{.k_rs_per_sqrt_c = 0.19,
                              .dew_point_below_t_min_c = 2.0,
                              .angstrom = {.a_s = 0.2, .b_s = 0.6}};
  const EtInputs in = complete(bare_day(), site, rules);
  const EtInputs inland = complete(bare_day(), site, CompletionRules{});
  CHECK(in.ea_kpa[0] == saturation_vapour_pressure_kpa(10.3));
  CHECK(in.rs_mj_m2_d[0] / inland.rs_mj_m2_d[0] == near(0.19 / 0.16, 1e-12));
  WeatherSeries sunny = bare_day();
  set(sunny, V::sunshine_h, 0.0);
  const double overcast = complete(sunny, site, CompletionRules{}).rs_mj_m2_d[0];
  CHECK(complete(sunny, site, rules).rs_mj_m2_d[0] / overcast == near(0.2 / 0.25, 1e-12));
}

TEST_CASE("complete - the best measured humidity of each day") {
  WeatherSeries series = full_day();
  const auto ea = [&series] { return complete(series, site, CompletionRules{}).ea_kpa[0]; };
  const auto estimated = [&series] {
    return complete(series, site, CompletionRules{}).estimated[0];
  };
  CHECK(ea() == 1.40);
  CHECK(estimated() == 0);
  set(series, V::ea_kpa, absent);
  CHECK(ea() == saturation_vapour_pressure_kpa(12.0));
  CHECK(estimated() == 0);
  set(series, V::t_dew_c, absent);
  CHECK(ea() == vapour_pressure_from_rh_max_min_kpa(21.5, 12.3, 84.0, 63.0));
  CHECK(estimated() == 0);
  set(series, V::rh_min_pct, absent);
  CHECK(ea() == vapour_pressure_from_rh_max_kpa(12.3, 84.0));
  CHECK(estimated() == flags({Estimate::humidity_from_rh_max}));
  set(series, V::rh_max_pct, absent);
  CHECK(ea() == vapour_pressure_from_rh_mean_kpa(21.5, 12.3, 70.0));
  CHECK(estimated() == flags({Estimate::humidity_from_rh_mean}));
  set(series, V::rh_mean_pct, absent);
  CHECK(ea() == saturation_vapour_pressure_kpa(12.3));
  CHECK(estimated() == flags({Estimate::humidity_from_t_min}));
}

TEST_CASE("complete - measured radiation as it is, then sunshine, then temperatures") {
  WeatherSeries series = full_day();
  const double ra = extraterrestrial_radiation_mj_m2_d(50.8 * std::numbers::pi / 180.0, 187);
  set(series, V::rs_mj_m2, 1.1 * ra);  // impossible, but not for this function to judge
  CHECK(complete(series, site, CompletionRules{}).rs_mj_m2_d[0] == 1.1 * ra);
  set(series, V::rs_mj_m2, absent);
  // FAO-56 Example 18: 22.07 MJ m-2 d-1 from 9.25 h.
  const EtInputs in = complete(series, site, CompletionRules{});
  CHECK(in.rs_mj_m2_d[0] == near(22.07, 0.005));
  CHECK(in.estimated[0] == flags({Estimate::radiation_from_sunshine}));
}

TEST_CASE("complete - wind is brought to 2 m") {
  // FAO-56 Example 18: 10 km/h at 10 m is 2.078 m/s at 2 m.
  CHECK(complete(full_day(), site, CompletionRules{}).u2_m_s[0] == near(2.078, 0.0005));
}

TEST_CASE("complete - interpolated values are flagged where they are used") {
  WeatherSeries series = full_day();
  series.origin(V::t_min_c)[0] = Origin::interpolated;
  series.origin(V::wind_m_s)[0] = Origin::interpolated;
  series.origin(V::rs_mj_m2)[0] = Origin::interpolated;
  series.origin(V::t_dew_c)[0] = Origin::interpolated;  // not used: ea is there
  const Estimates estimated = complete(series, site, CompletionRules{}).estimated[0];
  CHECK(estimated == flags({Estimate::temperature_interpolated, Estimate::wind_interpolated,
                            Estimate::radiation_interpolated}));
  CHECK(to_text(estimated) ==
        "temperature (interpolated); wind (interpolated); radiation (interpolated)");
  set(series, V::ea_kpa, absent);
  CHECK(
      has(complete(series, site, CompletionRules{}).estimated[0], Estimate::humidity_interpolated));
  CHECK(to_text(0).empty());
}

TEST_CASE("complete - each day by itself") {
  WeatherSeries series = full_day();
  series.lines = {2, 3};
  for (std::size_t v = 0; v < variable_count; ++v) {
    if (series.columns[v].size() == 0) continue;
    const double value = series.columns[v][0];
    series.columns[v] = Column::Constant(2, value);
    series.origins[v].assign(2, Origin::observed);
  }
  series[V::rs_mj_m2][1] = absent;
  series[V::wind_m_s][0] = absent;
  const EtInputs in = complete(series, site, CompletionRules{});
  CHECK(in.estimated[0] == flags({Estimate::wind_assumed}));
  CHECK(in.estimated[1] == flags({Estimate::radiation_from_sunshine}));
}

TEST_CASE("complete - refuses what it cannot complete") {
  WeatherSeries no_minimum = bare_day();
  no_minimum[V::t_min_c][0] = absent;
  CHECK_THROWS_AS(static_cast<void>(complete(no_minimum, site, CompletionRules{})),
                  std::invalid_argument);
  WeatherSeries no_column = bare_day();
  no_column[V::t_max_c].resize(0);
  CHECK_THROWS_AS(static_cast<void>(complete(no_column, site, CompletionRules{})),
                  std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(complete(hours(24), site, CompletionRules{})),
                  std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(complete_hourly(bare_day(), site, CompletionRules{})),
                  std::invalid_argument);
}

TEST_CASE("complete_hourly - humidity of the hour, else the coldest hour of its day") {
  WeatherSeries series = hours(30);
  series[V::t_mean_c][4] = 11.0;
  series[V::t_mean_c][27] = 13.0;
  HourlyEtInputs in = complete_hourly(series, site, CompletionRules{});
  CHECK(in.ea_kpa[0] == saturation_vapour_pressure_kpa(11.0));
  CHECK(in.ea_kpa[23] == saturation_vapour_pressure_kpa(11.0));
  CHECK(in.ea_kpa[24] == saturation_vapour_pressure_kpa(13.0));
  CHECK(in.estimated[0] == flags({Estimate::humidity_from_t_min, Estimate::wind_assumed}));
  set(series, V::rh_mean_pct, 52.0);
  in = complete_hourly(series, site, CompletionRules{});
  CHECK(in.ea_kpa[0] == near(0.52 * saturation_vapour_pressure_kpa(20.0), 1e-12));
  CHECK(in.estimated[0] == flags({Estimate::wind_assumed}));
  CHECK(in.utc_offset == std::chrono::minutes{60});
}

TEST_CASE("complete_hourly - radiation may be missing in the dark only") {
  WeatherSeries series = hours(24);
  series[V::rs_mj_m2][1] = absent;
  CHECK(complete_hourly(series, site, CompletionRules{}).rs_mj_m2_h[1] == 0.0);
  series[V::rs_mj_m2][12] = absent;
  CHECK_THROWS_AS(static_cast<void>(complete_hourly(series, site, CompletionRules{})),
                  std::invalid_argument);
  WeatherSeries no_temperature = hours(24);
  no_temperature[V::t_mean_c][3] = absent;
  CHECK_THROWS_AS(static_cast<void>(complete_hourly(no_temperature, site, CompletionRules{})),
                  std::invalid_argument);
}

// Adaptors for the rows that Runnel's sky and reference-ET layers compute. Terms that the paper
// prints but Runnel has no function for (Delta/(Delta + gamma(1 + 0.34 u2)) and the like) are taken
// out of penman_monteith() by feeding it ones.

#include <chrono>
#include <cmath>
#include <limits>
#include <numbers>

#include "registry.hpp"
#include "runnel/reference_et/combination.hpp"
#include "runnel/reference_et/hourly.hpp"
#include "runnel/reference_et/inputs.hpp"
#include "runnel/reference_et/penman_monteith.hpp"
#include "runnel/reference_et/soil_heat.hpp"
#include "runnel/sky/psychrometrics.hpp"
#include "runnel/sky/radiation.hpp"
#include "runnel/sky/sun.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel::reference {
namespace {

using Row = PublishedRow;
using V = Variable;

constexpr double mm_per_mj_m2 = 0.408;  // FAO-56 Eq. 20

double phi(const Row& row) {
  if (row.has("lat_deg")) return row.number("lat_deg") * std::numbers::pi / 180.0;
  const double degrees = row.number("deg") + row.number("min") / 60.0;
  return (row.inputs.at("hemi") == "S" ? -degrees : degrees) * std::numbers::pi / 180.0;
}

int j(const Row& row) { return static_cast<int>(row.number("J")); }

Date date_of(int day_of_year) {  // of a common year
  using namespace std::chrono;
  return local_days{year{2027} / January / 1} + days{day_of_year - 1};
}

double day_number(const Row& row) {
  using namespace std::chrono;
  const year y{row.number("leap") > 0.0 ? 2028 : 2027};
  const month m{static_cast<unsigned>(row.number("month"))};
  return day_of_year(local_days{y / m / day{static_cast<unsigned>(row.number("day"))}});
}

double gamma(const Row& row) {
  return psychrometric_constant_kpa_c(atmospheric_pressure_kpa(row.number("z")));
}

bool is_hourly(const Row& row) { return row.has("t"); }

// --- one day through complete() and daily_steps()
// -------------------------------------------------------------------

void set(WeatherSeries& series, V v, double value) {
  series[v] = Column::Constant(series.rows(), value);
  series.origin(v).assign(series.lines.size(), Origin::observed);
}

WeatherSeries one_day(const Row& row) {
  WeatherSeries series;
  series.first_day = date_of(j(row));
  series.lines = {2};
  series.wind_height_m = row.number_or("zw", 2.0);
  set(series, V::t_max_c, row.number("Tmax"));
  set(series, V::t_min_c, row.number("Tmin"));
  const std::pair<const char*, V> measured[] = {{"ea", V::ea_kpa},
                                                {"RHmax", V::rh_max_pct},
                                                {"RHmin", V::rh_min_pct},
                                                {"uz", V::wind_m_s},
                                                {"n", V::sunshine_h}};
  for (const auto& [key, variable] : measured) {
    if (row.has(key)) set(series, variable, row.number(key));
  }
  return series;
}

Site site_of(const Row& row) {
  return {.latitude_deg = row.number("lat_deg"),
          .longitude_deg = -row.number_or("lon_degW", 0.0),
          .elevation_m = row.number_or("z", 0.0)};
}

DailySteps day_of(const Row& row) {
  const CompletionRules rules{.k_rs_per_sqrt_c = row.number_or("kRs", 0.16)};
  EtInputs inputs = complete(one_day(row), site_of(row), rules);
  if (row.has("u2")) inputs.u2_m_s[0] = row.number("u2");  // already at 2 m
  return daily_steps(inputs, site_of(row), fao56_daily());
}

double soil_heat(const Row& row) {
  if (!row.has("Tprev")) return 0.0;
  if (row.has("Tnext"))
    return monthly_soil_heat_flux_mj_m2_d(row.number("Tprev"), row.number("Tnext"));
  return monthly_soil_heat_flux_so_far_mj_m2_d(row.number("Tprev"),
                                               row.number_or("T", row.number_or("Tmonth", 0.0)));
}

/// Example 17 is a month: its ETo is put together with the soil heat flux of Eq. 44, which a day
/// does not have.
EtParts<double> daily_parts(const Row& row) {
  const DailySteps day = day_of(row);
  return penman_monteith(
      CombinationTerms<double>{.t_c = day.t_mean_c[0],
                               .delta_kpa_c = day.delta_kpa_c[0],
                               .vapour_deficit_kpa = day.es_kpa[0] - day.ea_kpa[0],
                               .u2_m_s = day.u2_m_s[0],
                               .rn_less_g_mj_m2 = day.rn_mj_m2_d[0] - soil_heat(row)},
      day.gamma_kpa_c[0], fao56_daily().cd_day, fao56_daily());
}

// --- one hour through complete_hourly() and hourly_steps()
// -----------------------------------------------------------

struct Hour {
  HourlySteps steps;
  Eigen::Index row;
};

/// The row's hour at the end of hours like it. Where the paper assumes the night's Rs/Rso, the day
/// before is given the radiation that has this ratio, from which the night then takes it over.
Hour hour_of(const Row& row) {
  const bool assumed = row.has("RsRso");
  const auto hour = static_cast<Eigen::Index>(row.number("t"));
  const Eigen::Index before = assumed ? 24 : 0;
  WeatherSeries series;
  series.step = Step::hour;
  series.first_day = date_of(j(row)) - std::chrono::days{before / 24};
  series.utc_offset = std::chrono::minutes{static_cast<int>(-4.0 * row.number("Lz_degW"))};
  series.lines.assign(static_cast<std::size_t>(before + hour + 1), 2);
  set(series, V::t_mean_c, row.number_or("T", 20.0));
  set(series, V::rh_mean_pct, row.number_or("RH", 50.0));
  set(series, V::rs_mj_m2, row.number_or("Rs", 0.0));
  const CompletionRules rules;
  HourlyEtInputs inputs = complete_hourly(series, site_of(row), rules);
  inputs.u2_m_s.setConstant(row.number_or("u2", 2.0));  // already at 2 m
  if (assumed) {
    const HourlySteps dark = hourly_steps(inputs, site_of(row), fao56_hourly());
    inputs.rs_mj_m2_h.head(24) = row.number("RsRso") * dark.rso_mj_m2_h.head(24);
  }
  return {.steps = hourly_steps(inputs, site_of(row), fao56_hourly()), .row = before + hour};
}

EtParts<double> hourly_parts(const Row& row) {
  const auto [h, i] = hour_of(row);
  return penman_monteith(
      CombinationTerms<double>{.t_c = h.t_c[i],
                               .delta_kpa_c = h.delta_kpa_c[i],
                               .vapour_deficit_kpa = h.es_kpa[i] - h.ea_kpa[i],
                               .u2_m_s = h.u2_m_s[i],
                               .rn_less_g_mj_m2 = h.rn_mj_m2_h[i] - h.g_mj_m2_h[i]},
      h.gamma_kpa_c[i], fao56_hourly().cd_day, fao56_hourly());
}

EtParts<double> parts(const Row& row) {
  return is_hourly(row) ? hourly_parts(row) : daily_parts(row);
}

/// A step of the row's day or hour.
Adaptor step(Column DailySteps::*of_day, Column HourlySteps::*of_hour) {
  return [of_day, of_hour](const Row& row) {
    if (!is_hourly(row)) return (day_of(row).*of_day)[0];
    const Hour hour = hour_of(row);
    return (hour.steps.*of_hour)[hour.row];
  };
}

// --- the sun and the air
// ----------------------------------------------------------------------------------------------

double time_angle(const Row& row, double shift_h) {
  return solar_time_angle_rad(row.number("t") + shift_h, -row.number("lon_degW"),
                              -row.number("Lz_degW") / 15.0, j(row));
}

double ra(const Row& row) {
  if (!is_hourly(row)) return extraterrestrial_radiation_mj_m2_d(phi(row), j(row));
  return extraterrestrial_radiation_mj_m2(phi(row), j(row), time_angle(row, -0.5),
                                          time_angle(row, 0.5));
}

double rs(const Row& row) {
  if (row.has("Rs")) return row.number("Rs");
  if (row.has("Tmax")) {
    return radiation_from_temperature(ra(row), row.number("Tmax"), row.number("Tmin"),
                                      row.number("kRs"), row.number_or("z", 0.0));
  }
  const AngstromCoefficients angstrom{.a_s = row.number_or("as", fao56_angstrom.a_s),
                                      .b_s = row.number_or("bs", fao56_angstrom.b_s)};
  return radiation_from_sunshine(ra(row), row.number("n"), daylight_hours(phi(row), j(row)),
                                 angstrom);
}

double rso(const Row& row) {
  if (row.has("Rso")) return row.number("Rso");
  return clear_sky_share(row.number_or("z", 0.0)) * ra(row);
}

double vapour_pressure(const Row& row) {
  if (row.has("ea")) return row.number("ea");
  if (row.has("T"))
    return saturation_vapour_pressure_kpa(row.number("T")) * row.number("RH") / 100.0;  // Eq. 54
  if (row.has("RHmin")) {
    return vapour_pressure_from_rh_max_min_kpa(row.number("Tmax"), row.number("Tmin"),
                                               row.number("RHmax"), row.number("RHmin"));
  }
  if (row.has("RHmax"))
    return vapour_pressure_from_rh_max_kpa(row.number("Tmin"), row.number("RHmax"));
  return vapour_pressure_from_rh_mean_kpa(row.number("Tmax"), row.number("Tmin"),
                                          row.number("RHmean"));
}

double saturation(const Row& row) {
  if (row.has("T")) return saturation_vapour_pressure_kpa(row.number("T"));
  return mean_saturation_vapour_pressure_kpa(row.number("Tmax"), row.number("Tmin"));
}

/// The cloudiness term of Eq. 39: net_longwave() of a body that radiates 1 into air without vapour,
/// less its 0.34.
double cloudiness(double clear_ratio) {
  const Method& method = fao56_daily();
  return net_longwave(1.0 / method.stefan_boltzmann, 0.0, clear_ratio, method) / 0.34;
}

double cloudiness_of(const Row& row) {
  if (is_hourly(row)) {
    const Hour hour = hour_of(row);
    return cloudiness(hour.steps.clear_ratio[hour.row]);
  }
  if (!row.has("Tmax")) return cloudiness(rs(row) / rso(row));
  const DailySteps day = day_of(row);
  return cloudiness(day.rs_mj_m2_d[0] / day.rso_mj_m2_d[0]);
}

/// The humidity term of Eq. 39: the same under a clear sky, where the cloudiness term is 1.
double humidity_term(const Row& row) {
  const Method& method = fao56_daily();
  return net_longwave(1.0 / method.stefan_boltzmann, vapour_pressure(row), 1.0, method);
}

// --- the factors of Eq. 6
// ----------------------------------------------------------------------------------------------

/// penman_monteith() with Delta of T, gamma of z and the given rest.
EtParts<double> eq6(const Row& row, double rn, double deficit, const Method& method) {
  const double t = row.number("T");
  return penman_monteith(CombinationTerms<double>{.t_c = t,
                                                  .delta_kpa_c = vapour_pressure_slope_kpa_c(t),
                                                  .vapour_deficit_kpa = deficit,
                                                  .u2_m_s = row.number("u2"),
                                                  .rn_less_g_mj_m2 = rn},
                         gamma(row), method.cd_day, method);
}

double delta_factor(const Row& row) {
  return eq6(row, 1.0 / mm_per_mj_m2, 0.0, fao56_daily()).radiation_mm;
}

double gamma_factor(const Row& row) {
  Method method = fao56_daily();
  method.cn = (row.number("T") + 273.0) / row.number("u2");
  return eq6(row, 0.0, 1.0, method).aerodynamic_mm;
}

/// 900 u2 / (T + 273): the aerodynamic part with Delta = 0, gamma = 1 and no resistance of the
/// surface.
double wind_factor(double t_c, double u2) {
  return penman_monteith(CombinationTerms<double>{.t_c = t_c,
                                                  .delta_kpa_c = 0.0,
                                                  .vapour_deficit_kpa = 1.0,
                                                  .u2_m_s = u2,
                                                  .rn_less_g_mj_m2 = 0.0},
                         1.0, 0.0, fao56_daily())
      .aerodynamic_mm;
}

/// Example 18 prints 6.450 from the u2 that it also prints, rounded, as 2.078 (which gives 6.451):
/// computed from its 10 km/h at 10 m, as long as that is the same u2.
double wind_factor_of_example_18(const Row& row) {
  const double u2 = wind_at_2m_m_s(parse_measure("10 km/h", Dimension::speed).value, 10.0);
  if (std::abs(u2 - row.number("u2")) > 0.0005) return std::numeric_limits<double>::quiet_NaN();
  return wind_factor(row.number("T"), u2);
}

/// 1 + 0.34 u2: the inverse of the radiation part with Delta vanishing beside gamma = 1.
double resistance_factor(const Row& row) {
  constexpr double delta = 1e-9;
  const auto et =
      penman_monteith(CombinationTerms<double>{.t_c = 20.0,
                                               .delta_kpa_c = delta,
                                               .vapour_deficit_kpa = 0.0,
                                               .u2_m_s = row.number("u2"),
                                               .rn_less_g_mj_m2 = 1.0 / (mm_per_mj_m2 * delta)},
                      1.0, fao56_daily().cd_day, fao56_daily());
  return 1.0 / et.radiation_mm;
}

/// 0.408 (Rn - G): the radiation part without gamma.
double energy_mm(const Row& row) {
  const double rn = step(&DailySteps::rn_mj_m2_d, &HourlySteps::rn_mj_m2_h)(row);
  const double g =
      is_hourly(row) ? step(&DailySteps::g_mj_m2_d, &HourlySteps::g_mj_m2_h)(row) : soil_heat(row);
  return penman_monteith(CombinationTerms<double>{.t_c = 20.0,
                                                  .delta_kpa_c = 1.0,
                                                  .vapour_deficit_kpa = 0.0,
                                                  .u2_m_s = 2.0,
                                                  .rn_less_g_mj_m2 = rn - g},
                         0.0, fao56_daily().cd_day, fao56_daily())
      .radiation_mm;
}

void add_air(Registry& r) {
  r.add({"P"}, [](const Row& row) { return atmospheric_pressure_kpa(row.number("z")); });
  r.add({"gamma"}, gamma);
  r.add({"e0"}, saturation);
  r.add({"es"}, saturation);
  r.add({"ea"}, vapour_pressure);
  r.add({"es-ea"}, [](const Row& row) { return saturation(row) - vapour_pressure(row); });
  r.add({"Delta"}, [](const Row& row) { return vapour_pressure_slope_kpa_c(row.number("T")); });
  r.add({"Tmean"}, [](const Row& row) { return (row.number("Tmax") + row.number("Tmin")) / 2.0; });
  r.add({"f"}, [](const Row& row) { return wind_at_2m_m_s(1.0, row.number("z")); });
  r.add({"u2"}, [](const Row& row) {
    return wind_at_2m_m_s(row.number("uz"), row.number_or("zw", row.number_or("z", 2.0)));
  });
  r.add({"uz"}, [](const Row& row) {
    const MeasureOrFault speed = parse_measure(row.inputs.at("kmh") + " km/h", Dimension::speed);
    return speed.fault.empty() ? speed.value : std::numeric_limits<double>::quiet_NaN();
  });
}

void add_sun(Registry& r) {
  r.add({"phi"}, phi);
  r.add({"J"}, day_number);
  r.add({"dr"}, [](const Row& row) { return inverse_relative_distance(j(row)); });
  r.add({"delta"}, [](const Row& row) { return declination_rad(j(row)); });
  r.add({"omega_s"}, [](const Row& row) { return sunset_hour_angle_rad(phi(row), j(row)); });
  // The sine of the sun's elevation is sin(phi)sin(delta) at 6 h solar time, and the other product
  // more at noon.
  const auto sine = [](const Row& row, double omega) {
    return std::sin(sun_elevation_rad(phi(row), j(row), omega));
  };
  const auto at_six = [sine](const Row& row) { return sine(row, std::numbers::pi / 2.0); };
  r.add({"-", "", "sin(phi)sin(delta)"}, at_six);
  r.add({"-", "", "cos(phi)cos(delta)"},
        [=](const Row& row) { return sine(row, 0.0) - at_six(row); });
  r.add({"sin(eta)"}, [=](const Row& row) { return sine(row, 0.0); });
  r.add({"b"}, [](const Row& row) { return seasonal_angle_rad(j(row)); });
  r.add({"Sc"}, [](const Row& row) { return seasonal_correction_h(j(row)); });
  r.add({"omega"}, [](const Row& row) { return time_angle(row, 0.0); });
  r.add({"omega1"}, [](const Row& row) { return time_angle(row, -0.5); });
  r.add({"omega2"}, [](const Row& row) { return time_angle(row, 0.5); });
  r.add({"N"}, [](const Row& row) { return daylight_hours(phi(row), j(row)); });
  r.add({"n", "10"}, [](const Row& row) { return row.number("hours_month") / row.number("days"); });
  r.add({"n/N"}, [](const Row& row) { return row.number("n") / daylight_hours(phi(row), j(row)); });
}

void add_radiation(Registry& r) {
  r.add({"Ra"}, ra);
  r.add({"Ra_mm"}, [](const Row& row) { return mm_per_mj_m2 * ra(row); });
  r.add({"Rs"}, rs);
  r.add({"Rs_mm"}, [](const Row& row) { return mm_per_mj_m2 * rs(row); });
  r.add({"Rso"}, rso);
  r.add({"Rs/Rso"}, [](const Row& row) { return rs(row) / rso(row); });
  r.add({"Rs/Ra"}, [](const Row& row) {
    return radiation_from_temperature(1.0, row.number("Tmax"), row.number("Tmin"),
                                      row.number("kRs"), 0.0);
  });
  r.add({"Rns"}, [](const Row& row) { return net_shortwave(rs(row)); });
  r.add({"sigmaT4"}, [](const Row& row) {
    const Method& method = row.number_or("sigma", 1e-9) < 1e-9 ? fao56_hourly() : fao56_daily();
    return method.stefan_boltzmann * fourth_power_k4(row.number("T"));
  });
  r.add({"0.34-0.14sqrt(ea)"}, humidity_term);
  r.add({"1.35Rs/Rso-0.35"}, cloudiness_of);
  r.add({"Rnl"}, step(&DailySteps::rnl_mj_m2_d, &HourlySteps::rnl_mj_m2_h));
  r.add({"Rnl_mm"}, [](const Row& row) { return mm_per_mj_m2 * row.number("Rnl"); });
  r.add({"Rn"}, step(&DailySteps::rn_mj_m2_d, &HourlySteps::rn_mj_m2_h));
  const auto g = [](const Row& row) {
    return is_hourly(row) ? step(&DailySteps::g_mj_m2_d, &HourlySteps::g_mj_m2_h)(row)
                          : soil_heat(row);
  };
  r.add({"G"}, g);
  r.add({"G_mm"}, [](const Row& row) { return mm_per_mj_m2 * soil_heat(row); });
  r.add({"Rn-G"}, [g](const Row& row) {
    return step(&DailySteps::rn_mj_m2_d, &HourlySteps::rn_mj_m2_h)(row) - g(row);
  });
}

void add_evapotranspiration(Registry& r) {
  r.add({"-", "", "Delta/[Delta+gamma(1+0.34u2)]"}, delta_factor);
  r.add({"-", "", "gamma/[Delta+gamma(1+0.34u2)]"}, gamma_factor);
  r.add({"-", "", "900 u2/(T+273)"},
        [](const Row& row) { return wind_factor(row.number("T"), row.number("u2")); });
  r.add({"-", "18", "900 u2/(T+273)"}, wind_factor_of_example_18);
  r.add({"-", "", "1+0.34u2"}, resistance_factor);
  r.add({"-", "", "0.408(Rn-G)"}, energy_mm);
  r.add({"ETrad"}, [](const Row& row) { return parts(row).radiation_mm; });
  r.add({"ETaero"}, [](const Row& row) { return parts(row).aerodynamic_mm; });
  r.add({"ETo"},
        [](const Row& row) { return parts(row).radiation_mm + parts(row).aerodynamic_mm; });
  r.add({"ETo", "", "hourly"}, step(&DailySteps::eto_mm_d, &HourlySteps::eto_mm_h));
  r.add({"ETo", "18"}, step(&DailySteps::eto_mm_d, &HourlySteps::eto_mm_h));
}

}  // namespace

void add_et_formulas(Registry& registry) {
  add_air(registry);
  add_sun(registry);
  add_radiation(registry);
  add_evapotranspiration(registry);
}

}  // namespace runnel::reference

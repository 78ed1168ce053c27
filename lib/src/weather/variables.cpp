#include "variables.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <stdexcept>

#include "runnel/units/number.hpp"
#include "runnel/weather/weather_csv.hpp"

namespace runnel {
namespace {

using D = Dimension;
using V = Variable;

// Limits "Q..." are those of an open quality-control package for agricultural weather (Journal of
// Open Source Software 2024, doi 10.21105/joss.06368). Where that package refuses values that do
// occur, the wider limit's reason stands beside.
constexpr Limits air_temperature_c{-50.0, 60.0};  // Q01
// 42 degC is the 8 kPa of Q05; the lower end is common practice, no source.
constexpr Limits dew_point_c{-60.0, 42.0};
// Q06 starts above 2 %, but deserts have hours below that.
constexpr Limits humidity_pct{0.0, 110.0};
constexpr Limits vapour_kpa{0.0, 8.0};  // Q05
// Q02 starts above 0, but calm hours and sheltered days are 0.
constexpr Limits wind_m_s{0.0, 35.0};

// The last figure of a row is a high value of an ordinary summer; it only chooses between units
// that would all be possible. Radiation from 0: the 0.43 of Q04 would refuse December north of 60
// degrees. An hour: the solar constant of FAO-56 (0.0820 MJ m-2 min-1, 4.92 an hour) and a fifth
// more, for the light that clouds add (ASCE-EWRI 2005 p. 38 lets an hour exceed clear sky, without
// a figure). The low end admits the offset of a data logger at night, see values.cpp. Hourly
// rain: the highest ever measured, 305 mm (from memory). Reference ET: common practice, no source.
// clang-format off
constexpr std::array<VariableFacts, variable_count> daily_facts{{
    {V::t_max_c, "tmax", "degC", D::temperature, D::temperature, air_temperature_c, 35.0},
    {V::t_min_c, "tmin", "degC", D::temperature, D::temperature, air_temperature_c, 20.0},
    {V::t_mean_c, "tmean", "degC", D::temperature, D::temperature, air_temperature_c, 28.0},
    {V::t_dew_c, "tdew", "degC", D::temperature, D::temperature, dew_point_c, 18.0},
    {V::rh_max_pct, "rhmax", "%", D::share, D::share, humidity_pct, 100.0},
    {V::rh_min_pct, "rhmin", "%", D::share, D::share, humidity_pct, 80.0},
    {V::rh_mean_pct, "rhmean", "%", D::share, D::share, humidity_pct, 90.0},
    {V::ea_kpa, "vapour_pressure", "kPa", D::pressure, D::pressure, vapour_kpa, 1.2},
    {V::wind_m_s, "wind", "m/s", D::speed, D::speed, wind_m_s, 6.0},
    {V::rs_mj_m2, "radiation", "MJ/m2/d", D::daily_radiation, D::daily_radiation, {0.0, 60.5},
     30.0},  // Q04
    {V::sunshine_h, "sunshine", "h", D::duration, D::duration, {0.0, 24.0}, 14.0},
    {V::rain_mm, "rain", "mm", D::depth, D::daily_depth, {0.0, 610.0}, 30.0},  // Q03
    {V::eto_mm, "reference_et", "mm", D::depth, D::daily_depth, {-0.5, 25.0}, 8.0},
}};
constexpr std::array<VariableFacts, variable_count> hourly_facts{{
    {V::t_max_c, "tmax", "degC", D::temperature, D::temperature, air_temperature_c, 35.0},
    {V::t_min_c, "tmin", "degC", D::temperature, D::temperature, air_temperature_c, 35.0},
    {V::t_mean_c, "tmean", "degC", D::temperature, D::temperature, air_temperature_c, 35.0},
    {V::t_dew_c, "tdew", "degC", D::temperature, D::temperature, dew_point_c, 18.0},
    {V::rh_max_pct, "rhmax", "%", D::share, D::share, humidity_pct, 100.0},
    {V::rh_min_pct, "rhmin", "%", D::share, D::share, humidity_pct, 100.0},
    {V::rh_mean_pct, "rhmean", "%", D::share, D::share, humidity_pct, 100.0},
    {V::ea_kpa, "vapour_pressure", "kPa", D::pressure, D::pressure, vapour_kpa, 1.2},
    {V::wind_m_s, "wind", "m/s", D::speed, D::speed, wind_m_s, 10.0},
    {V::rs_mj_m2, "radiation", "MJ/m2/h", D::hourly_radiation, D::hourly_radiation, {0.0, 5.9},
     3.3},
    {V::sunshine_h, "sunshine", "h", D::duration, D::duration, {0.0, 1.0}, 1.0},
    {V::rain_mm, "rain", "mm", D::depth, D::rate, {0.0, 305.0}, 15.0},
    {V::eto_mm, "reference_et", "mm", D::depth, D::rate, {-0.5, 3.0}, 0.9},
}};
// clang-format on

struct Spelling {
  std::string_view plain;
  Variable variable;
};
constexpr auto spellings = std::to_array<Spelling>({
    {"tempmax", V::t_max_c},
    {"maxtemp", V::t_max_c},
    {"tx", V::t_max_c},
    {"maxt", V::t_max_c},
    {"temperaturemax", V::t_max_c},
    {"maxtemperature", V::t_max_c},
    {"maximumtemperature", V::t_max_c},
    {"temperaturemaximum", V::t_max_c},
    {"tmaximum", V::t_max_c},
    {"airtempmax", V::t_max_c},
    {"maxairtemp", V::t_max_c},
    {"airtemperaturemax", V::t_max_c},
    {"maxairtemperature", V::t_max_c},
    {"hightemp", V::t_max_c},
    {"temphigh", V::t_max_c},

    {"tempmin", V::t_min_c},
    {"mintemp", V::t_min_c},
    {"tn", V::t_min_c},
    {"mint", V::t_min_c},
    {"temperaturemin", V::t_min_c},
    {"mintemperature", V::t_min_c},
    {"minimumtemperature", V::t_min_c},
    {"temperatureminimum", V::t_min_c},
    {"tminimum", V::t_min_c},
    {"airtempmin", V::t_min_c},
    {"minairtemp", V::t_min_c},
    {"airtemperaturemin", V::t_min_c},
    {"minairtemperature", V::t_min_c},
    {"lowtemp", V::t_min_c},
    {"templow", V::t_min_c},

    {"tempmean", V::t_mean_c},
    {"meantemp", V::t_mean_c},
    {"tavg", V::t_mean_c},
    {"tempavg", V::t_mean_c},
    {"avgtemp", V::t_mean_c},
    {"averagetemp", V::t_mean_c},
    {"temperature", V::t_mean_c},
    {"temp", V::t_mean_c},
    {"airtemp", V::t_mean_c},
    {"airtemperature", V::t_mean_c},
    {"tair", V::t_mean_c},
    {"drybulb", V::t_mean_c},
    {"temperaturemean", V::t_mean_c},
    {"meantemperature", V::t_mean_c},
    {"averagetemperature", V::t_mean_c},

    {"dewpoint", V::t_dew_c},
    {"dewpt", V::t_dew_c},
    {"dew", V::t_dew_c},
    {"td", V::t_dew_c},
    {"dewpointtemperature", V::t_dew_c},
    {"dewpointtemp", V::t_dew_c},
    {"tdewpoint", V::t_dew_c},
    {"meandewpoint", V::t_dew_c},
    {"dewpointmean", V::t_dew_c},

    {"rhx", V::rh_max_pct},
    {"maxrh", V::rh_max_pct},
    {"humiditymax", V::rh_max_pct},
    {"maxhumidity", V::rh_max_pct},
    {"relativehumiditymax", V::rh_max_pct},
    {"maxrelativehumidity", V::rh_max_pct},
    {"rhn", V::rh_min_pct},
    {"minrh", V::rh_min_pct},
    {"humiditymin", V::rh_min_pct},
    {"minhumidity", V::rh_min_pct},
    {"relativehumiditymin", V::rh_min_pct},
    {"minrelativehumidity", V::rh_min_pct},
    {"rh", V::rh_mean_pct},
    {"rhum", V::rh_mean_pct},
    {"humidity", V::rh_mean_pct},
    {"rhavg", V::rh_mean_pct},
    {"avgrh", V::rh_mean_pct},
    {"meanrh", V::rh_mean_pct},
    {"relativehumidity", V::rh_mean_pct},
    {"humiditymean", V::rh_mean_pct},
    {"meanhumidity", V::rh_mean_pct},
    {"relativehumiditymean", V::rh_mean_pct},

    {"ea", V::ea_kpa},
    {"vp", V::ea_kpa},
    {"vaporpressure", V::ea_kpa},
    {"actualvapourpressure", V::ea_kpa},
    {"actualvaporpressure", V::ea_kpa},

    {"windspeed", V::wind_m_s},
    {"ws", V::wind_m_s},
    {"u2", V::wind_m_s},
    {"wspd", V::wind_m_s},
    {"windspeedmean", V::wind_m_s},
    {"meanwindspeed", V::wind_m_s},
    {"windmean", V::wind_m_s},
    {"avgwindspeed", V::wind_m_s},
    {"windspeedavg", V::wind_m_s},
    {"averagewindspeed", V::wind_m_s},

    {"rs", V::rs_mj_m2},
    {"solar", V::rs_mj_m2},
    {"srad", V::rs_mj_m2},
    {"sr", V::rs_mj_m2},
    {"ghi", V::rs_mj_m2},
    {"solarradiation", V::rs_mj_m2},
    {"solarrad", V::rs_mj_m2},
    {"globalradiation", V::rs_mj_m2},
    {"globalsolarradiation", V::rs_mj_m2},
    {"shortwaveradiation", V::rs_mj_m2},
    {"globalhorizontalirradiance", V::rs_mj_m2},

    {"sun", V::sunshine_h},
    {"sunhours", V::sunshine_h},
    {"sunshinehours", V::sunshine_h},
    {"sunshineduration", V::sunshine_h},
    {"hoursofsunshine", V::sunshine_h},
    {"brightsunshine", V::sunshine_h},

    {"precipitation", V::rain_mm},
    {"precip", V::rain_mm},
    {"prcp", V::rain_mm},
    {"rainfall", V::rain_mm},
    {"ppt", V::rain_mm},
    {"pcpn", V::rain_mm},
    {"totalprecipitation", V::rain_mm},
    {"raintotal", V::rain_mm},
    {"precipitationsum", V::rain_mm},
    {"rainsum", V::rain_mm},

    {"et0", V::eto_mm},
    {"eto", V::eto_mm},
    {"etos", V::eto_mm},
    {"refet", V::eto_mm},
    {"etref", V::eto_mm},
    {"referenceevapotranspiration", V::eto_mm},
});

/// Spellings of a share that the unit table, where a bare number is one, cannot hold.
bool is_bare_share(std::string_view written) {
  const std::string word = lower(written);
  return word == "share" || word == "fraction" || word == "1" || word == "0-1";
}

const Unit* find_in_dimensions(const VariableFacts& variable, std::string_view written) {
  const Unit* unit = find_unit(written, variable.dimension);
  return unit != nullptr ? unit : find_unit(written, variable.other_dimension);
}

const Unit& own_unit(const VariableFacts& variable) {
  const Unit* unit = find_unit(variable.unit, variable.dimension);
  if (unit == nullptr)
    throw std::logic_error("weather: a variable's own unit is not in the unit table");
  return *unit;
}

constexpr auto names = [] {
  std::array<std::string_view, variable_count> result{};
  for (std::size_t i = 0; i < variable_count; ++i) result[i] = daily_facts[i].name;
  return result;
}();

}  // namespace

const VariableFacts& facts(Variable variable, Step step) {
  const auto i = static_cast<std::size_t>(variable);
  return step == Step::day ? daily_facts.at(i) : hourly_facts.at(i);
}

std::span<const std::string_view> standard_names() { return names; }

std::string_view standard_name(Variable variable) { return facts(variable, Step::day).name; }

std::optional<Variable> variable_named(std::string_view standard_name) {
  for (const VariableFacts& known : daily_facts) {
    if (known.name == standard_name) return known.variable;
  }
  return std::nullopt;
}

std::string plain_name(std::string_view written) {
  std::string plain = lower(written);
  std::erase_if(plain, [](char c) { return c == ' ' || c == '_' || c == '-' || c == '.'; });
  return plain;
}

std::optional<Variable> variable_spelled(std::string_view plain) {
  for (const VariableFacts& known : daily_facts) {
    if (plain_name(known.name) == plain) return known.variable;
  }
  for (const Spelling& known : spellings) {
    if (known.plain == plain) return known.variable;
  }
  return std::nullopt;
}

const Unit* unit_for(const VariableFacts& variable, std::string_view written) {
  if (variable.dimension == Dimension::share && is_bare_share(written))
    return find_unit("", Dimension::share);
  if (written.empty()) return nullptr;
  if (const Unit* unit = find_in_dimensions(variable, written)) return unit;
  std::string without_caret(written);
  std::erase(without_caret, '^');
  return find_in_dimensions(variable, without_caret);
}

Conversion conversion(const VariableFacts& variable, const Unit& from) {
  const Unit& own = own_unit(variable);
  return {from.factor / own.factor, (from.offset - own.offset) / own.factor};
}

std::string units_for(const VariableFacts& variable) {
  return variable.dimension == Dimension::share ? "%, share" : units_of(variable.dimension);
}

}  // namespace runnel

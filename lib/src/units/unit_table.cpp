#include "runnel/units/unit_table.hpp"

#include <algorithm>
#include <array>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace runnel {
namespace {

using D = Dimension;

// Exact by definition: the international yard and pound agreement of 1959 (in, ft, yd, mile, lb),
// the US liquid gallon of 231 in³ and the imperial gallon of 4.54609 L (NIST SP 811, Appendix B),
// standard gravity 9.80665 m/s² (3rd CGPM).
constexpr double inch_mm = 25.4;
constexpr double foot_m = 0.3048;
constexpr double yard_m = 0.9144;
constexpr double mile_m = 1609.344;
constexpr double nautical_mile_m = 1852.0;
constexpr double square_foot_m2 = foot_m * foot_m;
constexpr double square_inch_m2 = inch_mm * inch_mm / 1.0e6;
// 43 560 international square feet. The US survey foot, which UDUNITS' "acre" still uses, was
// retired at the end of 2022 (NIST, Federal Register 85 FR 62698).
constexpr double acre_m2 = 43560.0 * square_foot_m2;
constexpr double us_gallon_l = 3.785411784;
constexpr double imperial_gallon_l = 4.54609;
constexpr double psi_kpa = 0.45359237 * 9.80665 / (0.0254 * 0.0254) / 1000.0;
// Conventional millimetre of mercury, 13 595.1 kg/m³ under standard gravity (NIST SP 811, Appendix
// B).
constexpr double mmhg_kpa = 13595.1 * 9.80665 / 1.0e6;
// 1 langley = 1 cal/cm². The International Table calorie of 4.1868 J, as FAO-56 Table 3 has it (1
// cal cm-2 day-1 = 4.1868 10-2 MJ m-2 day-1), and not the thermochemical one of 4.184 J behind
// UDUNITS' "langley".
constexpr double langley_mj_m2 = 0.041868;
constexpr double watt_day_mj = 0.0864;   // 86 400 s
constexpr double watt_hour_mj = 0.0036;  // 3 600 s
constexpr double day_h = 24.0;
constexpr double pi = 3.14159265358979323846;

// clang-format off
constexpr auto table = std::to_array<Unit>({
    {"m", D::length, 1.0, 0.0, "m"},
    {"metre", D::length, 1.0, 0.0, "m"},
    {"metres", D::length, 1.0, 0.0, "m"},
    {"meter", D::length, 1.0, 0.0, "m"},
    {"meters", D::length, 1.0, 0.0, "m"},
    {"cm", D::length, 0.01, 0.0, "cm"},
    {"mm", D::length, 0.001, 0.0, "mm"},
    {"km", D::length, 1000.0, 0.0, "km"},
    {"in", D::length, inch_mm / 1000.0, 0.0, "in"},
    {"inch", D::length, inch_mm / 1000.0, 0.0, "in"},
    {"inches", D::length, inch_mm / 1000.0, 0.0, "in"},
    {"ft", D::length, foot_m, 0.0, "ft"},
    {"foot", D::length, foot_m, 0.0, "ft"},
    {"feet", D::length, foot_m, 0.0, "ft"},
    {"yd", D::length, yard_m, 0.0, "yd"},
    {"yard", D::length, yard_m, 0.0, "yd"},
    {"yards", D::length, yard_m, 0.0, "yd"},

    {"mm", D::depth, 1.0, 0.0, "mm"},
    {"cm", D::depth, 10.0, 0.0, "cm"},
    {"in", D::depth, inch_mm, 0.0, "in"},
    {"inch", D::depth, inch_mm, 0.0, "in"},
    {"inches", D::depth, inch_mm, 0.0, "in"},
    {"L/m2", D::depth, 1.0, 0.0, "L/m2"},
    {"L/m²", D::depth, 1.0, 0.0, "L/m2"},

    {"m2", D::area, 1.0, 0.0, "m2"},
    {"m²", D::area, 1.0, 0.0, "m2"},
    {"m^2", D::area, 1.0, 0.0, "m2"},
    {"sq m", D::area, 1.0, 0.0, "m2"},
    {"sqm", D::area, 1.0, 0.0, "m2"},
    {"square metre", D::area, 1.0, 0.0, "m2"},
    {"square metres", D::area, 1.0, 0.0, "m2"},
    {"square meter", D::area, 1.0, 0.0, "m2"},
    {"square meters", D::area, 1.0, 0.0, "m2"},
    {"sq ft", D::area, square_foot_m2, 0.0, "ft2"},
    {"sqft", D::area, square_foot_m2, 0.0, "ft2"},
    {"ft2", D::area, square_foot_m2, 0.0, "ft2"},
    {"ft²", D::area, square_foot_m2, 0.0, "ft2"},
    {"ft^2", D::area, square_foot_m2, 0.0, "ft2"},
    {"square foot", D::area, square_foot_m2, 0.0, "ft2"},
    {"square feet", D::area, square_foot_m2, 0.0, "ft2"},
    {"acre", D::area, acre_m2, 0.0, "43560 ft2"},
    {"acres", D::area, acre_m2, 0.0, "43560 ft2"},
    {"ha", D::area, 10000.0, 0.0, "hectare"},
    {"hectare", D::area, 10000.0, 0.0, "hectare"},
    {"hectares", D::area, 10000.0, 0.0, "hectare"},
    {"cm2", D::area, 1e-4, 0.0, "cm2"},
    {"cm²", D::area, 1e-4, 0.0, "cm2"},
    {"sq cm", D::area, 1e-4, 0.0, "cm2"},
    {"sq in", D::area, square_inch_m2, 0.0, "in2"},
    {"in2", D::area, square_inch_m2, 0.0, "in2"},
    {"in²", D::area, square_inch_m2, 0.0, "in2"},

    {"L", D::volume, 1.0, 0.0, "L"},
    {"litre", D::volume, 1.0, 0.0, "L"},
    {"litres", D::volume, 1.0, 0.0, "L"},
    {"liter", D::volume, 1.0, 0.0, "L"},
    {"liters", D::volume, 1.0, 0.0, "L"},
    {"mL", D::volume, 0.001, 0.0, "mL"},
    {"m3", D::volume, 1000.0, 0.0, "m3"},
    {"m³", D::volume, 1000.0, 0.0, "m3"},
    {"m^3", D::volume, 1000.0, 0.0, "m3"},
    // UDUNITS rounds its gallon to 3.785412 L: the cubic inches are exact.
    {"gal", D::volume, us_gallon_l, 0.0, "231 in3"},
    {"gallon", D::volume, us_gallon_l, 0.0, "231 in3"},
    {"gallons", D::volume, us_gallon_l, 0.0, "231 in3"},
    {"US gal", D::volume, us_gallon_l, 0.0, "231 in3"},
    {"imp gal", D::volume, imperial_gallon_l, 0.0, "UK_liquid_gallon"},

    {"L/h", D::flow, 1.0, 0.0, "L/h"},
    {"L/hr", D::flow, 1.0, 0.0, "L/h"},
    {"lph", D::flow, 1.0, 0.0, "L/h"},
    {"L/min", D::flow, 60.0, 0.0, "L/min"},
    {"lpm", D::flow, 60.0, 0.0, "L/min"},
    {"L/s", D::flow, 3600.0, 0.0, "L/s"},
    {"m3/h", D::flow, 1000.0, 0.0, "m3/h"},
    {"m³/h", D::flow, 1000.0, 0.0, "m3/h"},
    {"mL/min", D::flow, 0.06, 0.0, "mL/min"},
    {"gph", D::flow, us_gallon_l, 0.0, "231 in3/h"},
    {"gal/h", D::flow, us_gallon_l, 0.0, "231 in3/h"},
    {"gal/hr", D::flow, us_gallon_l, 0.0, "231 in3/h"},
    {"gpm", D::flow, 60.0 * us_gallon_l, 0.0, "231 in3/min"},
    {"gal/min", D::flow, 60.0 * us_gallon_l, 0.0, "231 in3/min"},

    {"kPa", D::pressure, 1.0, 0.0, "kPa"},
    {"bar", D::pressure, 100.0, 0.0, "bar"},
    {"mbar", D::pressure, 0.1, 0.0, "mbar"},
    {"hPa", D::pressure, 0.1, 0.0, "hPa"},
    {"psi", D::pressure, psi_kpa, 0.0, "psi"},
    {"Pa", D::pressure, 0.001, 0.0, "Pa"},
    {"mmHg", D::pressure, mmhg_kpa, 0.0, "mm conventional_mercury"},

    {"degC", D::temperature, 1.0, 0.0, "degC"},
    {"C", D::temperature, 1.0, 0.0, "degC"},
    {"°C", D::temperature, 1.0, 0.0, "degC"},
    {"deg C", D::temperature, 1.0, 0.0, "degC"},
    {"celsius", D::temperature, 1.0, 0.0, "degC"},
    {"degF", D::temperature, 5.0 / 9.0, -160.0 / 9.0, "degF"},
    {"F", D::temperature, 5.0 / 9.0, -160.0 / 9.0, "degF"},
    {"°F", D::temperature, 5.0 / 9.0, -160.0 / 9.0, "degF"},
    {"deg F", D::temperature, 5.0 / 9.0, -160.0 / 9.0, "degF"},
    {"fahrenheit", D::temperature, 5.0 / 9.0, -160.0 / 9.0, "degF"},
    {"K", D::temperature, 1.0, -273.15, "K"},

    {"m/s", D::speed, 1.0, 0.0, "m/s"},
    {"m s-1", D::speed, 1.0, 0.0, "m/s"},
    {"km/h", D::speed, 1.0 / 3.6, 0.0, "km/h"},
    {"kmh", D::speed, 1.0 / 3.6, 0.0, "km/h"},
    {"kph", D::speed, 1.0 / 3.6, 0.0, "km/h"},
    {"mph", D::speed, mile_m / 3600.0, 0.0, "international_mile/h"},
    {"kn", D::speed, nautical_mile_m / 3600.0, 0.0, "knot"},
    {"knots", D::speed, nautical_mile_m / 3600.0, 0.0, "knot"},
    {"knot", D::speed, nautical_mile_m / 3600.0, 0.0, "knot"},
    {"ft/s", D::speed, foot_m, 0.0, "ft/s"},
    {"mi/d", D::speed, mile_m / 86400.0, 0.0, "international_mile/day"},
    {"mile/day", D::speed, mile_m / 86400.0, 0.0, "international_mile/day"},
    {"miles/day", D::speed, mile_m / 86400.0, 0.0, "international_mile/day"},
    {"km/d", D::speed, 1.0 / 86.4, 0.0, "km/day"},
    {"km/day", D::speed, 1.0 / 86.4, 0.0, "km/day"},

    {"mm/h", D::rate, 1.0, 0.0, "mm/h"},
    {"mm/hr", D::rate, 1.0, 0.0, "mm/h"},
    {"mm h-1", D::rate, 1.0, 0.0, "mm/h"},
    {"in/h", D::rate, inch_mm, 0.0, "in/h"},
    {"in/hr", D::rate, inch_mm, 0.0, "in/h"},
    {"cm/h", D::rate, 10.0, 0.0, "cm/h"},
    {"cm/hr", D::rate, 10.0, 0.0, "cm/h"},

    // A column of days is headed by the depth alone as often as not.
    {"mm/d", D::daily_depth, 1.0, 0.0, "mm/day"},
    {"mm/day", D::daily_depth, 1.0, 0.0, "mm/day"},
    {"mm d-1", D::daily_depth, 1.0, 0.0, "mm/day"},
    {"mm", D::daily_depth, 1.0, 0.0, "mm/day"},
    {"L/m2", D::daily_depth, 1.0, 0.0, "L/m2/day"},
    {"L/m²", D::daily_depth, 1.0, 0.0, "L/m2/day"},
    {"in/d", D::daily_depth, inch_mm, 0.0, "in/day"},
    {"in/day", D::daily_depth, inch_mm, 0.0, "in/day"},
    {"in", D::daily_depth, inch_mm, 0.0, "in/day"},
    {"inch", D::daily_depth, inch_mm, 0.0, "in/day"},
    {"inches", D::daily_depth, inch_mm, 0.0, "in/day"},

    {"MJ/m2/d", D::daily_radiation, 1.0, 0.0, "MJ/m2/day"},
    {"MJ/m2/day", D::daily_radiation, 1.0, 0.0, "MJ/m2/day"},
    {"MJ/m²/d", D::daily_radiation, 1.0, 0.0, "MJ/m2/day"},
    {"MJ/m²/day", D::daily_radiation, 1.0, 0.0, "MJ/m2/day"},
    {"MJ m-2 d-1", D::daily_radiation, 1.0, 0.0, "MJ/m2/day"},
    {"MJ m-2 day-1", D::daily_radiation, 1.0, 0.0, "MJ/m2/day"},
    {"MJ m-2", D::daily_radiation, 1.0, 0.0, "MJ/m2/day"},
    {"MJ/m2", D::daily_radiation, 1.0, 0.0, "MJ/m2/day"},
    {"MJ/m²", D::daily_radiation, 1.0, 0.0, "MJ/m2/day"},
    {"W/m2", D::daily_radiation, watt_day_mj, 0.0, "W/m2"},
    {"W/m²", D::daily_radiation, watt_day_mj, 0.0, "W/m2"},
    {"W m-2", D::daily_radiation, watt_day_mj, 0.0, "W/m2"},
    {"kWh/m2", D::daily_radiation, 3.6, 0.0, "kW.h/m2/day"},
    {"kWh/m²", D::daily_radiation, 3.6, 0.0, "kW.h/m2/day"},
    {"kWh/m2/d", D::daily_radiation, 3.6, 0.0, "kW.h/m2/day"},
    {"kWh/m2/day", D::daily_radiation, 3.6, 0.0, "kW.h/m2/day"},
    {"Wh/m2", D::daily_radiation, watt_hour_mj, 0.0, "W.h/m2/day"},
    {"Wh/m²", D::daily_radiation, watt_hour_mj, 0.0, "W.h/m2/day"},
    {"J/cm2", D::daily_radiation, 0.01, 0.0, "J/cm2/day"},
    {"J/cm²", D::daily_radiation, 0.01, 0.0, "J/cm2/day"},
    {"J/cm2/d", D::daily_radiation, 0.01, 0.0, "J/cm2/day"},
    {"langley/d", D::daily_radiation, langley_mj_m2, 0.0, "IT_calorie/cm2/day"},
    {"langley/day", D::daily_radiation, langley_mj_m2, 0.0, "IT_calorie/cm2/day"},
    {"langley", D::daily_radiation, langley_mj_m2, 0.0, "IT_calorie/cm2/day"},
    {"ly/d", D::daily_radiation, langley_mj_m2, 0.0, "IT_calorie/cm2/day"},
    {"ly/day", D::daily_radiation, langley_mj_m2, 0.0, "IT_calorie/cm2/day"},
    {"cal/cm2/d", D::daily_radiation, langley_mj_m2, 0.0, "IT_calorie/cm2/day"},
    {"cal/cm2/day", D::daily_radiation, langley_mj_m2, 0.0, "IT_calorie/cm2/day"},

    {"MJ/m2/h", D::hourly_radiation, 1.0, 0.0, "MJ/m2/h"},
    {"MJ/m²/h", D::hourly_radiation, 1.0, 0.0, "MJ/m2/h"},
    {"MJ/m2/hour", D::hourly_radiation, 1.0, 0.0, "MJ/m2/h"},
    {"MJ m-2 h-1", D::hourly_radiation, 1.0, 0.0, "MJ/m2/h"},
    {"MJ m-2", D::hourly_radiation, 1.0, 0.0, "MJ/m2/h"},
    {"MJ/m2", D::hourly_radiation, 1.0, 0.0, "MJ/m2/h"},
    {"MJ/m²", D::hourly_radiation, 1.0, 0.0, "MJ/m2/h"},
    {"W/m2", D::hourly_radiation, watt_hour_mj, 0.0, "W/m2"},
    {"W/m²", D::hourly_radiation, watt_hour_mj, 0.0, "W/m2"},
    {"W m-2", D::hourly_radiation, watt_hour_mj, 0.0, "W/m2"},
    {"kWh/m2", D::hourly_radiation, 3.6, 0.0, "kW.h/m2/h"},
    {"kWh/m²", D::hourly_radiation, 3.6, 0.0, "kW.h/m2/h"},
    {"Wh/m2", D::hourly_radiation, watt_hour_mj, 0.0, "W.h/m2/h"},
    {"Wh/m²", D::hourly_radiation, watt_hour_mj, 0.0, "W.h/m2/h"},
    {"J/cm2", D::hourly_radiation, 0.01, 0.0, "J/cm2/h"},
    {"J/cm²", D::hourly_radiation, 0.01, 0.0, "J/cm2/h"},
    {"langley/h", D::hourly_radiation, langley_mj_m2, 0.0, "IT_calorie/cm2/h"},
    {"ly/h", D::hourly_radiation, langley_mj_m2, 0.0, "IT_calorie/cm2/h"},
    {"cal/cm2/h", D::hourly_radiation, langley_mj_m2, 0.0, "IT_calorie/cm2/h"},

    {"deg", D::angle, 1.0, 0.0, "degree"},
    {"degree", D::angle, 1.0, 0.0, "degree"},
    {"degrees", D::angle, 1.0, 0.0, "degree"},
    {"°", D::angle, 1.0, 0.0, "degree"},
    {"rad", D::angle, 180.0 / pi, 0.0, "rad"},

    {"min", D::duration, 1.0, 0.0, "min"},
    {"minute", D::duration, 1.0, 0.0, "min"},
    {"minutes", D::duration, 1.0, 0.0, "min"},
    {"h", D::duration, 60.0, 0.0, "h"},
    {"hr", D::duration, 60.0, 0.0, "h"},
    {"hour", D::duration, 60.0, 0.0, "h"},
    {"hours", D::duration, 60.0, 0.0, "h"},
    {"s", D::duration, 1.0 / 60.0, 0.0, "s"},
    {"second", D::duration, 1.0 / 60.0, 0.0, "s"},
    {"seconds", D::duration, 1.0 / 60.0, 0.0, "s"},
    {"d", D::duration, 60.0 * day_h, 0.0, "day"},
    {"day", D::duration, 60.0 * day_h, 0.0, "day"},
    {"days", D::duration, 60.0 * day_h, 0.0, "day"},

    // A bare number is a share.
    {"", D::share, 1.0, 0.0, "1"},
    {"%", D::share, 0.01, 0.0, "percent"},
    {"percent", D::share, 0.01, 0.0, "percent"},
});
// clang-format on

bool same_scale(const Unit& a, const Unit& b) {
  return a.factor == b.factor && a.offset == b.offset;
}

char small(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

bool same_without_case(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](char x, char y) { return small(x) == small(y); });
}

/// "ML" is a megalitre and "Mm" a megametre: reading either as its thousandth of a millionth would
/// be worse than asking.
bool is_mega_for_milli(std::string_view written, std::string_view name) {
  const bool milli = name.starts_with("mm") || name.starts_with("mL") || name.starts_with("mbar");
  return milli && written.starts_with('M') && written.substr(1) == name.substr(1);
}

}  // namespace

std::span<const Unit> unit_table() { return table; }

std::string_view base_unit(Dimension dimension) {
  for (const Unit& unit : table) {
    if (unit.dimension == dimension) return unit.name;
  }
  throw std::invalid_argument("base_unit: no such dimension");
}

const Unit* find_unit(std::string_view name, Dimension dimension) {
  for (const Unit& unit : table) {
    if (unit.dimension == dimension && unit.name == name) return &unit;
  }
  const Unit* found = nullptr;
  for (const Unit& unit : table) {
    if (unit.dimension != dimension || !same_without_case(unit.name, name)) continue;
    if (is_mega_for_milli(name, unit.name)) return nullptr;
    if (found != nullptr && !same_scale(*found, unit)) return nullptr;
    if (found == nullptr) found = &unit;
  }
  return found;
}

std::string units_of(Dimension dimension) {
  std::vector<const Unit*> shown;
  for (const Unit& unit : table) {
    if (unit.dimension != dimension || unit.name.empty()) continue;
    // One spelling of each unit, the first.
    bool known = false;
    for (const Unit* other : shown) known = known || same_scale(*other, unit);
    if (!known) shown.push_back(&unit);
  }
  std::string text;
  for (const Unit* unit : shown) {
    if (!text.empty()) text += ", ";
    text += unit->name;
  }
  return text;
}

}  // namespace runnel

#include "runnel/units/display.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "runnel/units/number.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

using D = Dimension;

struct Way {
  Shown kind;
  Dimension dimension;
  std::string_view metric, us;
  int more_decimals;   ///< of the US unit, so that its last digit is worth about as much
  int least_decimals;  ///< of the US unit
};

constexpr std::array<Way, 13> ways{{
    {Shown::depth, D::depth, "mm", "in", 1, 2},
    {Shown::daily_depth, D::daily_depth, "mm/d", "in/d", 1, 2},
    {Shown::rate, D::rate, "mm/h", "in/h", 1, 2},
    {Shown::volume, D::volume, "L", "gal", 1, 0},
    {Shown::area, D::area, "m2", "sq ft", -1, 0},
    {Shown::emitter_flow, D::flow, "L/h", "gph", 1, 0},
    {Shown::supply_flow, D::flow, "L/min", "gpm", 1, 0},
    {Shown::pressure, D::pressure, "bar", "psi", -1, 0},
    {Shown::temperature, D::temperature, "degC", "degF", 0, 0},
    {Shown::speed, D::speed, "m/s", "mph", 0, 0},
    {Shown::height, D::length, "m", "ft", -1, 0},
    {Shown::size, D::length, "cm", "in", 1, 0},
    {Shown::bore, D::length, "mm", "in", 2, 0},
}};

const Way& way_of(Shown kind) {
  return *std::find_if(ways.begin(), ways.end(),
                       [kind](const Way& way) { return way.kind == kind; });
}

}  // namespace

std::string_view unit_shown(const Display& display, Shown kind) {
  const Way& way = way_of(kind);
  return display.units == UnitSystem::us ? way.us : way.metric;
}

double converted(const Display& display, Shown kind, double value) {
  const Unit& unit = *find_unit(unit_shown(display, kind), way_of(kind).dimension);
  return (value - unit.offset) / unit.factor;
}

int decimals_shown(const Display& display, Shown kind, int decimals) {
  if (display.units == UnitSystem::metric) return decimals;
  const Way& way = way_of(kind);
  return std::max(way.least_decimals, decimals + way.more_decimals);
}

std::string number(const Display& display, Shown kind, double value, int decimals) {
  return fixed(converted(display, kind, value), decimals_shown(display, kind, decimals));
}

std::string measure(const Display& display, Shown kind, double value, int decimals) {
  return number(display, kind, value, decimals) + " " + std::string(unit_shown(display, kind));
}

std::string some(const Display& display, Shown kind, double value, int decimals) {
  std::string text = measure(display, kind, value, decimals);
  if (text.find_first_of("123456789") != std::string::npos) return text;
  const int shown = decimals_shown(display, kind, decimals);
  return "under " + fixed(std::pow(10.0, -shown), shown) + " " +
         std::string(unit_shown(display, kind));
}

std::string clock(const Display& display, WallTime time) {
  if (!display.twelve_hours) return clock(time);
  constexpr int half_day_h = 12;
  constexpr WallTime day = std::chrono::hours{24};
  const auto minute = static_cast<int>(((time % day + day) % day).count());
  if (minute == 0) return "midnight";
  if (minute == half_day_h * 60) return "noon";
  const int hour = minute / 60;
  const std::string digits = std::to_string(100 + minute % 60).substr(1);
  return std::to_string(hour % half_day_h == 0 ? half_day_h : hour % half_day_h) + ":" + digits +
         (hour < half_day_h ? " am" : " pm");
}

std::string clock_span(const Display& display, WallTime from, WallTime to) {
  const bool end_of_day = to == std::chrono::hours{24} && !display.twelve_hours;
  return clock(display, from) + "-" + (end_of_day ? "24:00" : clock(display, to));
}

}  // namespace runnel

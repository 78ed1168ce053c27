#pragma once

#include <string>
#include <string_view>

#include "runnel/units/calendar.hpp"

namespace runnel {

/// Metric units, or those customary in the United States.
enum class UnitSystem { metric, us };

/// How people read figures and times of day. The program reckons in metric units and 24 hours,
/// whatever is shown.
struct Display {
  UnitSystem units = UnitSystem::metric;
  bool twelve_hours = false;
};

/// Kinds of figures that people read, each with the unit in which it is passed.
enum class Shown {
  depth,         ///< mm; as mm or in
  daily_depth,   ///< mm/d; as mm/d or in/d
  rate,          ///< mm/h; as mm/h or in/h
  volume,        ///< L; as L or gal (US)
  area,          ///< m²; as m2 or sq ft
  emitter_flow,  ///< L/h; as L/h or gph
  supply_flow,   ///< L/h; as L/min or gpm
  pressure,      ///< kPa; as bar or psi
  temperature,   ///< °C; as degC or degF
  speed,         ///< m/s; as m/s or mph
  height,        ///< m; as m or ft
  size,          ///< m; as cm or in
  bore,          ///< m; as mm or in
};

/// The value in the unit shown.
[[nodiscard]] double converted(const Display& display, Shown kind, double value);
/// Its name, as a garden file takes it: "mm", "in".
[[nodiscard]] std::string_view unit_shown(const Display& display, Shown kind);
/// Decimals that say about as much in the unit shown as `decimals` do in the metric one.
[[nodiscard]] int decimals_shown(const Display& display, Shown kind, int decimals);

/// "20.6" or "0.81". @param decimals of the metric unit
[[nodiscard]] std::string number(const Display& display, Shown kind, double value, int decimals);
/// "20.6 mm" or "0.81 in".
[[nodiscard]] std::string measure(const Display& display, Shown kind, double value, int decimals);
/// The same of a value above 0, which does not round to nothing: "under 0.1 mm".
[[nodiscard]] std::string some(const Display& display, Shown kind, double value, int decimals);

/// "16:30", or "4:30 pm", "noon" and "midnight": "12:00 am" is read either way.
[[nodiscard]] std::string clock(const Display& display, WallTime time);
/// "20:30-24:00" or "8:30 pm-midnight".
[[nodiscard]] std::string clock_span(const Display& display, WallTime from, WallTime to);

}  // namespace runnel

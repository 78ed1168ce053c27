#pragma once

#include <span>
#include <string>
#include <string_view>

namespace runnel {

/// What a number measures. The base unit, in which the rest of the program works, stands beside
/// each.
enum class Dimension {
  length,            ///< m
  depth,             ///< mm: water, rain, evaporation
  area,              ///< m²
  volume,            ///< L
  flow,              ///< L/h
  pressure,          ///< kPa: also vapour pressure
  temperature,       ///< °C
  speed,             ///< m/s
  rate,              ///< mm/h
  daily_depth,       ///< mm/d
  daily_radiation,   ///< MJ m-2 d-1
  hourly_radiation,  ///< MJ m-2 h-1
  angle,             ///< degrees
  duration,          ///< minutes
  share,             ///< fraction 0-1 ("30 %" is 0.3)
};

/// One way of writing a unit: value_in_base = value * factor + offset.
struct Unit {
  std::string_view name;  ///< as written: "sq ft", "degF", "langley/d"
  Dimension dimension;
  double factor;
  double offset;
  std::string_view udunits;  ///< the same unit in UDUNITS-2 spelling, the base unit's spelling
                             ///< being that of the first row of the dimension; empty where UDUNITS
                             ///< has no such unit (its source then stands beside it)
};

/// The closed table of all units Runnel reads; the first row of each dimension is its base unit.
[[nodiscard]] std::span<const Unit> unit_table();

/// "mm", "m2", ...: how the base unit of the dimension is written.
[[nodiscard]] std::string_view base_unit(Dimension dimension);

/// The unit so written, or nullptr. Case matters only where it must ("mm" and "Mm"): spellings are
/// compared without case when exactly one unit of the dimension fits.
[[nodiscard]] const Unit* find_unit(std::string_view name, Dimension dimension);

/// A short list for error messages: "L/min, L/h, gpm, gph".
[[nodiscard]] std::string units_of(Dimension dimension);

/// A value in base units, or what is wrong with the text in words that fit an error message.
struct MeasureOrFault {
  double value = 0.0;  ///< in the base unit of the dimension
  std::string fault;   ///< empty when read: "18 has no unit", "\"kg\" is not a unit of area", ...
  std::string mend;
};

/// Reads "24 m2", "260 sq ft", "0.5 gph", "-3 degC", "12in". A bare number is a fault except for
/// `share` (0-1). Decimal point only; no NaN, no infinity. Ranges are the caller's business.
[[nodiscard]] MeasureOrFault parse_measure(std::string_view text, Dimension dimension);

}  // namespace runnel

#pragma once

#include <chrono>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "runnel/units/finding.hpp"
#include "runnel/weather/series.hpp"

namespace runnel {

/// What the file's header cannot say. Members have the values of an ordinary file.
struct WeatherLayout {
  double wind_height_m = 2.0;          ///< height of the anemometer over the ground
  std::chrono::minutes utc_offset{0};  ///< of the clock of an hourly file
  bool hour_label_is_end = false;      ///< "01:00" means 00:00-01:00
  std::map<std::string, std::string>
      columns;  ///< standard name -> header as the file writes it ("tmax" -> "MX [degF]")
};

/// Reads a daily or hourly weather CSV by the rules of data/docs/weather-files.md. Text in, never
/// a path.
///
/// The header names columns by standard name or a common spelling, with an optional unit in
/// brackets or parentheses; without one the metric unit is taken and a remark says so. Rows may be
/// in any order of columns but must follow in time; days that are left out become rows of missing
/// values. Errors, each with line and column, one per fault and column: no date column, no usable
/// column, an unknown unit, text in a number column, a date that does not exist, out of order or
/// twice, Tmin above Tmax, a value outside what the unit allows (naming the likely unit: a summer
/// in degF without a unit), and whatever split_csv finds.
/// @param name the file's name as the findings shall show it.
[[nodiscard]] Read<WeatherSeries> parse_weather(std::string_view csv, std::string_view name,
                                                const WeatherLayout& layout);

/// "tmax", "rain", ...: the standard header of a variable; and the variable with that standard
/// header.
[[nodiscard]] std::string_view standard_name(Variable variable);
/// The variable with that standard header; nothing when there is none.
[[nodiscard]] std::optional<Variable> variable_named(std::string_view standard_name);

}  // namespace runnel

#pragma once

#include <Eigen/Core>
#include <array>
#include <chrono>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "runnel/units/calendar.hpp"
#include "runnel/units/column.hpp"

namespace runnel {

/// How far apart the rows of a series are.
enum class Step { day, hour };

/// What a weather column holds; the unit is in the name ("mj_m2": MJ m-2 for the step, day or
/// hour). In an hourly series t_mean_c, rh_mean_pct and the like are the hour's own values.
enum class Variable : std::uint8_t {
  t_max_c,
  t_min_c,
  t_mean_c,
  t_dew_c,
  rh_max_pct,
  rh_min_pct,
  rh_mean_pct,
  ea_kpa,
  wind_m_s,
  rs_mj_m2,
  sunshine_h,
  rain_mm,
  eto_mm
};
/// How many there are.
inline constexpr std::size_t variable_count = 13;

/// Where one value comes from.
enum class Origin : std::uint8_t {
  missing,
  observed,      ///< as the file gives it
  interpolated,  ///< a short gap filled from both sides (weather/gaps)
  summarised,    ///< a day made of its hours
};

/// A stretch of weather without holes in time: row i is `first_day` plus i days (or hours, from
/// 00:00 of `first_day` by a clock of fixed `utc_offset`; an hour is stamped at its start). A value
/// that is not there is NaN; a column the file does not have is empty.
struct WeatherSeries {
  Step step = Step::day;
  Date first_day{};
  std::chrono::minutes utc_offset{0};  ///< hourly series only
  double wind_height_m = 2.0;
  std::array<Column, variable_count> columns;
  std::array<std::vector<Origin>, variable_count>
      origins;             ///< empty where the column is, else one per row
  std::vector<int> lines;  ///< of each row in its file; 0 where the row is not there

  /// The column of that variable; empty where the file has none.
  [[nodiscard]] const Column& operator[](Variable v) const {
    return columns[static_cast<std::size_t>(v)];
  }
  /// The same, to be written to.
  [[nodiscard]] Column& operator[](Variable v) { return columns[static_cast<std::size_t>(v)]; }
  /// Where each value of that column comes from.
  [[nodiscard]] const std::vector<Origin>& origin(Variable v) const {
    return origins[static_cast<std::size_t>(v)];
  }
  /// The same, to be written to.
  [[nodiscard]] std::vector<Origin>& origin(Variable v) {
    return origins[static_cast<std::size_t>(v)];
  }
  /// Whether there is such a column, be it full of gaps.
  [[nodiscard]] bool has(Variable v) const { return (*this)[v].size() > 0; }
  /// Days or hours, those without a value included.
  [[nodiscard]] Eigen::Index rows() const { return static_cast<Eigen::Index>(lines.size()); }
  /// The day of that row, from 0; of an hour, the day it begins on.
  [[nodiscard]] Date date_of(Eigen::Index row) const {
    return first_day + std::chrono::days{step == Step::day ? row : row / 24};
  }
};

}  // namespace runnel

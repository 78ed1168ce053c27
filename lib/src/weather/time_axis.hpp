#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "columns.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/csv.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/weather/series.hpp"
#include "runnel/weather/weather_csv.hpp"

namespace runnel {

/// Where each row of the table stands in time.
struct TimeAxis {
  Step step = Step::day;
  Date first_day{};
  Eigen::Index rows = 0;             ///< of the series, holes included
  std::vector<Eigen::Index> row_of;  ///< [table rows] row of the series
};

/// Reads the time columns. A file whose labels have no time of day, or always midnight, is daily;
/// else hourly.
/// @param step_known set as soon as the step is, whether or not there are errors.
[[nodiscard]] Read<TimeAxis> read_time_axis(const CsvTable& table, const TimeColumns& columns,
                                            std::string_view file, const WeatherLayout& layout,
                                            std::optional<Step>& step_known);

/// One label as a row states it.
struct TimeLabel {
  std::int64_t minute = 0;  ///< since 1970-01-01 00:00 of the file's clock
  bool has_clock = false;
};
/// What is wrong with a label; `says` is empty when nothing is.
struct LabelFault {
  enum class Kind { none, not_a_date, no_such_day, year, clock, offset } kind = Kind::none;
  std::string says;
  std::string mend;
};
struct LabelOrFault {
  TimeLabel label;
  LabelFault fault;
};

/// Reads "2027-06-15" (or a date of that `form`), with " 04:00", "T04:00:00" or "T04:00Z" after it.
[[nodiscard]] LabelOrFault read_label(std::string_view text, std::string_view form,
                                      std::chrono::minutes utc_offset);
/// Reads a time of day: "04:00", "04:00:00", or an hour 0-24. @return minutes since midnight, or
/// nothing.
[[nodiscard]] std::optional<int> read_clock_cell(std::string_view text);
/// A label of year, month and day written in columns of their own.
[[nodiscard]] LabelOrFault read_day(std::string_view year, std::string_view month,
                                    std::string_view day);

}  // namespace runnel

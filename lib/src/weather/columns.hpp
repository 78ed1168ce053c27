#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/csv.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/weather/weather_csv.hpp"

namespace runnel {

/// Which columns say when; -1 where there is none.
struct TimeColumns {
  int date = -1;   ///< a date, or date and time of day in one
  int clock = -1;  ///< time of day beside `date`: "04:00" or an hour
  int year = -1;   ///< with month and day, in place of `date`
  int month = -1;
  int day = -1;
  std::string form = "YYYY-MM-DD";  ///< how a date is written
};

struct ValueColumn {
  Variable variable;
  int index;
  std::optional<std::string> unit;  ///< as written; none given otherwise
  CsvCell header;
};

struct ColumnChoice {
  TimeColumns time;
  std::vector<ValueColumn> values;
};

/// Chooses the columns of a weather file from its header and what the layout maps.
[[nodiscard]] Read<ColumnChoice> choose_columns(const CsvTable& table, std::string_view file,
                                                const WeatherLayout& layout);

}  // namespace runnel

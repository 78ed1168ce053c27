#include "runnel/weather/weather_csv.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <limits>
#include <utility>
#include <vector>

#include "columns.hpp"
#include "report.hpp"
#include "runnel/units/csv.hpp"
#include "time_axis.hpp"
#include "values.hpp"
#include "variables.hpp"

namespace runnel {
namespace {

void append(std::vector<Finding>& to, std::vector<Finding>&& from) {
  to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
}

/// Which units were taken because none was written; one remark for all.
void remark_units(const std::vector<FileColumn>& columns, std::string_view file,
                  std::vector<Finding>& findings) {
  std::string taken;
  const FileColumn* first = nullptr;
  for (const FileColumn& column : columns) {
    if (column.unit_given || column.unit_doubted) continue;
    if (first == nullptr) first = &column;
    taken += (taken.empty() ? "" : ", ") + quoted(column.header.text) + " in " + column.unit;
  }
  if (first == nullptr) return;
  findings.push_back({Finding::Kind::remark, place_of(file, first->header),
                      "no unit is written, taken: " + taken,
                      "write it into the header, such as " +
                          quoted(std::string(first->header.text) + " [" + first->unit + "]")});
}

WeatherSeries assemble(const CsvTable& table, const TimeAxis& axis,
                       const std::vector<FileColumn>& columns, const WeatherLayout& layout) {
  WeatherSeries series;
  series.step = axis.step;
  series.first_day = axis.first_day;
  series.utc_offset = layout.utc_offset;
  series.wind_height_m = layout.wind_height_m;
  series.lines.assign(static_cast<std::size_t>(axis.rows), 0);
  for (std::size_t i = 0; i < axis.row_of.size(); ++i) {
    series.lines[static_cast<std::size_t>(axis.row_of[i])] = table.row(i).front().line;
  }
  for (const FileColumn& column : columns) {
    Column& values = series[column.variable];
    std::vector<Origin>& origins = series.origin(column.variable);
    values = Column::Constant(axis.rows, std::numeric_limits<double>::quiet_NaN());
    origins.assign(static_cast<std::size_t>(axis.rows), Origin::missing);
    for (std::size_t i = 0; i < axis.row_of.size(); ++i) {
      const double value = column.values[static_cast<Eigen::Index>(i)];
      if (std::isnan(value)) continue;
      values[axis.row_of[i]] = value;
      origins[static_cast<std::size_t>(axis.row_of[i])] = Origin::observed;
    }
  }
  return series;
}

/// A file in foreign units has the same slip in several columns: told once, at the first.
void tell_unit_once(std::vector<Finding>& findings) {
  std::vector<std::string> told;
  std::erase_if(findings, [&](const Finding& finding) {
    const std::size_t advice = finding.mend.find(" it would be ");
    if (finding.kind != Finding::Kind::error || advice == std::string::npos) return false;
    const std::string unit = finding.mend.substr(0, advice);
    if (std::find(told.begin(), told.end(), unit) != told.end()) return true;
    told.push_back(unit);
    return false;
  });
}

bool holds_a_value(const std::vector<FileColumn>& columns) {
  return std::any_of(columns.begin(), columns.end(), [](const FileColumn& column) {
    return std::any_of(column.values.begin(), column.values.end(),
                       [](double v) { return std::isfinite(v); });
  });
}

}  // namespace

Read<WeatherSeries> parse_weather(std::string_view csv, std::string_view name,
                                  const WeatherLayout& layout) {
  Read<WeatherSeries> read;
  Read<CsvTable> split = split_csv(csv, name);
  append(read.findings, std::move(split.findings));
  if (!split.value) return read;
  const CsvTable& table = *split.value;

  Read<ColumnChoice> chosen = choose_columns(table, name, layout);
  append(read.findings, std::move(chosen.findings));
  if (table.rows() == 0) {
    read.findings.push_back({Finding::Kind::error, place_of_line(name, table.header().front().line),
                             "there are no rows below the header",
                             "add the weather, a row for each day or hour"});
  }
  if (!chosen.value || table.rows() == 0) return read;

  std::optional<Step> step;
  Read<TimeAxis> axis = read_time_axis(table, chosen.value->time, name, layout, step);
  append(read.findings, std::move(axis.findings));

  std::vector<FileColumn> columns;
  for (const ValueColumn& column : chosen.value->values) {
    columns.push_back(read_values(table, column, *step, name, read.findings));
  }
  tell_unit_once(read.findings);
  check_together(table, columns, *step, name, read.findings);
  doubt_missing_units(columns, *step, name, read.findings);
  remark_units(columns, name, read.findings);
  if (!has_error(read.findings) && !holds_a_value(columns)) {
    read.findings.push_back({Finding::Kind::error, place_of_line(name, table.header().front().line),
                             "every value of this file is missing",
                             "check which columns were meant"});
  }
  if (!has_error(read.findings)) read.value = assemble(table, *axis.value, columns, layout);
  return read;
}

}  // namespace runnel

#include "time_axis.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <string>

#include "report.hpp"

namespace runnel {
namespace {

constexpr std::int64_t hour_min = 60;
constexpr std::int64_t day_min = 24 * hour_min;
// More than any record; a slip in one year must not make a million rows.
constexpr std::int64_t longest_days = 36600;  // a hundred leap years

/// One finding of each kind, however many rows have it.
class AxisFaults {
 public:
  explicit AxisFaults(std::string_view file) : file_(file) {}
  void add(std::size_t kind, const CsvCell& cell, std::string says, std::string mend) {
    faults_.at(kind).add([&] {
      return Finding{Finding::Kind::error, place_of(file_, cell), std::move(says), std::move(mend)};
    });
  }
  [[nodiscard]] bool any() const {
    return std::any_of(faults_.begin(), faults_.end(),
                       [](const Repeated& fault) { return fault.any(); });
  }
  void move_to(std::vector<Finding>& findings) {
    for (Repeated& fault : faults_) fault.move_to(findings);
  }

 private:
  std::string_view file_;
  std::array<Repeated, 12> faults_;
};
// Kinds below this are those of LabelFault.
constexpr std::size_t no_clock_kind = 6;
constexpr std::size_t twice_kind = 7;
constexpr std::size_t order_kind = 8;

const CsvCell& cell_of(std::span<const CsvCell> row, int column) {
  return row[static_cast<std::size_t>(column)];
}

/// The cell that says when, for findings.
const CsvCell& time_cell(std::span<const CsvCell> row, const TimeColumns& columns) {
  return cell_of(row, columns.date >= 0 ? columns.date : columns.year);
}

LabelOrFault read_row(std::span<const CsvCell> row, const TimeColumns& columns,
                      const WeatherLayout& layout) {
  LabelOrFault read =
      columns.date >= 0
          ? read_label(cell_of(row, columns.date).text, columns.form, layout.utc_offset)
          : read_day(cell_of(row, columns.year).text, cell_of(row, columns.month).text,
                     cell_of(row, columns.day).text);
  if (columns.clock < 0 || read.fault.kind != LabelFault::Kind::none || read.label.has_clock)
    return read;
  const std::string_view text = cell_of(row, columns.clock).text;
  const auto minutes = read_clock_cell(text);
  if (!minutes) {
    read.fault = {LabelFault::Kind::clock, quoted(text) + " is no time of day",
                  "write it as 04:00, or as an hour from 0 to 24"};
    return read;
  }
  read.label.minute += *minutes;
  read.label.has_clock = true;
  return read;
}

std::string label_text(std::int64_t minute, Step step) {
  const std::int64_t day = minute / day_min - (minute % day_min < 0 ? 1 : 0);
  std::string text = iso_date(Date(std::chrono::days(day)));
  if (step == Step::hour) text += " " + clock(WallTime(minute - day * day_min));
  return text;
}

unsigned month_of_minute(std::int64_t minute) {
  return month_of(Date(std::chrono::days(minute / day_min - (minute % day_min < 0 ? 1 : 0))));
}

/// Months and hours in which clocks are set forward or back, on either hemisphere.
bool may_be_clock_change(std::int64_t minute) {
  const unsigned month = month_of_minute(minute);
  const std::int64_t hour = ((minute % day_min) + day_min) % day_min / hour_min;
  const bool in_season = month == 3 || month == 4 || (month >= 9 && month <= 11);
  return in_season && hour <= 4;
}
constexpr std::string_view clock_change_mend =
    "this looks like a clock with daylight saving; Runnel needs one fixed offset all year, such as "
    "standard time";

struct Labels {
  std::vector<std::int64_t> minute;  // [table rows]
  std::vector<bool> good;
};

/// What rows say, and whether they say it with a time of day.
Labels read_labels(const CsvTable& table, const TimeColumns& columns, const WeatherLayout& layout,
                   AxisFaults& faults, Step& step) {
  Labels labels;
  std::vector<bool> has_clock;
  bool any_clock = false;
  bool only_midnights = true;
  for (std::size_t i = 0; i < table.rows(); ++i) {
    LabelOrFault read = read_row(table.row(i), columns, layout);
    const bool good = read.fault.kind == LabelFault::Kind::none;
    if (!good) {
      faults.add(static_cast<std::size_t>(read.fault.kind) - 1, time_cell(table.row(i), columns),
                 std::move(read.fault.says), std::move(read.fault.mend));
    }
    labels.minute.push_back(read.label.minute);
    labels.good.push_back(good);
    has_clock.push_back(read.label.has_clock);
    any_clock = any_clock || read.label.has_clock;
    only_midnights = only_midnights && (!good || read.label.minute % day_min == 0);
  }
  // Many programs write the days of a daily table as midnights.
  step = any_clock && !(only_midnights && table.rows() > 1) ? Step::hour : Step::day;
  if (step == Step::day) return labels;
  for (std::size_t i = 0; i < table.rows(); ++i) {
    if (!labels.good[i] || has_clock[i]) continue;
    faults.add(no_clock_kind, time_cell(table.row(i), columns),
               "a date without a time of day, in an hourly file", "write it as 2027-06-15T00:00");
    labels.good[i] = false;
  }
  return labels;
}

/// Hours only: labels between the hours, or rows much further apart.
std::optional<Finding> wrong_spacing(const CsvTable& table, const TimeColumns& columns,
                                     const Labels& labels, std::string_view file) {
  std::size_t steps = 0;
  std::size_t wide = 0;
  std::int64_t width = 0;
  std::optional<std::size_t> between;
  for (std::size_t i = 0; i < labels.minute.size(); ++i) {
    if (!labels.good[i]) continue;
    if (!between && labels.minute[i] % hour_min != 0) between = i;
    if (i == 0 || !labels.good[i - 1]) continue;
    const std::int64_t apart = labels.minute[i] - labels.minute[i - 1];
    if (apart > 0 && apart < hour_min) {
      return Finding{Finding::Kind::error, place_of(file, time_cell(table.row(i), columns)),
                     "rows stand " + std::to_string(apart) +
                         " minutes apart; Runnel reads days or whole hours",
                     "bring them to hours: means of temperature, humidity and wind, sums of rain"};
    }
    ++steps;
    if (apart > hour_min) {
      ++wide;
      width = apart;
    }
  }
  if (between) {
    return Finding{Finding::Kind::error, place_of(file, time_cell(table.row(*between), columns)),
                   label_text(labels.minute[*between], Step::hour) + " is not a whole hour",
                   "label hours by their beginning or their end"};
  }
  if (2 * wide <= steps) return std::nullopt;
  return Finding{Finding::Kind::error, place_of(file, time_cell(table.row(1), columns)),
                 "most rows stand more than an hour apart (such as " +
                     brief(static_cast<double>(width) / 60.0) +
                     " hours); Runnel reads days or whole hours",
                 "bring them to days"};
}

struct Order {
  std::vector<std::int64_t> steps;  // of the good rows, ascending: days or hours since 1970
  std::vector<std::size_t> rows;    // of the table, beside them
};

/// Days or hours in their order; what stands twice or comes too early is a fault.
Order check_order(const CsvTable& table, const TimeColumns& columns, const Labels& labels,
                  Step step, bool label_is_end, AxisFaults& faults) {
  const std::int64_t unit = step == Step::day ? day_min : hour_min;
  Order order;
  for (std::size_t i = 0; i < labels.minute.size(); ++i) {
    if (!labels.good[i]) continue;
    const std::int64_t minute = labels.minute[i];
    const std::int64_t at =
        minute / unit - (minute % unit < 0 ? 1 : 0) - (step == Step::hour && label_is_end ? 1 : 0);
    if (order.steps.empty() || at > order.steps.back()) {
      order.steps.push_back(at);
      order.rows.push_back(i);
      continue;
    }
    const CsvCell& cell = time_cell(table.row(i), columns);
    const auto same = std::lower_bound(order.steps.begin(), order.steps.end(), at);
    if (same == order.steps.end() || *same != at) {
      faults.add(order_kind, cell, label_text(minute, step) + " comes after a later row",
                 "sort the rows, the oldest first");
      continue;
    }
    const auto first = order.rows[static_cast<std::size_t>(same - order.steps.begin())];
    const bool clock_change =
        step == Step::hour && at == order.steps.back() && may_be_clock_change(minute);
    faults.add(twice_kind, cell,
               label_text(minute, step) + " stands in the file twice, first in line " +
                   std::to_string(table.row(first).front().line),
               clock_change ? std::string(clock_change_mend)
                            : "keep one row for each, and one place in a file");
  }
  return order;
}

/// A single hour left out where clocks go forward.
std::optional<Finding> clock_change_doubt(const CsvTable& table, const TimeColumns& columns,
                                          const Order& order, const Labels& labels,
                                          std::string_view file) {
  for (std::size_t i = 1; i < order.steps.size(); ++i) {
    if (order.steps[i] - order.steps[i - 1] != 2) continue;
    const std::size_t row = order.rows[i];
    if (!may_be_clock_change(labels.minute[row] - hour_min)) continue;
    return Finding{Finding::Kind::doubt, place_of(file, time_cell(table.row(row), columns)),
                   "one hour is left out before " + label_text(labels.minute[row], Step::hour),
                   std::string(clock_change_mend)};
  }
  return std::nullopt;
}

std::optional<Finding> end_label_doubt(const CsvTable& table, const TimeColumns& columns,
                                       std::string_view file) {
  for (std::size_t i = 0; i < table.rows(); ++i) {
    const CsvCell& cell = cell_of(table.row(i), columns.clock >= 0 ? columns.clock : columns.date);
    if (cell.text != "24" && !cell.text.ends_with("24:00") && !cell.text.ends_with("24:00:00"))
      continue;
    return Finding{Finding::Kind::doubt, place_of(file, cell),
                   "hours that are called 24 are usually labelled by their end",
                   "say so where the weather files are named, or the sun's hours are off by one"};
  }
  return std::nullopt;
}

TimeAxis assemble(const Order& order, std::size_t table_rows, Step step) {
  TimeAxis axis;
  axis.step = step;
  const std::int64_t per_day = step == Step::day ? 1 : 24;
  const std::int64_t first = order.steps.front();
  const std::int64_t first_day = first / per_day - (first % per_day < 0 ? 1 : 0);
  axis.first_day = Date(std::chrono::days(first_day));
  axis.rows = static_cast<Eigen::Index>(order.steps.back() - first_day * per_day + 1);
  axis.row_of.assign(table_rows, 0);
  for (std::size_t i = 0; i < order.steps.size(); ++i) {
    axis.row_of[order.rows[i]] = static_cast<Eigen::Index>(order.steps[i] - first_day * per_day);
  }
  return axis;
}

}  // namespace

Read<TimeAxis> read_time_axis(const CsvTable& table, const TimeColumns& columns,
                              std::string_view file, const WeatherLayout& layout,
                              std::optional<Step>& step_known) {
  AxisFaults faults(file);
  Step step = Step::day;
  const Labels labels = read_labels(table, columns, layout, faults, step);
  step_known = step;
  Read<TimeAxis> read;
  if (step == Step::hour) {
    if (auto finding = wrong_spacing(table, columns, labels, file))
      read.findings.push_back(*std::move(finding));
  }
  Order order;
  if (read.findings.empty()) {
    order = check_order(table, columns, labels, step, layout.hour_label_is_end, faults);
  }
  faults.move_to(read.findings);
  if (has_error(read.findings)) return read;

  const std::int64_t per_day = step == Step::day ? 1 : 24;
  if (order.steps.back() - order.steps.front() > longest_days * per_day) {
    read.findings.push_back(
        {Finding::Kind::error, place_of(file, time_cell(table.row(order.rows.back()), columns)),
         "the file spans more than 100 years", "correct the years, or cut the file"});
    return read;
  }
  if (step == Step::hour) {
    if (auto doubt = clock_change_doubt(table, columns, order, labels, file))
      read.findings.push_back(*std::move(doubt));
    if (!layout.hour_label_is_end) {
      if (auto doubt = end_label_doubt(table, columns, file))
        read.findings.push_back(*std::move(doubt));
    }
  }
  read.value = assemble(order, table.rows(), step);
  return read;
}

}  // namespace runnel

#include "values.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>

#include "report.hpp"

namespace runnel {
namespace {

constexpr double missing = std::numeric_limits<double>::quiet_NaN();

// The words and the one number that files have for "no value".
constexpr auto missing_words = std::to_array<std::string_view>(
    {"na", "n/a", "nan", "null", "none", "missing", "nodata", "no data", "no record"});
constexpr double missing_number = -9999.0;

bool is_missing(std::string_view text) {
  if (text.empty() || text == "-" || text == "--") return true;
  if (text.size() > 9) return false;
  const std::string word = lower(text);
  return std::find(missing_words.begin(), missing_words.end(), word) != missing_words.end();
}

std::string header_with(const CsvCell& header, std::string_view unit) {
  std::string_view base = header.text;
  const std::size_t bracket = base.find_first_of("[(");
  if (bracket != std::string_view::npos && bracket > 0) base = trimmed(base.substr(0, bracket));
  return quoted(std::string(base) + " [" + std::string(unit) + "]");
}

/// A whole column's faults of reading numbers.
class NumberReader {
 public:
  NumberReader(bool decimal_comma, std::string_view file, const VariableFacts& variable,
               const CsvCell& header)
      : decimal_comma_(decimal_comma), file_(file), variable_(variable), header_(header) {}

  /// NaN when missing or no number.
  double operator()(const CsvCell& cell) {
    if (is_missing(cell.text)) return missing;
    std::optional<double> value = parse_number(cell.text, decimal_comma_);
    // Semicolons come with decimal points too. A file that has both writes thousands, or is two
    // files in one.
    if (!value && decimal_comma_ && cell.text.find(',') == std::string_view::npos)
      value = parse_number(cell.text);
    if (!value) {
      texts_.add([&] { return not_a_number(cell); });
      return missing;
    }
    if (decimal_comma_) note_mark(cell);
    return *value == missing_number ? missing : *value;
  }

  void move_to(std::vector<Finding>& findings) {
    texts_.move_to(findings);
    mixed_.move_to(findings);
  }

 private:
  [[nodiscard]] Finding not_a_number(const CsvCell& cell) const {
    const bool comma = !decimal_comma_ && cell.text.find(',') != std::string_view::npos;
    if (const Unit* unit = unit_after_number(cell.text))
      return {Finding::Kind::error, place_of(file_, cell),
              quoted(cell.text) + " has its unit beside it",
              "write numbers alone, and the unit once, into the header: " +
                  header_with(header_, unit->name)};
    return {Finding::Kind::error, place_of(file_, cell), quoted(cell.text) + " is not a number",
            comma ? "write a decimal point, or separate the columns by semicolons"
                  : "leave the field empty, or write NA, where there is no value"};
  }

  /// Of "12.5 mm"; nullptr when the text is nothing of that kind.
  [[nodiscard]] const Unit* unit_after_number(std::string_view text) const {
    const std::size_t end = text.find_last_of("0123456789");
    if (end == std::string_view::npos || end + 1 == text.size()) return nullptr;
    return parse_number(text.substr(0, end + 1), decimal_comma_)
               ? unit_for(variable_, trimmed(text.substr(end + 1)))
               : nullptr;
  }

  void note_mark(const CsvCell& cell) {
    const bool point = cell.text.find('.') != std::string_view::npos;
    const bool comma = cell.text.find(',') != std::string_view::npos;
    points_ = points_ || point;
    commas_ = commas_ || comma;
    if (!points_ || !commas_ || (!point && !comma)) return;
    mixed_.add([&] {
      return Finding{Finding::Kind::error, place_of(file_, cell),
                     "decimal points and decimal commas in one column",
                     "use one of them throughout, and no sign between thousands"};
    });
  }

  bool decimal_comma_;
  std::string_view file_;
  const VariableFacts& variable_;
  const CsvCell& header_;
  bool points_ = false;
  bool commas_ = false;
  Repeated texts_;
  Repeated mixed_;
};

struct Extremes {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();
};

Extremes extremes_of(const Column& values) {
  Extremes e;
  for (const double v : values) {
    if (!std::isfinite(v)) continue;
    e.low = std::min(e.low, v);
    e.high = std::max(e.high, v);
  }
  return e;
}

/// The unit in which all of the column would be possible, and its highest value most usual. `e`: as
/// the file has them.
const Unit* likely_unit(const VariableFacts& variable, const Extremes& e) {
  const Unit* best = nullptr;
  double best_distance = std::numeric_limits<double>::infinity();
  for (const Unit& unit : unit_table()) {
    if (unit.dimension != variable.dimension && unit.dimension != variable.other_dimension)
      continue;
    const Conversion convert = conversion(variable, unit);
    const double low = convert(e.low);
    const double high = convert(e.high);
    if (low < variable.limits.low || high > variable.limits.high) continue;
    const double distance = std::abs(high - variable.usual_high);
    if (distance < best_distance) {
      best = &unit;
      best_distance = distance;
    }
  }
  return best;
}

std::string_view shown(const Unit& unit) {
  return unit.name.empty() ? std::string_view("share") : unit.name;
}

/// What to write, when the values would be possible in another unit.
std::string unit_mend(const VariableFacts& variable, const FileColumn& column, double raw,
                      const Extremes& raw_extremes) {
  if (raw <= -99.0 && raw == std::floor(raw)) {
    return "if " + brief(raw) + " stands for a missing value, leave it empty or write NA";
  }
  const Unit* likely = likely_unit(variable, raw_extremes);
  if (likely == nullptr || shown(*likely) == column.unit)
    return "correct it, or leave it empty where it is not known";
  return "in " + std::string(shown(*likely)) + " it would be " +
         brief(conversion(variable, *likely)(raw)) + " " + std::string(variable.unit) +
         ": write the header as " + header_with(column.header, shown(*likely));
}

/// Loggers drift a little below zero at night (ASCE-EWRI 2005 App. D, from memory): 0.05 MJ m-2 h-1
/// is 14 W/m2.
constexpr double night_offset_mj_m2_h = -0.05;

/// Sets to NaN, and tells, what cannot be; mends what is a known weakness of instruments.
void check_limits(const CsvTable& table, FileColumn& column, const Column& raw,
                  const VariableFacts& variable, Step step, std::string_view file,
                  std::vector<Finding>& findings) {
  const bool humidity = variable.dimension == Dimension::share;
  const bool radiation_hours = variable.variable == Variable::rs_mj_m2 && step == Step::hour;
  Repeated outside;
  Repeated capped;
  Repeated lifted;
  const Extremes raw_extremes = extremes_of(raw);
  for (Eigen::Index i = 0; i < raw.size(); ++i) {
    double& value = column.values[i];
    if (std::isnan(value)) continue;
    const CsvCell& cell =
        table.row(static_cast<std::size_t>(i))[static_cast<std::size_t>(column.index)];
    if (radiation_hours && value < 0.0 && value >= night_offset_mj_m2_h) {
      value = 0.0;
      lifted.add([&] {
        return Finding{Finding::Kind::remark, place_of(file, cell),
                       "radiation a little below zero, a logger's offset at night, counts as none",
                       ""};
      });
    } else if (value < variable.limits.low || value > variable.limits.high) {
      outside.add([&] {
        return Finding{Finding::Kind::error, place_of(file, cell),
                       "a " + std::string(variable.name) + " of " + brief(raw[i]) +
                           " cannot be in " + column.unit,
                       unit_mend(variable, column, raw[i], raw_extremes)};
      });
      value = missing;
    } else if (humidity && value > 100.0) {
      capped.add([&] {
        return Finding{
            Finding::Kind::doubt, place_of(file, cell),
            "a " + std::string(variable.name) + " of " + brief(value) + " % counts as 100",
            "have the humidity sensor checked when this is frequent"};
      });
      value = 100.0;  // Q06 of the rules named in variables.cpp
    }
  }
  outside.move_to(findings);
  capped.move_to(findings);
  lifted.move_to(findings);
}

/// Humidity given as a share where percent is taken: all at or below 1 is no climate.
void check_share(const CsvTable& table, const FileColumn& column, const VariableFacts& variable,
                 std::string_view file, std::vector<Finding>& findings) {
  if (variable.dimension != Dimension::share || column.unit != "%") return;
  const Extremes e = extremes_of(column.values);
  if (e.low > e.high || e.high > 1.0) return;
  const CsvCell& cell = table.row(0)[static_cast<std::size_t>(column.index)];
  findings.push_back(
      {Finding::Kind::error, place_of(file, cell),
       "no " + std::string(variable.name) + " is above 1 %",
       "if it is a share, write the header as " + header_with(column.header, "share")});
}

const FileColumn* find(const std::vector<FileColumn>& columns, Variable variable) {
  for (const FileColumn& column : columns) {
    if (column.variable == variable) return &column;
  }
  return nullptr;
}

std::optional<double> median_of(const Column& values) {
  std::vector<double> known;
  for (const double v : values) {
    if (std::isfinite(v)) known.push_back(v);
  }
  if (known.size() < 7) return std::nullopt;  // a week, before a column is judged as a whole
  const auto middle = known.begin() + static_cast<std::ptrdiff_t>(known.size() / 2);
  std::nth_element(known.begin(), middle, known.end());
  return *middle;
}

struct UnusualMedian {
  Variable variable;
  double above;
  std::string_view likely;
};
// No station's hottest month has a mean maximum above about 47, a mean minimum above about 35, or a
// dew point above about 30 degC; no place people garden in has a median wind of 10 m/s. Common
// knowledge of climates, no source.
constexpr auto unusual_medians = std::to_array<UnusualMedian>({
    {Variable::t_max_c, 47.0, "degF"},
    {Variable::t_min_c, 35.0, "degF"},
    {Variable::t_mean_c, 41.0, "degF"},
    {Variable::t_dew_c, 30.0, "degF"},
    {Variable::wind_m_s, 10.0, "km/h"},
});

void doubt_median(const FileColumn& column, std::string_view file, std::vector<Finding>& findings) {
  if (column.unit_given) return;
  for (const UnusualMedian& unusual : unusual_medians) {
    if (unusual.variable != column.variable) continue;
    const auto median = median_of(column.values);
    if (!median || *median <= unusual.above) continue;
    findings.push_back(
        {Finding::Kind::doubt, place_of(file, column.header),
         "half of " + quoted(column.header.text) + " lies above " + brief(*median) + " " +
             column.unit + ", which is more than any climate has",
         "if it is in another unit, write it: " + header_with(column.header, unusual.likely)});
  }
}

struct UnitBesideDegF {
  Variable variable;
  std::string_view likely;
};
// What whoever writes degF hardly measures in the metric unit (common knowledge, no source).
constexpr auto units_beside_deg_f = std::to_array<UnitBesideDegF>(
    {{Variable::rain_mm, "in"}, {Variable::eto_mm, "in"}, {Variable::wind_m_s, "mph"}});

bool in_deg_f(const FileColumn& column, Step step) {
  if (!column.unit_given) return false;
  const Unit* unit = unit_for(facts(column.variable, step), column.unit);
  return unit != nullptr && unit->name == "degF";
}

}  // namespace

FileColumn read_values(const CsvTable& table, const ValueColumn& chosen, Step step,
                       std::string_view file, std::vector<Finding>& findings) {
  const VariableFacts& variable = facts(chosen.variable, step);
  FileColumn column{.variable = chosen.variable,
                    .index = chosen.index,
                    .header = chosen.header,
                    .unit = chosen.unit.value_or(std::string(variable.unit)),
                    .unit_given = chosen.unit.has_value(),
                    .values = Column::Constant(static_cast<Eigen::Index>(table.rows()), missing)};
  const Unit* unit = unit_for(variable, column.unit);
  if (unit == nullptr) {
    findings.push_back({Finding::Kind::error, place_of(file, chosen.header),
                        quoted(column.unit) + " is not a unit that " + std::string(variable.name) +
                            (step == Step::day ? " of a day" : " of an hour") + " can have",
                        "use one of " + units_for(variable)});
    return column;
  }
  NumberReader number(table.decimal_comma(), file, variable, column.header);
  Column raw(column.values.size());
  const Conversion convert = conversion(variable, *unit);
  for (std::size_t i = 0; i < table.rows(); ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    raw[row] = number(table.row(i)[static_cast<std::size_t>(column.index)]);
    column.values[row] = convert(raw[row]);
  }
  number.move_to(findings);
  const std::size_t before = findings.size();
  check_limits(table, column, raw, variable, step, file, findings);
  check_share(table, column, variable, file, findings);
  // The same slip of unit is not told twice.
  if (findings.size() == before) doubt_median(column, file, findings);
  return column;
}

void check_together(const CsvTable& table, const std::vector<FileColumn>& columns, Step step,
                    std::string_view file, std::vector<Finding>& findings) {
  const FileColumn* high = find(columns, Variable::t_max_c);
  const FileColumn* low = find(columns, Variable::t_min_c);
  if (high == nullptr || low == nullptr) return;
  Repeated crossed;
  for (Eigen::Index i = 0; i < high->values.size(); ++i) {
    if (!(low->values[i] > high->values[i])) continue;  // false with a missing one
    const CsvCell& cell =
        table.row(static_cast<std::size_t>(i))[static_cast<std::size_t>(low->index)];
    crossed.add([&] {
      return Finding{Finding::Kind::error, place_of(file, cell),
                     "tmin is " + brief(low->values[i]) + " degC, above the tmax of " +
                         brief(high->values[i]) + " degC on this " +
                         (step == Step::day ? "day" : "hour"),
                     "correct one of them, or leave it empty"};
    });
  }
  crossed.move_to(findings);
}

void doubt_missing_units(std::vector<FileColumn>& columns, Step step, std::string_view file,
                         std::vector<Finding>& findings) {
  const auto foreign = std::find_if(columns.begin(), columns.end(),
                                    [step](const FileColumn& c) { return in_deg_f(c, step); });
  if (foreign == columns.end()) return;
  for (FileColumn& column : columns) {
    if (column.unit_given) continue;
    const auto unit = std::find_if(
        units_beside_deg_f.begin(), units_beside_deg_f.end(),
        [&column](const UnitBesideDegF& one) { return one.variable == column.variable; });
    if (unit == units_beside_deg_f.end()) continue;
    column.unit_doubted = true;
    findings.push_back({Finding::Kind::doubt, place_of(file, column.header),
                        quoted(column.header.text) + " has no unit and is taken in " + column.unit +
                            ", beside " + quoted(foreign->header.text),
                        "write its unit: " + header_with(column.header, unit->likely) + " or " +
                            header_with(column.header, column.unit)});
  }
}

}  // namespace runnel

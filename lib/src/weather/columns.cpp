#include "columns.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <map>
#include <span>

#include "likely_column.hpp"
#include "report.hpp"
#include "runnel/units/csv.hpp"
#include "runnel/units/nearest.hpp"
#include "variables.hpp"

namespace runnel {
namespace {

enum class Part { date, time, year, month, day, hour };

struct PartName {
  std::string_view plain;
  Part part;
};
constexpr auto part_names = std::to_array<PartName>({
    {"date", Part::date},
    {"time", Part::time},
    {"datetime", Part::time},
    {"timestamp", Part::time},
    {"dateandtime", Part::time},
    {"localtime", Part::time},
    {"year", Part::year},
    {"yr", Part::year},
    {"month", Part::month},
    {"mo", Part::month},
    {"day", Part::day},
    {"dayofmonth", Part::day},
    {"hour", Part::hour},
    {"hr", Part::hour},
    {"hourofday", Part::hour},
});

std::optional<Part> part_named(std::string_view plain) {
  for (const PartName& known : part_names) {
    if (known.plain == plain) return known.part;
  }
  return std::nullopt;
}

bool is_unit_of(Variable variable, std::string_view text) {
  return unit_for(facts(variable, Step::day), text) != nullptr ||
         unit_for(facts(variable, Step::hour), text) != nullptr;
}

struct Named {
  Variable variable;
  std::optional<std::string> unit;
};

/// "temp_max_c", "wind_m_s": a known name with a unit of that variable after it.
std::optional<Named> named_with_unit(std::string_view base) {
  for (std::size_t at = base.find('_'); at != std::string_view::npos; at = base.find('_', at + 1)) {
    const auto variable = variable_spelled(plain_name(base.substr(0, at)));
    if (!variable) continue;
    std::string unit(base.substr(at + 1));
    std::replace(unit.begin(), unit.end(), '_', '/');
    if (unit == "pct") unit = "%";
    if (is_unit_of(*variable, unit)) return Named{*variable, std::move(unit)};
  }
  return std::nullopt;
}

std::optional<Named> named(const CsvHeader& header) {
  if (const auto variable = variable_spelled(plain_name(header.base)))
    return Named{*variable, header.bracket};
  return header.bracket ? std::nullopt : named_with_unit(header.base);
}

/// Does the choosing; its members are what has been found so far.
class Chooser {
 public:
  Chooser(const CsvTable& table, std::string_view file) : table_(table), file_(file) {}

  void take_mapped(const std::string& standard, const std::string& written) {
    const std::string plain = plain_name(standard);
    const auto variable = variable_named(standard);
    const auto part = part_named(plain);
    if (!variable && !part) return refuse_standard_name(standard);
    CsvHeader header{written, std::nullopt};
    int index = index_of(written);
    if (index < 0) {
      header = split_csv_header(written);
      index = index_of(header.base);
    }
    if (index < 0) return refuse_header(standard, written);
    // The header's own bracket counts where the mapping has none.
    const CsvCell& cell = table_.header()[static_cast<std::size_t>(index)];
    if (!header.bracket) header.bracket = split_csv_header(cell.text).bracket;
    used_.at(static_cast<std::size_t>(index)) = true;
    if (variable) {
      choice_.values.push_back({*variable, index, header.bracket, cell});
      mapped_.push_back(*variable);
    } else {
      take_part(*part, index, header.bracket);
      mapped_parts_.push_back(*part);
    }
  }

  void take_recognised() {
    const auto cells = table_.header();
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (used_[i] || cells[i].text.empty()) continue;
      const CsvHeader header = split_csv_header(cells[i].text);
      if (const auto part = part_named(plain_name(header.base))) {
        if (std::find(mapped_parts_.begin(), mapped_parts_.end(), *part) == mapped_parts_.end()) {
          take_part(*part, static_cast<int>(i), header.bracket);
        }
      } else if (auto found = named(header)) {
        take_value(*std::move(found), i);
      }
    }
  }

  Read<ColumnChoice> finish() {
    settle_time();
    if (choice_.values.empty()) {
      error(place_of(file_, table_.header().front()), "no column is one that Runnel knows",
            "name the columns tmax, tmin, rain and so on, or say under \"weather: columns:\" which "
            "is which");
    }
    remark_unused();
    if (has_error(findings_)) return {std::nullopt, std::move(findings_)};
    return {std::move(choice_), std::move(findings_)};
  }

 private:
  void error(Place at, std::string says, std::string mend) {
    findings_.push_back({Finding::Kind::error, std::move(at), std::move(says), std::move(mend)});
  }

  /// The column so headed: exactly, else without regard to case, blanks and what stands in
  /// brackets.
  [[nodiscard]] int index_of(std::string_view written) const {
    if (written.empty()) return -1;
    if (const int exact = table_.column(written); exact >= 0) return exact;
    const auto cells = table_.header();
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (plain_name(split_csv_header(cells[i].text).base) == plain_name(written))
        return static_cast<int>(i);
    }
    return -1;
  }

  void refuse_standard_name(const std::string& standard) {
    const auto near = nearest(standard, standard_names());
    error({std::string(file_), 0, 0, "weather.columns." + standard},
          quoted(standard) + " is no weather column",
          near ? "perhaps " + std::string(*near)
               : "use tmax, tmin, rain, ... as the page weather-files.md lists them");
  }

  void refuse_header(const std::string& standard, const std::string& written) {
    std::vector<std::string_view> headers;
    for (const CsvCell& cell : table_.header()) headers.push_back(cell.text);
    const auto near = nearest(written, headers);
    Place at = place_of_line(file_, table_.header().front().line);
    at.key = "weather.columns." + standard;
    error(std::move(at), "the file has no column " + quoted(written),
          near ? "perhaps " + quoted(*near) : "write its header as the file does");
  }

  void take_part(Part part, int index, const std::optional<std::string>& bracket) {
    used_.at(static_cast<std::size_t>(index)) = true;
    parts_.emplace(part, index);
    if ((part == Part::date || part == Part::time) && bracket &&
        bracket->find("YY") != std::string::npos) {
      choice_.time.form = *bracket;
    }
  }

  void take_value(Named found, std::size_t i) {
    if (std::find(mapped_.begin(), mapped_.end(), found.variable) != mapped_.end()) return;
    const CsvCell& cell = table_.header()[i];
    const auto other =
        std::find_if(choice_.values.begin(), choice_.values.end(),
                     [&](const ValueColumn& v) { return v.variable == found.variable; });
    used_[i] = true;
    if (other != choice_.values.end()) {
      error(place_of(file_, cell),
            quoted(cell.text) + " and " + quoted(other->header.text) + " both claim to be " +
                std::string(standard_name(found.variable)),
            "rename one, or say under \"weather: columns:\" which to take");
      return;
    }
    choice_.values.push_back({found.variable, static_cast<int>(i), std::move(found.unit), cell});
  }

  [[nodiscard]] int part(Part which) const {
    const auto found = parts_.find(which);
    return found == parts_.end() ? -1 : found->second;
  }

  /// Whether the first row of a column holds more than a time of day.
  [[nodiscard]] bool holds_dates(int column) const {
    return table_.rows() > 0 && table_.row(0)[static_cast<std::size_t>(column)].text.size() >= 10;
  }

  void settle_time() {
    TimeColumns& time = choice_.time;
    const int time_column = part(Part::time);
    time.date = part(Part::date);
    const bool day_is_elsewhere = time.date >= 0 || part(Part::year) >= 0;
    if (time_column >= 0 && (!day_is_elsewhere || holds_dates(time_column))) {
      time.date = time_column;
    } else {
      time.clock = time_column;
    }
    if (time.clock < 0 && (time.date < 0 || !holds_clock(time.date))) time.clock = part(Part::hour);
    if (time.date >= 0) return;
    time.year = part(Part::year);
    time.month = part(Part::month);
    time.day = part(Part::day);
    if (time.year < 0 || time.month < 0 || time.day < 0) {
      error(place_of(file_, table_.header().front()), "no column says which day a row is",
            "head it \"date\" (2027-06-15) or \"time\" (2027-06-15T04:00), or give year, month and "
            "day");
    }
  }

  [[nodiscard]] bool holds_clock(int column) const {
    return table_.rows() > 0 &&
           table_.row(0)[static_cast<std::size_t>(column)].text.find(':') != std::string_view::npos;
  }

  [[nodiscard]] bool has_value(Variable variable) const {
    return std::any_of(choice_.values.begin(), choice_.values.end(),
                       [variable](const ValueColumn& v) { return v.variable == variable; });
  }

  /// A column that probably holds what no other does.
  [[nodiscard]] bool doubt_unused(const CsvCell& cell) {
    const auto likely = likely_column(cell.text);
    if (!likely || has_value(likely->variable)) return false;
    const std::string name(standard_name(likely->variable));
    findings_.push_back({Finding::Kind::doubt, place_of(file_, cell),
                         quoted(cell.text) + " is not used: it may be " + name,
                         "if it is, write under weather: columns: {" + name + ": \"" +
                             likely->mapping + "\"}, with its unit; for runnel et: --column \"" +
                             name + "=" + likely->mapping + "\""});
    return true;
  }

  void remark_unused() {
    std::string unused;
    std::optional<CsvCell> first;
    for (std::size_t i = 0; i < used_.size(); ++i) {
      const CsvCell& cell = table_.header()[i];
      if (used_[i] || cell.text.empty() || doubt_unused(cell)) continue;
      if (!first) first = cell;
      unused += (unused.empty() ? "" : ", ") + quoted(cell.text);
    }
    if (first)
      findings_.push_back(
          {Finding::Kind::remark, place_of(file_, *first), "columns not used: " + unused, ""});
  }

  const CsvTable& table_;
  std::string_view file_;
  ColumnChoice choice_;
  std::map<Part, int> parts_;
  std::vector<Part> mapped_parts_;
  std::vector<Variable> mapped_;
  std::vector<bool> used_ = std::vector<bool>(table_.header().size(), false);
  std::vector<Finding> findings_;
};

}  // namespace

Read<ColumnChoice> choose_columns(const CsvTable& table, std::string_view file,
                                  const WeatherLayout& layout) {
  Chooser chooser(table, file);
  for (const auto& [standard, written] : layout.columns) chooser.take_mapped(standard, written);
  chooser.take_recognised();
  return chooser.finish();
}

}  // namespace runnel

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <utility>

#include "runnel/delivery/catch_cans.hpp"
#include "runnel/units/csv.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

/// A column that holds measures, and the factor to base units.
struct MeasureColumn {
  int index = -1;  ///< -1: there is none
  double factor = 1.0;
};

// Limits against slips of the pen (a unit mistaken, a digit too many); no source.
constexpr double least_run_min = 0.1, most_run_min = 1440.0;
constexpr double least_mouth_m2 = 1e-4, most_mouth_m2 = 1.0;
constexpr double most_depth_mm = 1e4;
constexpr double most_place_m = 1e5;

class Reader {
 public:
  Reader(std::string_view csv, std::string_view name, const CatchCanLayout& layout)
      : csv_(csv), name_(name), layout_(layout), table_(split_csv(csv, name)) {
    test_.run = Duration::minutes(0.0);
    findings_ = std::move(table_.findings);
  }

  Read<CatchCanTest> read() {
    if (!table_.value) return {.value = std::nullopt, .findings = std::move(findings_)};
    read_comments();
    find_columns();
    settle_run();
    settle_mouth();
    if (has_error(findings_)) return {.value = std::nullopt, .findings = std::move(findings_)};
    for (std::size_t row = 0; row < table_.value->rows(); ++row) read_can(table_.value->row(row));
    judge_number();
    if (has_error(findings_)) return {.value = std::nullopt, .findings = std::move(findings_)};
    return {.value = std::move(test_), .findings = std::move(findings_)};
  }

 private:
  void say(Finding::Kind kind, int line, int column, std::string says, std::string mend) {
    findings_.push_back({.kind = kind,
                         .at = {.file = name_, .line = line, .column = column, .key = {}},
                         .says = std::move(says),
                         .mend = std::move(mend)});
  }
  void error(const CsvCell& at, std::string says, std::string mend) {
    say(Finding::Kind::error, at.line, at.column, std::move(says), std::move(mend));
  }

  /// Where to report what is wrong with the whole.
  [[nodiscard]] CsvCell top() const { return table_.value->header().front(); }

  /// "# run: 5 min": what the table's own columns have no place for.
  void read_comments() {
    int line = 0;
    for (std::string_view rest = csv_; !rest.empty();) {
      ++line;
      const std::size_t end = std::min(rest.find('\n'), rest.size());
      const char* const line_start = rest.data();
      const std::string_view text = trimmed(rest.substr(0, end));
      rest.remove_prefix(std::min(end + 1, rest.size()));
      const std::size_t colon = text.find(':');
      if (!text.starts_with('#') || colon == std::string_view::npos) continue;
      const std::string key = lower(trimmed(text.substr(1, colon - 1)));
      const std::string_view value = trimmed(text.substr(colon + 1));
      const CsvCell at{
          .text = value, .line = line, .column = static_cast<int>(value.data() - line_start) + 1};
      if (key == "run") take_run(at);
      if (key == "mouth") take_mouth(at);
    }
  }

  void take_run(const CsvCell& at) {
    if (layout_.run) return;
    const MeasureOrFault run = parse_measure(at.text, Dimension::duration);
    if (!run.fault.empty()) error(at, "run: " + run.fault, run.mend);
    layout_.run = Duration::minutes(run.fault.empty() ? run.value : 1.0);
    run_at_ = at;
  }
  void take_mouth(const CsvCell& at) {
    if (layout_.mouth) return;
    const MouthOrFault mouth = parse_mouth(at.text);
    if (!mouth.mouth) error(at, "mouth: " + mouth.fault, mouth.mend);
    layout_.mouth = mouth.mouth.value_or(Area::m2(1.0));
    mouth_at_ = at;
  }

  void find_columns() {
    std::vector<std::string> unknown;
    const auto header = table_.value->header();
    for (std::size_t i = 0; i < header.size(); ++i) {
      const CsvHeader parts = split_csv_header(header[i].text);
      const std::string base = lower(parts.base);
      const int index = static_cast<int>(i);
      if (base == "can") name_column_ = index;
      if (base == "volume") volume_ = measures(header[i], parts, Dimension::volume, index);
      if (base == "depth") depth_ = measures(header[i], parts, Dimension::depth, index);
      if (base == "x") x_ = measures(header[i], parts, Dimension::length, index);
      if (base == "y") y_ = measures(header[i], parts, Dimension::length, index);
    }
    const CsvCell at = top();
    if (name_column_ < 0)
      error(at, "there is no column \"can\"",
            "head one with \"can\": a number or name of each can");
    if (volume_.index < 0 && depth_.index < 0)
      error(at, "there is no column \"volume\" or \"depth\"",
            R"(head one with what the cans caught, such as "volume [mL]" or "depth [mm]")");
    if (volume_.index >= 0 && depth_.index >= 0)
      error(at, "both \"volume\" and \"depth\" say what the cans caught", "leave one of them out");
    if ((x_.index >= 0) != (y_.index >= 0))
      error(at, "a position needs both \"x\" and \"y\"", "add the other, or leave both out");
  }

  MeasureColumn measures(const CsvCell& at, const CsvHeader& parts, Dimension dimension,
                         int index) {
    const Unit* unit = parts.bracket ? find_unit(*parts.bracket, dimension) : nullptr;
    if (unit == nullptr) {
      const std::string base(parts.base);
      error(at,
            parts.bracket ? quoted(*parts.bracket) + " is no unit of " + base
                          : "the column " + quoted(base) + " has no unit",
            "write it in brackets, such as " +
                quoted(base + " [" +
                       (dimension == Dimension::volume ? "mL" : std::string(base_unit(dimension))) +
                       "]") +
                "; the units are " + units_of(dimension));
      return {.index = index, .factor = 1.0};
    }
    return {.index = index, .factor = unit->factor};
  }

  void settle_run() {
    if (!layout_.run) {
      error(top(), "how long the valve ran is not stated",
            "write --run \"15 min\", or a line \"# run: 15 min\" at the head of the file");
      return;
    }
    if (!(layout_.run->minutes() > 0.0))
      error(run_at_, "the valve ran for no time at all",
            "state how long it ran, such as \"15 min\"");
    else if (layout_.run->minutes() < least_run_min || layout_.run->minutes() > most_run_min)
      error(run_at_, "the valve ran for less than 0.1 minutes or more than a day",
            "check the figure and its unit");
    test_.run = *layout_.run;
  }
  void settle_mouth() {
    if (volume_.index < 0) return;
    if (!layout_.mouth) {
      error(top(), "volumes need the size of the cans' mouths",
            "write --mouth \"11 cm\" (across) or \"95 cm2\", or a line \"# mouth: 11 cm\" at the "
            "head of "
            "the file");
      return;
    }
    if (!(layout_.mouth->m2() > 0.0))
      error(mouth_at_, "a can's mouth must be larger than 0",
            "state its area or how far it is across");
    else if (layout_.mouth->m2() < least_mouth_m2 || layout_.mouth->m2() > most_mouth_m2)
      error(mouth_at_, "a can's mouth is between 1 cm2 and 1 m2", "check the figure and its unit");
  }

  std::optional<double> number(std::span<const CsvCell> row, const MeasureColumn& column,
                               std::string_view what) {
    const CsvCell& cell = row[static_cast<std::size_t>(column.index)];
    const auto value = parse_number(cell.text, table_.value->decimal_comma());
    if (!value) {
      error(cell,
            cell.text.empty() ? std::string(what) + " is missing"
                              : quoted(cell.text) + " is not a number",
            "write the figure alone, 0 for a dry can, and its unit in the header; leave out the "
            "whole row of a can that fell over");
      return std::nullopt;
    }
    return *value * column.factor;
  }

  /// Of that row; 0 when it cannot be read.
  double depth_mm(std::span<const CsvCell> row) {
    const bool by_volume = volume_.index >= 0;
    const MeasureColumn& column = by_volume ? volume_ : depth_;
    const double caught = number(row, column, by_volume ? "the volume" : "the depth").value_or(0.0);
    if (caught < 0.0)
      error(row[static_cast<std::size_t>(column.index)], "a can cannot hold less than nothing",
            "write 0 for a dry can");
    const double depth_mm = by_volume ? caught / layout_.mouth->m2() : caught;
    if (depth_mm <= most_depth_mm) return depth_mm;
    error(row[static_cast<std::size_t>(column.index)], "no can holds 10 m of water",
          "check the figure, the unit in the header, and the size of the mouth");
    return 0.0;
  }

  void read_can(std::span<const CsvCell> row) {
    const CsvCell& name = row[static_cast<std::size_t>(name_column_)];
    const double caught_mm = depth_mm(row);
    if (name.text.empty()) error(name, "the can has no name", "number the cans");
    const auto [first, is_new] = names_.emplace(lower(name.text), name.line);
    if (!is_new && !name.text.empty())
      error(name,
            "can " + quoted(name.text) + " stands here twice, first on line " +
                std::to_string(first->second),
            "give each can its own name, or leave one of the rows out");
    CatchCan can{.name = std::string(name.text),
                 .depth_mm = caught_mm,
                 .x_m = std::nullopt,
                 .y_m = std::nullopt};
    read_position(row, can);
    test_.cans.push_back(std::move(can));
  }

  void read_position(std::span<const CsvCell> row, CatchCan& can) {
    if (x_.index < 0 || y_.index < 0) return;
    can.x_m = number(row, x_, "x");
    can.y_m = number(row, y_, "y");
    if (!can.x_m || !can.y_m) return;
    if (std::abs(*can.x_m) > most_place_m || std::abs(*can.y_m) > most_place_m) {
      error(row[static_cast<std::size_t>(x_.index)], "a can stands more than 100 km away",
            "measure x and y from a corner of the zone");
      return;
    }
    const CsvCell& at = row[static_cast<std::size_t>(x_.index)];
    const auto [first, is_new] = places_.emplace(std::pair{*can.x_m, *can.y_m}, at.line);
    if (!is_new)
      error(at, "two cans stand at this place, the first on line " + std::to_string(first->second),
            "correct one of the positions");
  }

  void judge_number() {
    const std::size_t n = test_.cans.size();
    const std::string wanted = "at least " + std::to_string(cans_wanted) +
                               " in a zone are wanted (University of Minnesota Extension)";
    if (n < cans_needed) {
      error(top(),
            std::to_string(n) + (n == 1 ? " can is" : " cans are") +
                " too few: there is no lowest quarter of fewer than " + std::to_string(cans_needed),
            wanted);
      return;
    }
    if (std::none_of(test_.cans.begin(), test_.cans.end(),
                     [](const CatchCan& can) { return can.depth_mm > 0.0; }) &&
        !has_error(findings_)) {
      error(top(), "no can caught any water", "see that the valve opens, and run the test again");
      return;
    }
    if (n < cans_wanted)
      say(Finding::Kind::doubt, top().line, top().column,
          std::to_string(n) + " cans show a zone only roughly", wanted);
  }

  std::string_view csv_;
  std::string name_;
  CatchCanLayout layout_;
  CsvCell run_at_, mouth_at_;  ///< line 0: the command line said so
  Read<CsvTable> table_;
  CatchCanTest test_;
  std::vector<Finding> findings_;
  int name_column_ = -1;
  MeasureColumn volume_, depth_, x_, y_;
  std::map<std::string, int> names_;
  std::map<std::pair<double, double>, int> places_;
};

}  // namespace

Read<CatchCanTest> parse_catch_cans(std::string_view csv, std::string_view name,
                                    const CatchCanLayout& layout) {
  return Reader(csv, name, layout).read();
}

MouthOrFault parse_mouth(std::string_view text) {
  const MeasureOrFault area = parse_measure(text, Dimension::area);
  if (area.fault.empty()) return {.mouth = Area::m2(area.value), .fault = {}, .mend = {}};
  const MeasureOrFault across = parse_measure(text, Dimension::length);
  if (!across.fault.empty())
    return {.mouth = std::nullopt,
            .fault = quoted(text) + " is neither an area nor a length",
            .mend = R"(write "95 cm2", "16.6 sq in", or how far it is across, "11 cm")"};
  return {.mouth = Area::m2(std::numbers::pi / 4.0 * across.value * across.value),
          .fault = {},
          .mend = {}};
}

}  // namespace runnel

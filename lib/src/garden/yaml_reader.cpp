#include "yaml_reader.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>
#include <vector>

#include "runnel/units/calendar.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/nearest.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

/// Nobody mends more at a time, and a hostile file must not print a million lines.
constexpr std::size_t most_findings = 100;

std::string joined(std::span<const std::string_view> words) {
  std::string text;
  for (const std::string_view word : words) {
    if (!text.empty()) text += ", ";
    text += word;
  }
  return text;
}

std::string key_below(const std::string& path, std::string_view key) {
  return path.empty() ? std::string(key) : path + "." + std::string(key);
}

/// "010": YAML 1.1 reads it as 8, YAML 1.2 as 10.
bool has_leading_zero(std::string_view text) {
  if (!text.empty() && (text[0] == '-' || text[0] == '+')) text.remove_prefix(1);
  return text.size() > 1 && text[0] == '0' && text[1] >= '0' && text[1] <= '9';
}

std::string without_leading_zeros(std::string_view text) {
  const bool negative = !text.empty() && text[0] == '-';
  text.remove_prefix(std::min(text.find_first_not_of("+-0"), text.size()));
  const bool needs_zero = text.empty() || text[0] < '0' || text[0] > '9';
  return (negative ? "-" : "") + std::string(needs_zero ? "0" : "") + std::string(text);
}

std::string outside(std::string_view name, std::string_view written, const Range& range,
                    std::string_view unit) {
  constexpr std::size_t longest_shown = 24;
  if (written.size() > longest_shown) written = "as written";
  std::string text = std::string(name) + " " + std::string(written) + " is outside " +
                     shortest(range.least) + " to " + shortest(range.most);
  if (!unit.empty()) text += " " + std::string(unit);
  return text;
}

bool within(double value, const Range& range) {
  return value >= range.least && value <= range.most;
}

/// A word or two that may stand in a message as they are.
bool is_plain(std::string_view text) {
  constexpr std::size_t longest = 40;
  return !text.empty() && text.size() <= longest &&
         std::all_of(text.begin(), text.end(), [](char c) {
           constexpr std::string_view also = " -._/0123456789";
           return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                  also.find(c) != std::string_view::npos;
         });
}

/// "41.3 S" is -41.3 to the file.
std::string mend_of_number(std::string_view written) {
  const char half = static_cast<char>(written.back() & ~0x20);
  if (half == 'N' || half == 'E' || half == 'S' || half == 'W') {
    std::string_view degrees = trimmed(written.substr(0, written.size() - 1));
    if (constexpr std::string_view sign = "°"; degrees.ends_with(sign))
      degrees = trimmed(degrees.substr(0, degrees.size() - sign.size()));
    const bool negative = half == 'S' || half == 'W';
    if (const auto number = parse_number(degrees); number && *number >= 0.0)
      return "write " + std::string(negative ? "-" : "") + shortest(*number) +
             ": north and east are positive, south and west negative";
    return "write decimal degrees, south and west of zero negative, such as -41.3";
  }
  return "write a decimal number, such as 38.72";
}

}  // namespace

void FindingList::add(Finding::Kind kind, Place at, std::string says, std::string mend) {
  if (findings_.size() > 10 * most_findings) return;
  findings_.push_back(
      {.kind = kind, .at = std::move(at), .says = std::move(says), .mend = std::move(mend)});
}

void FindingList::add(std::vector<Finding> findings) {
  for (Finding& finding : findings) findings_.push_back(std::move(finding));
}

void FindingList::take_back_absence(const std::string& key) {
  std::erase_if(findings_, [&](const Finding& finding) {
    return finding.at.key == key &&
           (finding.says.ends_with(" is missing") || finding.says.starts_with("not stated: "));
  });
}

std::vector<Finding> FindingList::take() {
  std::stable_sort(findings_.begin(), findings_.end(), [](const Finding& a, const Finding& b) {
    return std::tie(a.at.line, a.at.column) < std::tie(b.at.line, b.at.column);
  });
  std::vector<Finding> kept;
  std::size_t errors = 0;
  for (Finding& finding : findings_) {
    if (finding.kind == Finding::Kind::error && ++errors > most_findings) continue;
    kept.push_back(std::move(finding));
  }
  findings_.clear();
  return kept;
}

YamlField::YamlField(FindingList& list, const YamlNode* node, Place at, std::string name)
    : list_(&list), node_(node), at_(std::move(at)), name_(std::move(name)) {}

bool YamlField::is_map() const { return node_ != nullptr && node_->kind == YamlNode::Kind::map; }

bool YamlField::is_list() const {
  return node_ != nullptr && node_->kind == YamlNode::Kind::sequence;
}

std::string_view YamlField::word() const {
  const bool scalar = node_ != nullptr && node_->kind == YamlNode::Kind::scalar;
  return scalar ? trimmed(node_->text) : std::string_view();
}

Place YamlField::value_place() const {
  Place place = at_;
  if (node_ != nullptr) {
    place.line = node_->line;
    place.column = node_->column;
  }
  return place;
}

void YamlField::error(std::string says, std::string mend) const {
  list_->add(Finding::Kind::error, value_place(), std::move(says), std::move(mend));
}

void YamlField::doubt(std::string says, std::string mend) const {
  list_->add(Finding::Kind::doubt, value_place(), std::move(says), std::move(mend));
}

YamlField& YamlField::needed(std::string_view example) {
  if (node_ == nullptr && at_.line > 0) {
    error(quoted(name_) + " is missing", "write it, for example " + std::string(example));
  }
  return *this;
}

YamlField& YamlField::or_else(const std::string& taken) {
  if (node_ == nullptr && at_.line > 0) {
    list_->add(Finding::Kind::remark, at_, "not stated: " + taken);
  }
  return *this;
}

std::optional<std::string_view> YamlField::scalar(std::string_view kind) const {
  if (node_ == nullptr || node_->kind == YamlNode::Kind::broken) return std::nullopt;
  if (node_->kind == YamlNode::Kind::scalar && !trimmed(node_->text).empty()) {
    return trimmed(node_->text);
  }
  if (node_->kind == YamlNode::Kind::scalar || node_->kind == YamlNode::Kind::null) {
    error("nothing is written for " + quoted(name_), "write " + std::string(kind));
  } else {
    error(quoted(name_) + " must be " + std::string(kind) + ", not " +
          (is_list() ? "a list" : "entries of its own"));
  }
  return std::nullopt;
}

std::optional<std::string> YamlField::text() const {
  const auto written = scalar("a text");
  if (!written) return std::nullopt;
  return std::string(*written);
}

std::optional<double> YamlField::number(const Range& range) const {
  const auto written = scalar("a number");
  if (!written) return std::nullopt;
  const auto value = parse_number(*written);
  if (!value) {
    error(quoted(*written) + " is not a number", mend_of_number(*written));
  } else if (has_leading_zero(*written)) {
    error(quoted(*written) + " begins with 0: some programs read that as an octal number",
          "write " + without_leading_zeros(*written));
  } else if (!within(*value, range)) {
    error(outside(name_, *written, range, ""), "write a number within these limits");
  } else {
    return value;
  }
  return std::nullopt;
}

std::optional<int> YamlField::whole_number(int least, int most) const {
  const Range range{.least = static_cast<double>(least), .most = static_cast<double>(most)};
  const auto value = number(range);
  if (!value) return std::nullopt;
  const int whole = static_cast<int>(*value);
  if (static_cast<double>(whole) != *value) {
    error(quoted(*scalar("a number")) + " is not a whole number", "write one, such as 3");
    return std::nullopt;
  }
  return whole;
}

std::optional<double> YamlField::measure(Dimension dimension, const Range& range) const {
  const auto written = scalar("a number with its unit");
  if (!written) return std::nullopt;
  const MeasureOrFault read = parse_measure(*written, dimension);
  if (!read.fault.empty()) {
    error(read.fault, read.mend);
  } else if (!within(read.value, range)) {
    error(outside(name_, *written, range, base_unit(dimension)),
          "write one within these limits, and check its unit");
  } else {
    return read.value;
  }
  return std::nullopt;
}

std::optional<Date> YamlField::date() const {
  const auto written = scalar("a date");
  if (!written) return std::nullopt;
  const auto value = parse_date(*written);
  if (!value) {
    error(quoted(*written) + " is not a date that exists",
          "write year, month and day, such as 2027-04-20");
  }
  return value;
}

std::optional<bool> YamlField::yes_or_no() const {
  const auto written = scalar("yes or no");
  if (!written) return std::nullopt;
  const std::string word = lower(*written);
  if (word == "yes" || word == "true") return true;
  if (word == "no" || word == "false") return false;
  error(quoted(*written) + " is neither yes nor no", "write yes or no");
  return std::nullopt;
}

std::optional<std::string> YamlField::one_of(std::span<const std::string_view> words,
                                             std::string_view what) const {
  const auto written = scalar("one of: " + joined(words));
  if (!written) return std::nullopt;
  const std::string wanted = lower(*written);
  for (const std::string_view word : words) {
    if (lower(word) == wanted) return std::string(word);
  }
  constexpr std::size_t most_listed = 12;
  std::string mend;
  if (const auto guess = nearest(*written, words)) {
    mend = "did you mean " + quoted(*guess) + "?";
  } else if (words.size() <= most_listed) {
    mend = "known: " + joined(words);
  }
  error("no " + std::string(what) + " is called " + quoted(*written), mend);
  return std::nullopt;
}

std::vector<YamlField> YamlField::list() const {
  std::vector<YamlField> fields;
  if (node_ == nullptr || node_->kind == YamlNode::Kind::broken) return fields;
  if (!is_list()) {
    error(quoted(name_) + " must be a list",
          "write each entry on a line of its own after \"- \", or all of them in [ ]");
    return fields;
  }
  for (const YamlNode& item : node_->items) {
    const std::string key = key_below(at_.key, std::to_string(fields.size() + 1));
    const Place at{.file = list_->file(), .line = item.line, .column = item.column, .key = key};
    fields.emplace_back(*list_, &item, at, name_);
  }
  return fields;
}

YamlMap YamlField::map(std::string_view usual_key) const {
  const bool likely = !usual_key.empty() && is_plain(word());
  return map_or_mend(likely ? std::string(usual_key) + ": " + std::string(word()) : "");
}

YamlMap YamlField::map_or_mend(const std::string& instead) const {
  const bool silent = node_ == nullptr || node_->kind == YamlNode::Kind::broken;
  if (!silent && node_->kind == YamlNode::Kind::null) {
    error("nothing is written for " + quoted(name_), "write its entries as \"key: value\"");
  } else if (!silent && !is_map()) {
    error(quoted(name_) + " must hold entries of its own",
          instead.empty() ? "write them as \"key: value\", indented further, or in { }"
                          : "write " + name_ + ": {" + instead + "}");
  }
  return {*list_, is_map() ? node_ : nullptr, at_};
}

YamlMap::YamlMap(FindingList& list, const YamlNode* node, Place at)
    : list_(&list), node_(node), at_(std::move(at)) {}

Place YamlMap::place_of(const YamlEntry& entry) const {
  return {.file = list_->file(),
          .line = entry.line,
          .column = entry.column,
          .key = key_below(at_.key, entry.key)};
}

YamlField YamlMap::field(std::string_view key) {
  known_.push_back(key);
  Place missing{.file = list_->file(), .line = 0, .column = 0, .key = key_below(at_.key, key)};
  if (node_ == nullptr) return {*list_, nullptr, missing, std::string(key)};
  for (const YamlEntry& entry : node_->entries) {
    if (entry.key == key) return {*list_, &entry.value, place_of(entry), entry.key};
  }
  missing.line = at_.line;
  missing.column = at_.column;
  return {*list_, nullptr, missing, std::string(key)};
}

bool YamlMap::has(std::string_view key) const {
  return node_ != nullptr &&
         std::any_of(node_->entries.begin(), node_->entries.end(),
                     [key](const YamlEntry& entry) { return entry.key == key; });
}

void YamlMap::refuse_others() const {
  if (node_ == nullptr) return;
  for (const YamlEntry& entry : node_->entries) {
    if (std::find(known_.begin(), known_.end(), entry.key) != known_.end()) continue;
    const auto guess = nearest(entry.key, known_);
    const std::string mend =
        guess ? "did you mean " + quoted(*guess) + "?" : "known here: " + joined(known_);
    if (guess)
      list_->take_back_absence((at_.key.empty() ? "" : at_.key + ".") + std::string(*guess));
    Place at = place_of(entry);
    at.key = at_.key;
    list_->add(Finding::Kind::error, at, "unknown key " + quoted(entry.key), mend);
  }
}

std::vector<YamlMap::Named> YamlMap::all() const {
  std::vector<Named> entries;
  if (node_ == nullptr) return entries;
  for (const YamlEntry& entry : node_->entries) {
    entries.push_back(
        {.key = entry.key, .field = YamlField(*list_, &entry.value, place_of(entry), entry.key)});
  }
  return entries;
}

}  // namespace runnel

#include "runnel/units/csv.hpp"

#include <algorithm>
#include <cstddef>
#include <deque>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <unordered_set>
#include <utility>
#include <vector>

#include "runnel/units/finding.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/plain_text.hpp"

namespace runnel {
namespace {

/// The separator that stands most often in the line, outside quotes; a comma when none does.
char separator_of(std::string_view line) {
  std::size_t semicolons = 0;
  std::size_t tabs = 0;
  std::size_t commas = 0;
  bool in_quotes = false;
  for (const char c : line) {
    if (c == '"') in_quotes = !in_quotes;
    if (!in_quotes && (c == '\n' || c == '\r')) break;
    if (in_quotes) continue;
    semicolons += c == ';' ? 1U : 0U;
    tabs += c == '\t' ? 1U : 0U;
    commas += c == ',' ? 1U : 0U;
  }
  if (semicolons > 0 && semicolons >= tabs && semicolons >= commas) return ';';
  if (tabs > 0 && tabs >= commas) return '\t';
  return ',';
}

std::string counted(std::size_t count, std::string_view singular) {
  return std::to_string(count) + " " + std::string(singular) + (count == 1 ? "" : "s");
}

/// A fault that may be repeated on thousands of rows: the first one is told, the others are
/// counted.
struct Repeated {
  std::optional<Finding> first;
  std::size_t more = 0;

  void add(Finding finding) {
    if (first) {
      ++more;
    } else {
      first = std::move(finding);
    }
  }
  void move_to(std::vector<Finding>& findings, std::string_view what) {
    if (!first) return;
    if (more > 0) first->says += ", and so " + counted(more, what) + " more";
    findings.push_back(*std::move(first));
  }
};

/// Walks through the text once, a field at a time.
class Splitter {
 public:
  explicit Splitter(std::string_view text, bool ascii) : text_(text), ascii_(ascii) {}

  [[nodiscard]] bool at_end() const { return at_ >= text_.size(); }
  [[nodiscard]] std::string_view rest() const { return text_.substr(at_); }

  /// Steps over blank lines and comment lines.
  void skip_idle_lines() {
    while (!at_end()) {
      const std::size_t i = std::min(text_.find_first_not_of(" \t", at_), text_.size());
      const bool blank = i >= text_.size() || text_[i] == '\n' || text_[i] == '\r';
      const bool comment = text_[at_] == '#';
      if (!comment && !blank) return;
      at_ = std::min(text_.find_first_of("\r\n", i), text_.size());
      end_line();
    }
  }

  struct Field {
    CsvCell cell;
    bool last_of_row = false;
    bool has_doubled_quotes = false;
    bool unclosed = false;
    bool text_after_quote = false;
  };

  Field next(char separator) {
    std::size_t i = at_;
    while (i < text_.size() && is_padding(text_[i], separator)) ++i;
    Field field = i < text_.size() && text_[i] == '"' ? quoted_field(i, separator)
                                                      : plain_field(i, separator);
    if (at_ < text_.size() && text_[at_] == separator) {
      ++at_;
    } else {
      field.last_of_row = true;
      end_line();
    }
    return field;
  }

 private:
  static bool is_padding(char c, char separator) {
    return c == ' ' || (c == '\t' && c != separator);
  }

  /// Offsets must not go back, so that a line is counted once however many fields it has.
  int column_at(std::size_t offset) {
    const std::string_view since = text_.substr(counted_to_, offset - counted_to_);
    column_ += static_cast<int>(since.size());
    if (!ascii_) {
      column_ -= static_cast<int>(std::count_if(since.begin(), since.end(), is_continuation));
    }
    counted_to_ = offset;
    return column_;
  }

  /// `at_` stands on a line end or at the end of the text.
  void end_line() {
    if (at_end()) return;
    const bool two_bytes = text_[at_] == '\r' && at_ + 1 < text_.size() && text_[at_ + 1] == '\n';
    at_ += two_bytes ? 2 : 1;
    ++line_;
    counted_to_ = at_;
    column_ = 1;
  }

  Field plain_field(std::size_t from, char separator) {
    std::size_t i = from;
    while (i < text_.size() && text_[i] != separator && text_[i] != '\n' && text_[i] != '\r') ++i;
    at_ = i;
    Field field;
    field.cell = {trimmed(text_.substr(from, i - from)), line_, column_at(from)};
    return field;
  }

  Field quoted_field(std::size_t quote, char separator) {
    Field field;
    field.cell = {{}, line_, column_at(quote)};
    at_ = quote + 1;
    while (true) {
      at_ = std::min(text_.find_first_of("\"\r\n", at_), text_.size());
      if (at_end()) {
        field.unclosed = true;
        return field;
      }
      if (text_[at_] != '"') {
        end_line();
      } else if (at_ + 1 < text_.size() && text_[at_ + 1] == '"') {
        field.has_doubled_quotes = true;
        at_ += 2;
      } else {
        break;
      }
    }
    field.cell.text = trimmed(text_.substr(quote + 1, at_ - quote - 1));
    ++at_;
    while (at_ < text_.size() && is_padding(text_[at_], separator)) ++at_;
    const bool ended =
        at_end() || text_[at_] == separator || text_[at_] == '\n' || text_[at_] == '\r';
    field.text_after_quote = !ended;
    while (at_ < text_.size() && text_[at_] != separator && text_[at_] != '\n' &&
           text_[at_] != '\r') {
      ++at_;
    }
    return field;
  }

  std::string_view text_;
  bool ascii_;
  std::size_t at_ = 0;
  std::size_t counted_to_ = 0;
  int column_ = 1;
  int line_ = 1;
};

std::string with_single_quotes(std::string_view text) {
  std::string result;
  result.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    result += text[i];
    if (text[i] == '"') ++i;  // the second of a doubled quote
  }
  return result;
}

Place place_of(std::string_view name, const CsvCell& cell) {
  return {.file = std::string(name), .line = cell.line, .column = cell.column, .key = ""};
}

Finding error_at(Place at, std::string says, std::string mend) {
  return {Finding::Kind::error, std::move(at), std::move(says), std::move(mend)};
}

/// The faults of rows, one kind at a time.
class RowFaults {
 public:
  void add_text_after_quote(std::string_view name, const CsvCell& cell) {
    after_quote_.add(error_at(place_of(name, cell), "there is text after the closing quote",
                              "write a quote inside a quoted field twice"));
  }
  void add_wrong_count(std::string_view name, std::span<const CsvCell> row, std::size_t columns) {
    const bool fewer = row.size() < columns;
    Repeated& kind = fewer ? fewer_ : more_;
    // A row of too many fields goes wrong where the header has none; one of too few at its last.
    kind.add(error_at(
        place_of(name, fewer ? row.back() : row[columns]),
        "this row has " + counted(row.size(), "field") + ", the header " + std::to_string(columns),
        fewer ? "add what is missing, or leave it empty between separators"
              : "quote a field that holds the separator, or remove what is too much"));
  }
  void move_to(std::vector<Finding>& findings) {
    after_quote_.move_to(findings, "field");
    fewer_.move_to(findings, "row");
    more_.move_to(findings, "row");
  }

 private:
  Repeated after_quote_;
  Repeated fewer_;
  Repeated more_;
};

void check_header(std::span<const CsvCell> header, std::string_view name,
                  std::vector<Finding>& findings) {
  Repeated empty;
  Repeated twice;
  std::unordered_set<std::string_view> seen;
  for (const CsvCell& cell : header) {
    if (cell.text.empty()) {
      empty.add({Finding::Kind::doubt, place_of(name, cell),
                 "a column of the header has no name and is not read", "name it, or remove it"});
    } else if (!seen.insert(cell.text).second) {
      twice.add(error_at(place_of(name, cell),
                         "the header names the column " + quoted(cell.text) + " twice",
                         "keep one of them, or rename one"));
    }
  }
  empty.move_to(findings, "column");
  twice.move_to(findings, "column");
}

struct Rows {
  std::vector<CsvCell> cells;
  std::vector<std::size_t> starts;
  std::deque<std::string> unescaped;
};

/// Appends one row. @return the field whose quote is never closed, if there is one.
std::optional<CsvCell> read_row(Splitter& splitter, char separator, std::string_view name,
                                Rows& rows, RowFaults& faults) {
  const std::size_t start = rows.cells.size();
  bool all_empty = true;
  Splitter::Field field;
  while (!field.last_of_row) {
    field = splitter.next(separator);
    if (field.unclosed) return field.cell;
    if (field.text_after_quote) faults.add_text_after_quote(name, field.cell);
    if (field.has_doubled_quotes) {
      field.cell.text = rows.unescaped.emplace_back(with_single_quotes(field.cell.text));
    }
    all_empty = all_empty && field.cell.text.empty();
    rows.cells.push_back(field.cell);
  }
  if (all_empty) {
    // Spreadsheets write the empty rows below a table as separators only.
    rows.cells.resize(start);
    return std::nullopt;
  }
  const auto cells = std::span<const CsvCell>(rows.cells).subspan(start);
  const std::size_t columns = rows.starts.size() < 2 ? start : rows.starts[1];
  if (!rows.starts.empty() && cells.size() != columns) {
    faults.add_wrong_count(name, cells, columns);
  }
  rows.starts.push_back(start);
  return std::nullopt;
}

std::vector<Finding> only(Finding finding) { return {std::move(finding)}; }

}  // namespace

int CsvTable::column(std::string_view name) const {
  const auto names = header();
  const auto found = std::find_if(names.begin(), names.end(),
                                  [name](const CsvCell& cell) { return cell.text == name; });
  return found == names.end() ? -1 : static_cast<int>(found - names.begin());
}

Read<CsvTable> split_csv(std::string_view text, std::string_view name) {
  const Place whole{.file = std::string(name), .line = 0, .column = 0, .key = ""};
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);  // byte order mark
  const std::size_t binary = first_binary_byte(text);
  if (binary < text.size()) {
    const TextPosition at = position_of(text, binary);
    return {std::nullopt,
            only(error_at({whole.file, at.line, at.column, ""}, "this is not plain text",
                          "save it as CSV with the encoding UTF-8"))};
  }
  Splitter splitter(text, std::none_of(text.begin(), text.end(), is_continuation));
  splitter.skip_idle_lines();
  const char separator = separator_of(splitter.rest());
  const auto count = [text](char c) {
    return static_cast<std::size_t>(std::count(text.begin(), text.end(), c));
  };
  Rows rows;
  rows.cells.reserve(count(separator) + count('\n') + 1);
  RowFaults faults;
  while (!splitter.at_end()) {
    if (const auto open = read_row(splitter, separator, name, rows, faults)) {
      return {std::nullopt,
              only(error_at(place_of(name, *open), "a quote is opened here and never closed",
                            "close it, or remove it"))};
    }
    splitter.skip_idle_lines();
  }
  if (rows.starts.empty()) {
    return {std::nullopt, only(error_at({whole.file, 1, 1, ""}, "there is nothing in this file",
                                        "begin with a line that names the columns"))};
  }
  rows.starts.push_back(rows.cells.size());

  Read<CsvTable> read;
  CsvTable table;
  table.cells_ = std::move(rows.cells);
  table.starts_ = std::move(rows.starts);
  table.unescaped_ = std::move(rows.unescaped);
  table.separator_ = separator;
  table.decimal_comma_ = separator == ';';
  check_header(table.header(), name, read.findings);
  faults.move_to(read.findings);
  if (!has_error(read.findings)) read.value = std::move(table);
  return read;
}

CsvHeader split_csv_header(std::string_view text) {
  text = trimmed(text);
  if (text.empty() || (text.back() != ']' && text.back() != ')')) return {text, std::nullopt};
  const std::size_t open = text.rfind(text.back() == ']' ? '[' : '(');
  if (open == std::string_view::npos || open == 0) return {text, std::nullopt};
  const std::string_view inside = text.substr(open + 1, text.size() - open - 2);
  return {trimmed(text.substr(0, open)), std::string(trimmed(inside))};
}

namespace {

/// What a spreadsheet could take for a formula: also the wide forms of = + - @ (U+FF1D, U+FF0B,
/// U+FF0D, U+FF20), as OWASP, CSV Injection, lists them. A sign alone is none.
bool is_formula(std::string_view text) {
  constexpr std::string_view formula_starts = "=+-@\t\r\n";
  if (text.size() < 2) return false;
  if (formula_starts.find(text.front()) != std::string_view::npos) return true;
  return text.starts_with("\uFF1D") || text.starts_with("\uFF0B") || text.starts_with("\uFF0D") ||
         text.starts_with("\uFF20");
}

/// A formula behind apostrophes, so that each one that csv_cell adds can be told from a name's own.
bool needs_guard(std::string_view text) {
  return is_formula(text.substr(std::min(text.find_first_not_of('\''), text.size())));
}

}  // namespace

std::string csv_cell(std::string_view text) {
  std::string quoted = needs_guard(text) ? "\"'" : "\"";
  for (const char c : text) {
    if (c == '"') quoted += c;
    quoted += c;
  }
  return quoted + "\"";
}

std::string_view without_formula_guard(std::string_view text) {
  return text.starts_with('\'') && needs_guard(text.substr(1)) ? text.substr(1) : text;
}

}  // namespace runnel

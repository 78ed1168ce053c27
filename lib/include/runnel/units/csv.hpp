#pragma once

#include <cstddef>
#include <deque>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel {

/// One field, unquoted, with blanks at both ends removed. Line and column count from 1 (column in
/// characters of the line).
struct CsvCell {
  std::string_view text;
  int line = 0;
  int column = 0;
};

/// A comma-, semicolon- or tab-separated text split into cells; the views stay valid as long as
/// both the text it was read from and this object live. Move-only, for that reason.
class CsvTable {
 public:
  CsvTable() = default;
  CsvTable(CsvTable&&) noexcept = default;
  CsvTable& operator=(CsvTable&&) noexcept = default;
  CsvTable(const CsvTable&) = delete;
  CsvTable& operator=(const CsvTable&) = delete;
  ~CsvTable() = default;

  /// The cells of the first row; empty in a table that was not read.
  [[nodiscard]] std::span<const CsvCell> header() const {
    return starts_.empty() ? std::span<const CsvCell>() : row_at(0);
  }
  /// Data rows; blank lines, rows of empty fields and comment lines ('#' first) left out.
  [[nodiscard]] std::size_t rows() const { return starts_.empty() ? 0 : starts_.size() - 2; }
  /// The cells of data row i, from 0; i must be below `rows()`.
  [[nodiscard]] std::span<const CsvCell> row(std::size_t i) const { return row_at(i + 1); }
  /// ',', ';' or a tab.
  [[nodiscard]] char separator() const { return separator_; }
  /// With semicolons, numbers may be written "0,5".
  [[nodiscard]] bool decimal_comma() const { return decimal_comma_; }
  /// Index of the column so named, or -1.
  [[nodiscard]] int column(std::string_view name) const;

 private:
  friend Read<CsvTable> split_csv(std::string_view text, std::string_view name);
  [[nodiscard]] std::span<const CsvCell> row_at(std::size_t i) const {
    return std::span(cells_).subspan(starts_[i], starts_[i + 1] - starts_[i]);
  }
  std::vector<CsvCell> cells_;
  std::vector<std::size_t> starts_;    // row i is [starts_[i], starts_[i + 1])
  std::deque<std::string> unescaped_;  // fields that held doubled quotes
  char separator_ = ',';
  bool decimal_comma_ = false;
};

/// "tmax [degF]" or "tmax (degF)" in its two parts; without a bracket the whole is the name.
struct CsvHeader {
  std::string_view base;
  std::optional<std::string> bracket;
};
/// The two parts of a header; `base` is a view into `text`.
[[nodiscard]] CsvHeader split_csv_header(std::string_view text);

/// Splits a CSV text (RFC 4180; also ';' or tab, BOM, CRLF, CR). The separator is the one that
/// stands most often in the header line. Errors: empty text, binary content (a NUL or invalid
/// UTF-8), an unclosed quote, text after a closing quote, a row with more or fewer fields than the
/// header, a repeated header name; of each kind the first, with the count of the others. A header
/// field without a name is a doubt: nobody can ask for that column.
/// @param text the whole file; must outlive the result.
/// @param name the file's name, for the findings.
[[nodiscard]] Read<CsvTable> split_csv(std::string_view text, std::string_view name);

/// The text as a quoted field (RFC 4180). What a spreadsheet could take for a formula gets an
/// apostrophe before it.
[[nodiscard]] std::string csv_cell(std::string_view text);
/// The text of a field without the apostrophe that csv_cell put before it.
[[nodiscard]] std::string_view without_formula_guard(std::string_view text);

}  // namespace runnel

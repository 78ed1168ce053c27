#pragma once

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/csv.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {

/// Reads a table of published figures row by row and gathers every fault. A value that cannot be
/// read becomes empty or 0 with an error, so that a reader goes on to the next fault.
class TableReader {
 public:
  /// @param csv must outlive the reader. @param name of the file, for the findings. @param columns
  /// that the table must have.
  TableReader(std::string_view csv, std::string_view name,
              std::initializer_list<std::string_view> columns);

  /// Goes to the next row. @return whether there is one; false at once when the table as a whole
  /// cannot be read.
  [[nodiscard]] bool next();

  [[nodiscard]] std::string text(std::string_view column);  ///< must not be empty
  /// Empty when the field is.
  [[nodiscard]] std::string text_if_any(std::string_view column) const;
  [[nodiscard]] double number(std::string_view column);  ///< must be there
  /// Nothing when the field is empty.
  [[nodiscard]] std::optional<double> number_if_any(std::string_view column);
  [[nodiscard]] double measure(std::string_view column,
                               Dimension dimension);  ///< "0.4 in/h", in base units
  /// The number of that column, which must lie between those of two others.
  [[nodiscard]] double number_within(std::string_view column, std::string_view low,
                                     std::string_view high);

  /// Adds an error at that column of the row.
  void fault(std::string_view column, std::string says);
  /// What was found so far; the reader forgets it.
  [[nodiscard]] std::vector<Finding> take_findings() { return std::move(findings_); }

 private:
  [[nodiscard]] const CsvCell& cell(std::string_view column) const;
  Read<CsvTable> table_;
  std::string name_;
  std::vector<Finding> findings_;
  std::size_t next_ = 0;
};

/// The rows read, unless the reader found an error.
template <class Rows>
[[nodiscard]] Read<Rows> finish(TableReader& reader, Rows rows) {
  Read<Rows> read{.value = std::nullopt, .findings = reader.take_findings()};
  if (!has_error(read.findings)) read.value = std::move(rows);
  return read;
}

}  // namespace runnel

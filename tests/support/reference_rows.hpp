#pragma once

#include <doctest/doctest.h>

#include <cstddef>
#include <string>
#include <string_view>

#include "runnel/units/csv.hpp"
#include "runnel/units/number.hpp"
#include "support/reference_text.hpp"

namespace runnel {

/// A table of tests/reference, row by row.
class ReferenceRows {
 public:
  explicit ReferenceRows(const std::string& name) : text_{reference_text(name)} {
    auto table = split_csv(text_, name);
    REQUIRE(table.value.has_value());
    table_ = std::move(*table.value);
  }
  ReferenceRows(const ReferenceRows&) = delete;  // the table looks into the text
  ReferenceRows& operator=(const ReferenceRows&) = delete;
  ReferenceRows(ReferenceRows&&) = delete;
  ReferenceRows& operator=(ReferenceRows&&) = delete;
  ~ReferenceRows() = default;

  [[nodiscard]] std::size_t size() const { return table_.rows(); }
  [[nodiscard]] std::string text(std::size_t row, std::string_view column) const {
    const int index = table_.column(column);
    REQUIRE_MESSAGE(index >= 0, std::string{column});
    return std::string{table_.row(row)[static_cast<std::size_t>(index)].text};
  }
  [[nodiscard]] double number(std::size_t row, std::string_view column) const {
    const auto value = parse_number(text(row, column));
    REQUIRE_MESSAGE(value.has_value(), text(row, "id") << " " << std::string{column});
    return *value;
  }

 private:
  std::string text_;
  CsvTable table_;
};

}  // namespace runnel

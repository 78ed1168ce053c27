#pragma once

#include <doctest/doctest.h>

#include <cstddef>
#include <string>
#include <string_view>

#include "runnel/units/column.hpp"
#include "runnel/units/csv.hpp"
#include "support/figure.hpp"
#include "support/reference_text.hpp"

namespace runnel {

/// A day-by-day table of tests/reference.
class ReferenceTable {
 public:
  explicit ReferenceTable(const std::string& name) : text_{reference_text(name)} {
    auto table = split_csv(text_, name);
    REQUIRE(table.value.has_value());
    table_ = std::move(*table.value);
  }
  [[nodiscard]] Eigen::Index rows() const { return static_cast<Eigen::Index>(table_.rows()); }
  [[nodiscard]] Figure printed(std::string_view column, Eigen::Index row) const {
    return figure(text(column, row));
  }
  [[nodiscard]] Column column(std::string_view name) const {
    Column values(rows());
    for (Eigen::Index row = 0; row < rows(); ++row) values[row] = printed(name, row).value;
    return values;
  }
  /// The figure of that symbol in a cell of the form "Kr=0.724; Ke=0.644".
  [[nodiscard]] Figure recomputed(std::string_view column, std::string_view symbol,
                                  Eigen::Index row) const {
    const std::string_view cell = text(column, row);
    const auto at = cell.find(std::string{symbol} + "=");
    REQUIRE_MESSAGE(at != std::string_view::npos, std::string{symbol});
    const std::string_view rest = cell.substr(at + symbol.size() + 1);
    return figure(rest.substr(0, rest.find(';')));
  }

 private:
  [[nodiscard]] std::string_view text(std::string_view column, Eigen::Index row) const {
    const int index = table_.column(column);
    REQUIRE_MESSAGE(index >= 0, std::string{column});
    return table_.row(static_cast<std::size_t>(row))[static_cast<std::size_t>(index)].text;
  }
  std::string text_;
  CsvTable table_;
};

}  // namespace runnel

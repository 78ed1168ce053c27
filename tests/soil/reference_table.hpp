#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>

#include "runnel/units/column.hpp"
#include "runnel/units/csv.hpp"
#include "runnel/units/number.hpp"

namespace runnel {

/// A figure as printed, and half a unit of its last printed digit.
struct Figure {
  double value;
  double half_digit;
};

inline Figure figure(std::string_view text) {
  const auto value = parse_number(text);
  REQUIRE_MESSAGE(value.has_value(), std::string{text});
  const auto point = text.find('.');
  const auto decimals = point == std::string_view::npos ? 0 : text.size() - point - 1;
  // The hair more lets a computed value stand exactly on the edge, which binary figures miss.
  return {.value = *value,
          .half_digit = 0.5 * std::pow(10.0, -static_cast<double>(decimals)) * (1.0 + 1e-9)};
}

/// A day-by-day table of tests/reference.
class ReferenceTable {
 public:
  explicit ReferenceTable(const std::string& name) : text_{read(name)} {
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
  static std::string read(const std::string& name) {
    std::ifstream file{std::string{RUNNEL_REFERENCE_DIR} + "/" + name, std::ios::binary};
    REQUIRE_MESSAGE(file.good(), name);
    return {std::istreambuf_iterator<char>{file}, std::istreambuf_iterator<char>{}};
  }
  [[nodiscard]] std::string_view text(std::string_view column, Eigen::Index row) const {
    const int index = table_.column(column);
    REQUIRE_MESSAGE(index >= 0, std::string{column});
    return table_.row(static_cast<std::size_t>(row))[static_cast<std::size_t>(index)].text;
  }
  std::string text_;
  CsvTable table_;
};

}  // namespace runnel

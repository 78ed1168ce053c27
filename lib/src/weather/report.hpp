#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "runnel/units/csv.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/number.hpp"

namespace runnel {

[[nodiscard]] inline Place place_of(std::string_view file, const CsvCell& cell) {
  return {.file = std::string(file), .line = cell.line, .column = cell.column, .key = ""};
}
[[nodiscard]] inline Place place_of_line(std::string_view file, int line) {
  return {.file = std::string(file), .line = line, .column = 0, .key = ""};
}

/// "1 row", "3 rows".
[[nodiscard]] inline std::string counted(std::size_t count, std::string_view singular) {
  return std::to_string(count) + " " + std::string(singular) + (count == 1 ? "" : "s");
}

/// At most so many decimals, without the zeros at the end.
[[nodiscard]] inline std::string brief(double value, int decimals = 2) {
  std::string text = fixed(value, decimals);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

/// A fault that may be repeated on thousands of rows: the first is told, the others are counted.
class Repeated {
 public:
  /// @param make the finding; called for the first only.
  template <class Make>
  void add(Make make) {
    if (first_) {
      ++more_;
    } else {
      first_ = make();
    }
  }
  [[nodiscard]] bool any() const { return first_.has_value(); }
  [[nodiscard]] std::size_t count() const { return first_ ? more_ + 1 : 0; }
  void move_to(std::vector<Finding>& findings) {
    if (!first_) return;
    if (more_ > 0) first_->says += ", and so in " + counted(more_, "row") + " more";
    findings.push_back(*std::move(first_));
    first_.reset();
  }

 private:
  std::optional<Finding> first_;
  std::size_t more_ = 0;
};

}  // namespace runnel

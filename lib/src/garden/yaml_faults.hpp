#pragma once

#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/mark.h>

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"
#include "runnel/units/plain_text.hpp"

namespace runnel {

/// Lines of a text as yaml-cpp counts them, to turn its byte columns into characters.
class YamlLines {
 public:
  /// @param text must outlive the object.
  explicit YamlLines(std::string_view text);
  /// @param index from 0. @return empty beyond the last.
  [[nodiscard]] std::string_view line(std::size_t index) const;
  [[nodiscard]] TextPosition position(const YAML::Mark& mark) const;
  /// Whether a quoted text begins there and runs to the end without its closing quote.
  [[nodiscard]] bool quote_stays_open(const YAML::Mark& mark) const;

 private:
  [[nodiscard]] std::size_t offset(const YAML::Mark& mark) const;
  std::string_view text_;
  std::vector<std::size_t> starts_{0};
  std::vector<int> continued_;  // UTF-8 continuation bytes before each byte
};

[[nodiscard]] Finding yaml_error(std::string_view name, TextPosition at, std::string says,
                                 std::string mend);

/// What yaml-cpp did not like, in words that help to mend it.
[[nodiscard]] Finding explained(const YAML::Exception& fault, const YamlLines& lines,
                                std::string_view name);

/// Why the text must not reach the parser: yaml-cpp takes some control characters for the end of
/// the text and guesses at UTF-16.
[[nodiscard]] std::optional<Finding> unreadable_yaml(std::string_view text, std::string_view name);

}  // namespace runnel

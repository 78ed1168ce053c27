#include "csv_cell.hpp"

#include <string_view>

namespace runnel::cli {

std::string csv_cell(std::string text) {
  constexpr std::string_view formula_starts = "=+-@\t\r";
  const bool formula =
      text.size() > 1 && formula_starts.find(text.front()) != std::string_view::npos;
  if (formula) text.insert(0, "'");
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += c;
    quoted += c;
  }
  return quoted + "\"";
}

}  // namespace runnel::cli

#include "csv_cell.hpp"

#include <string_view>

namespace runnel::cli {

std::string csv_cell(std::string_view text) {
  constexpr std::string_view formula_starts = "=+-@\t\r";
  const bool formula =
      text.size() > 1 && formula_starts.find(text.front()) != std::string_view::npos;
  std::string quoted = formula ? "\"'" : "\"";
  for (const char c : text) {
    if (c == '"') quoted += c;
    quoted += c;
  }
  return quoted + "\"";
}

}  // namespace runnel::cli

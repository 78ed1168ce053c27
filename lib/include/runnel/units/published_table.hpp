#pragma once

#include <string_view>

namespace runnel {

/// The CSV text of that table of data/, as compiled into the library. @param name of its file,
/// without ".csv".
/// @throws std::invalid_argument when there is no such table.
[[nodiscard]] std::string_view published_table(std::string_view name);

}  // namespace runnel

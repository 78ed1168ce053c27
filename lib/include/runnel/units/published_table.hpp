#pragma once

#include <string_view>

namespace runnel {

/// The CSV text of data/<name>.csv, as compiled into the library.
/// @throws std::invalid_argument when there is no such table.
[[nodiscard]] std::string_view published_table(std::string_view name);

}  // namespace runnel

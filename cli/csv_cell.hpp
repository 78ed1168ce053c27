#pragma once

#include <string>
#include <string_view>

namespace runnel::cli {

/// The text as a quoted CSV field (RFC 4180). What a spreadsheet could take for a formula gets an
/// apostrophe before it.
[[nodiscard]] std::string csv_cell(std::string_view text);

}  // namespace runnel::cli

#pragma once

#include <string>

namespace runnel::cli {

/// The text as a quoted CSV field (RFC 4180). What a spreadsheet could take for a formula gets an
/// apostrophe before it.
[[nodiscard]] std::string csv_cell(std::string text);

}  // namespace runnel::cli

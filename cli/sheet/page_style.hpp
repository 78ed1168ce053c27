#pragma once

#include <string_view>

namespace runnel::cli::sheet {

/// How the pages look: on a phone, on a wide screen, in the dark, and on paper. No '<' or '&'.
extern const std::string_view page_style;

}  // namespace runnel::cli::sheet

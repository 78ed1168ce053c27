#pragma once

#include <string>
#include <string_view>

namespace runnel::cli::sheet {

/// A whole file around `body`. @param zones so many, for how close they stand on paper.
[[nodiscard]] std::string page(std::string_view title, std::string_view body, std::size_t zones);

/// A part of the page under a heading of the second order; empty when the content is.
/// @param id its own on the page.
[[nodiscard]] std::string section(std::string_view id, std::string_view heading,
                                  const std::string& content);

}  // namespace runnel::cli::sheet

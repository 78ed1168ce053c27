#pragma once

#include <string>
#include <string_view>

namespace runnel::cli::sheet {

/// How much there is to show.
struct Amount {
  std::size_t zones;
  bool crowded;  ///< with more than the usual parts
};

/// A whole file around `body`.
[[nodiscard]] std::string page(std::string_view title, std::string_view body, const Amount& amount);

/// A part of the page under a heading of the second order; empty when the content is.
/// @param id its own on the page.
[[nodiscard]] std::string section(std::string_view id, std::string_view heading,
                                  const std::string& content);

}  // namespace runnel::cli::sheet

#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel {

/// What a gardener calls a place ("part shade"), and the factor on reference ET taken for it.
struct ExposureWords {
  std::string words;
  double factor, low, high;  ///< taken; published range
  std::string source;
};
using ExposureTable = std::vector<ExposureWords>;
/// Reads data/exposure_words.csv; errors as parse_soil_table.
[[nodiscard]] Read<ExposureTable> parse_exposure_table(std::string_view csv, std::string_view name);
/// The table compiled in.
[[nodiscard]] ExposureTable exposure_table();
[[nodiscard]] const ExposureWords* find_exposure(const ExposureTable& table,
                                                 std::string_view words);
[[nodiscard]] std::vector<std::string_view> names(const ExposureTable& table);

}  // namespace runnel

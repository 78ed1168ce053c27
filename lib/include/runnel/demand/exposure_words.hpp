#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "runnel/demand/exposure.hpp"
#include "runnel/units/finding.hpp"

namespace runnel {

/// What a gardener calls a place ("part shade"), and what that means to sun, sky and wind.
struct ExposureWords {
  std::string words;
  Exposure exposure;
  std::string meaning;       ///< the same in words, with its source
  double factor, low, high;  ///< published factor on reference ET and its range: for comparison,
                             ///< and where nothing can be computed
  std::string source;        ///< of the published factor
};
/// The rows of data/exposure_words.csv.
using ExposureTable = std::vector<ExposureWords>;
/// Reads data/exposure_words.csv; errors as parse_soil_table.
[[nodiscard]] Read<ExposureTable> parse_exposure_table(std::string_view csv, std::string_view name);
/// The table compiled in.
[[nodiscard]] ExposureTable exposure_table();
/// By its words, without regard to case; nullptr when there is none.
[[nodiscard]] const ExposureWords* find_exposure(const ExposureTable& table,
                                                 std::string_view words);
/// In the table's order.
[[nodiscard]] std::vector<std::string_view> names(const ExposureTable& table);

}  // namespace runnel

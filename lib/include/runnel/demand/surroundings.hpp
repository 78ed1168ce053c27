#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel {

/// What stands around a bed ("white wall"), and the share of light that it throws back.
struct Surroundings {
  std::string name;
  double albedo;  ///< 0-1
  std::string source;
};
/// The rows of data/surroundings.csv.
using SurroundingsTable = std::vector<Surroundings>;
/// Reads data/surroundings.csv; errors as parse_soil_table.
[[nodiscard]] Read<SurroundingsTable> parse_surroundings_table(std::string_view csv,
                                                               std::string_view name);
/// The table compiled in.
[[nodiscard]] SurroundingsTable surroundings_table();
/// By name, without regard to case; nullptr when there is none.
[[nodiscard]] const Surroundings* find_surroundings(const SurroundingsTable& table,
                                                    std::string_view name);
/// In the table's order.
[[nodiscard]] std::vector<std::string_view> names(const SurroundingsTable& table);

}  // namespace runnel

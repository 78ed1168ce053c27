#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel {

/// What a handful of soil feels like, and the share of the available water (field capacity to
/// wilting point) that is then still there, 0-1. USDA NRCS, Estimating Soil Moisture by Feel and
/// Appearance.
struct FeelClass {
  std::string name;  ///< "slightly moist"
  double available, available_low, available_high;
  std::string source;
};
/// The rows of data/feel_classes.csv.
using FeelTable = std::vector<FeelClass>;

/// Errors: whatever split_csv finds, a column missing, text where a number is due, no source, a
/// share outside the row's own range or outside 0 to 1, a class twice.
[[nodiscard]] Read<FeelTable> parse_feel_table(std::string_view csv, std::string_view name);
/// The table compiled in (data/feel_classes.csv).
[[nodiscard]] FeelTable feel_table();
/// By name, without regard to case; nullptr when there is none.
[[nodiscard]] const FeelClass* find_feel(const FeelTable& table, std::string_view name);
/// In the table's order.
[[nodiscard]] std::vector<std::string_view> names(const FeelTable& table);

}  // namespace runnel

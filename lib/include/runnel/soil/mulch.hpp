#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel {

/// What lies on the ground, and what it does when it covers all of it. FAO-56 chapter 10.
struct Mulch {
  std::string name;                      ///< "bark"
  double saves, saves_low, saves_high;   ///< share of soil evaporation saved
  double kcb_factor, kcb_low, kcb_high;  ///< of the basal coefficient, what it leaves
  std::string source;
};
/// The rows of data/mulches.csv.
using MulchTable = std::vector<Mulch>;

/// Errors: whatever split_csv finds, a column missing, text where a number is due, no source, a
/// share outside the row's own range or outside 0 to 1, a mulch twice.
[[nodiscard]] Read<MulchTable> parse_mulch_table(std::string_view csv, std::string_view name);
/// The table compiled in (data/mulches.csv).
[[nodiscard]] MulchTable mulch_table();
/// By name, without regard to case; nullptr when there is none.
[[nodiscard]] const Mulch* find_mulch(const MulchTable& table, std::string_view name);
/// In the table's order.
[[nodiscard]] std::vector<std::string_view> names(const MulchTable& table);

/// Share of the evaporation that is left when the mulch covers that share of the ground (0-1):
/// saving in proportion (chapter 10: 5 % for each 10 % of the ground under organic mulch).
[[nodiscard]] double evaporation_share(const Mulch& mulch, double ground_covered);
/// What is left of Kcb, likewise.
[[nodiscard]] double kcb_share(const Mulch& mulch, double ground_covered);

}  // namespace runnel

#include "runnel/soil/mulch.hpp"

#include <algorithm>

#include "runnel/demand/table_reader.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {
namespace {

Mulch read_row(TableReader& row) {
  Mulch mulch{.name = row.text("mulch"),
              .saves = row.number_within("saves", "saves_low", "saves_high"),
              .saves_low = row.number_if_any("saves_low").value_or(0.0),
              .saves_high = row.number_if_any("saves_high").value_or(0.0),
              .kcb_factor = row.number_within("kcb_factor", "kcb_low", "kcb_high"),
              .kcb_low = row.number_if_any("kcb_low").value_or(0.0),
              .kcb_high = row.number_if_any("kcb_high").value_or(0.0),
              .source = row.text("source")};
  if (!(mulch.saves_low >= 0.0)) row.fault("saves_low", "must be >= 0");
  if (!(mulch.saves_high <= 1.0)) row.fault("saves_high", "must be <= 1");
  if (!(mulch.kcb_low > 0.0)) row.fault("kcb_low", "must be > 0");
  if (!(mulch.kcb_high <= 1.0)) row.fault("kcb_high", "must be <= 1");
  return mulch;
}

}  // namespace

Read<MulchTable> parse_mulch_table(std::string_view csv, std::string_view name) {
  TableReader reader(
      csv, name,
      {"mulch", "saves", "saves_low", "saves_high", "kcb_factor", "kcb_low", "kcb_high", "source"});
  MulchTable table;
  while (reader.next()) {
    Mulch mulch = read_row(reader);
    if (find_mulch(table, mulch.name) != nullptr) reader.fault("mulch", "is there twice");
    table.push_back(std::move(mulch));
  }
  return finish(reader, std::move(table));
}

MulchTable mulch_table() {
  std::vector<Finding> findings;
  return value_or_throw(parse_mulch_table(published_table("mulches"), "mulches.csv"), findings);
}

const Mulch* find_mulch(const MulchTable& table, std::string_view name) {
  const std::string wanted = lower(name);
  const auto found = std::find_if(table.begin(), table.end(),
                                  [&](const Mulch& mulch) { return lower(mulch.name) == wanted; });
  return found == table.end() ? nullptr : &*found;
}

std::vector<std::string_view> names(const MulchTable& table) {
  std::vector<std::string_view> all;
  for (const Mulch& mulch : table) all.push_back(mulch.name);
  return all;
}

double evaporation_share(const Mulch& mulch, double ground_covered) {
  return 1.0 - mulch.saves * ground_covered;
}

double kcb_share(const Mulch& mulch, double ground_covered) {
  return 1.0 - (1.0 - mulch.kcb_factor) * ground_covered;
}

}  // namespace runnel

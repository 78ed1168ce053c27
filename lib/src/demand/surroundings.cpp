#include "runnel/demand/surroundings.hpp"

#include <algorithm>

#include "runnel/demand/table_reader.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {

Read<SurroundingsTable> parse_surroundings_table(std::string_view csv, std::string_view name) {
  TableReader row(csv, name, {"name", "albedo", "low", "high", "source"});
  SurroundingsTable table;
  while (row.next()) {
    Surroundings one{};
    one.name = row.text("name");
    one.albedo = row.number_within("albedo", "low", "high");
    one.source = row.text("source");
    if (!(one.albedo >= 0.0 && one.albedo <= 1.0))
      row.fault("albedo", "an albedo lies between 0 and 1");
    table.push_back(std::move(one));
  }
  return finish(row, std::move(table));
}

SurroundingsTable surroundings_table() {
  std::vector<Finding> findings;
  return value_or_throw(
      parse_surroundings_table(published_table("surroundings"), "surroundings.csv"), findings);
}

const Surroundings* find_surroundings(const SurroundingsTable& table, std::string_view name) {
  const std::string wanted = lower(name);
  const auto found = std::find_if(table.begin(), table.end(),
                                  [&](const Surroundings& row) { return row.name == wanted; });
  return found == table.end() ? nullptr : &*found;
}

std::vector<std::string_view> names(const SurroundingsTable& table) {
  std::vector<std::string_view> all;
  for (const Surroundings& row : table) all.push_back(row.name);
  return all;
}

}  // namespace runnel

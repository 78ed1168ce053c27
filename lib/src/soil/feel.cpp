#include "runnel/soil/feel.hpp"

#include <algorithm>

#include "runnel/demand/table_reader.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {
namespace {

FeelClass read_row(TableReader& row) {
  FeelClass feel{.name = row.text("feel"),
                 .available = row.number_within("available", "available_low", "available_high"),
                 .available_low = row.number("available_low"),
                 .available_high = row.number("available_high"),
                 .source = row.text("source")};
  if (!(feel.available_low >= 0.0)) row.fault("available_low", "must be >= 0");
  if (!(feel.available_high <= 1.0)) row.fault("available_high", "must be <= 1");
  return feel;
}

}  // namespace

Read<FeelTable> parse_feel_table(std::string_view csv, std::string_view name) {
  TableReader reader(csv, name, {"feel", "available", "available_low", "available_high", "source"});
  FeelTable table;
  while (reader.next()) {
    FeelClass feel = read_row(reader);
    if (find_feel(table, feel.name) != nullptr) reader.fault("feel", "is there twice");
    table.push_back(std::move(feel));
  }
  return finish(reader, std::move(table));
}

FeelTable feel_table() {
  std::vector<Finding> findings;
  return value_or_throw(parse_feel_table(published_table("feel_classes"), "feel_classes.csv"),
                        findings);
}

const FeelClass* find_feel(const FeelTable& table, std::string_view name) {
  const std::string wanted = lower(name);
  const auto found = std::find_if(table.begin(), table.end(), [&](const FeelClass& feel) {
    return lower(feel.name) == wanted;
  });
  return found == table.end() ? nullptr : &*found;
}

std::vector<std::string_view> names(const FeelTable& table) {
  std::vector<std::string_view> all;
  for (const FeelClass& feel : table) all.push_back(feel.name);
  return all;
}

}  // namespace runnel

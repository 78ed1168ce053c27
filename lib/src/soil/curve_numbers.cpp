#include "runnel/soil/curve_numbers.hpp"

#include <algorithm>
#include <stdexcept>

#include "runnel/demand/table_reader.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {

Read<CurveNumberTable> parse_curve_number_table(std::string_view csv, std::string_view name) {
  TableReader reader(csv, name, {"cover", "a", "b", "c", "d", "source"});
  CurveNumberTable table;
  while (reader.next()) {
    CurveNumberRow row;
    row.cover = reader.text("cover");
    constexpr std::array<std::string_view, 4> groups{"a", "b", "c", "d"};
    for (std::size_t i = 0; i < groups.size(); ++i) {
      row.by_group[i] = reader.number(groups[i]);
      if (row.by_group[i] < 30.0 || row.by_group[i] > 100.0)
        reader.fault(groups[i], "must be 30-100");
    }
    row.source = reader.text("source");
    table.push_back(std::move(row));
  }
  return finish(reader, std::move(table));
}

CurveNumberTable curve_number_table() {
  std::vector<Finding> findings;
  return value_or_throw(
      parse_curve_number_table(published_table("curve_numbers"), "curve_numbers.csv"), findings);
}

std::vector<std::string_view> names(const CurveNumberTable& table) {
  std::vector<std::string_view> all;
  for (const CurveNumberRow& row : table) all.push_back(row.cover);
  return all;
}

double curve_number(const CurveNumberTable& table, std::string_view cover, char group) {
  if (group < 'A' || group > 'D') throw std::invalid_argument("curve_number: group must be A-D");
  const std::string wanted = lower(cover);
  const auto found = std::find_if(table.begin(), table.end(), [&](const CurveNumberRow& row) {
    return lower(row.cover) == wanted;
  });
  if (found == table.end()) throw std::invalid_argument("curve_number: no cover " + quoted(cover));
  return found->by_group[static_cast<std::size_t>(group - 'A')];
}

}  // namespace runnel

#include "runnel/demand/exposure_words.hpp"

#include <algorithm>

#include "runnel/demand/table_reader.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {

Read<ExposureTable> parse_exposure_table(std::string_view csv, std::string_view name) {
  TableReader row(csv, name, {"words", "factor", "low", "high", "source"});
  ExposureTable table;
  while (row.next()) {
    ExposureWords words{};
    words.words = row.text("words");
    words.factor = row.number_within("factor", "low", "high");
    words.low = row.number("low");
    words.high = row.number("high");
    words.source = row.text("source");
    table.push_back(std::move(words));
  }
  return finish(row, std::move(table));
}

ExposureTable exposure_table() {
  std::vector<Finding> findings;
  return value_or_throw(
      parse_exposure_table(published_table("exposure_words"), "exposure_words.csv"), findings);
}

const ExposureWords* find_exposure(const ExposureTable& table, std::string_view words) {
  const std::string wanted = lower(words);
  const auto found = std::find_if(table.begin(), table.end(),
                                  [&](const ExposureWords& row) { return row.words == wanted; });
  return found == table.end() ? nullptr : &*found;
}

std::vector<std::string_view> names(const ExposureTable& table) {
  std::vector<std::string_view> all;
  for (const ExposureWords& row : table) all.push_back(row.words);
  return all;
}

}  // namespace runnel

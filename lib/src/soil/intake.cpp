#include "runnel/soil/intake.hpp"

#include <algorithm>
#include <stdexcept>

#include "runnel/demand/table_reader.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {
namespace {

/// The slope classes of the Irrigation Association table are 0-3, 4-6, 7-12 and 13 % and over; what
/// lies between two belongs to the steeper.
std::size_t slope_class(double slope_pct) {
  if (slope_pct <= 3.0) return 0;
  if (slope_pct <= 6.0) return 1;
  return slope_pct <= 12.0 ? 2 : 3;
}

const IntakeRow* find_row(const IntakeTable& table, std::string_view texture, Arrival arrival) {
  const std::string wanted = lower(texture);
  const auto found = std::find_if(table.begin(), table.end(), [&](const IntakeRow& row) {
    return row.arrival == arrival && lower(row.texture) == wanted;
  });
  return found == table.end() ? nullptr : &*found;
}

IntakeRow read_row(TableReader& reader) {
  IntakeRow row;
  row.texture = reader.text("texture");
  const std::string arrival = reader.text("arrival");
  row.arrival = arrival == "drip" ? Arrival::drip : Arrival::overhead;
  if (arrival != "drip" && arrival != "overhead")
    reader.fault("arrival", "must be drip or overhead");
  row.basic_rate_mm_h = reader.measure("basic_rate", Dimension::rate);
  if (!(row.basic_rate_mm_h > 0.0)) reader.fault("basic_rate", "must be above 0");
  row.storage_mm = {reader.measure("storage_0_3", Dimension::depth),
                    reader.measure("storage_4_6", Dimension::depth),
                    reader.measure("storage_7_12", Dimension::depth),
                    reader.measure("storage_13", Dimension::depth)};
  if (*std::min_element(row.storage_mm.begin(), row.storage_mm.end()) < 0.0) {
    reader.fault("storage_13", "must not be negative");
  }
  row.source = reader.text("source");
  return row;
}

}  // namespace

Read<IntakeTable> parse_intake_table(std::string_view csv, std::string_view name) {
  TableReader reader(csv, name,
                     {"texture", "arrival", "basic_rate", "storage_0_3", "storage_4_6",
                      "storage_7_12", "storage_13", "source"});
  IntakeTable table;
  while (reader.next()) {
    IntakeRow row = read_row(reader);
    if (find_row(table, row.texture, row.arrival) != nullptr)
      reader.fault("texture", "is there twice");
    table.push_back(std::move(row));
  }
  return finish(reader, std::move(table));
}

IntakeTable intake_table() {
  std::vector<Finding> findings;
  return value_or_throw(parse_intake_table(published_table("intake"), "intake.csv"), findings);
}

SoilIntake soil_intake(const IntakeTable& table, std::string_view texture, double slope_pct,
                       Arrival arrival) {
  if (!(slope_pct >= 0.0)) throw std::invalid_argument("soil_intake: slope must be 0 or more");
  const IntakeRow* row = find_row(table, texture, arrival);
  if (row == nullptr) throw std::invalid_argument("soil_intake: no texture " + quoted(texture));
  return {.basic_rate_mm_h = row->basic_rate_mm_h,
          .surface_storage_mm = row->storage_mm[slope_class(slope_pct)],
          .source = row->source};
}

}  // namespace runnel

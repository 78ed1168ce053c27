#include "uncertain_inputs.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "runnel/demand/table_reader.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

namespace runnel {
namespace {

DoubtRow read_row(TableReader& row) {
  DoubtRow read{.doubt = row.text("doubt"),
                .input = row.text("input"),
                .low = row.number_if_any("low"),
                .high = row.number_if_any("high"),
                .how = row.text("how"),
                .write = row.text("write"),
                .source = row.text("source")};
  if (read.low.has_value() != read.high.has_value())
    row.fault("low", "a range has two ends or none");
  else if (read.low && !(*read.low < *read.high))
    row.fault("low", "must be below high");
  return read;
}

}  // namespace

Read<DoubtTable> parse_doubt_table(std::string_view csv, std::string_view name) {
  TableReader reader(csv, name, {"doubt", "input", "low", "high", "of", "how", "write", "source"});
  DoubtTable table;
  while (reader.next()) {
    DoubtRow row = read_row(reader);
    if (std::any_of(table.begin(), table.end(),
                    [&row](const DoubtRow& other) { return other.doubt == row.doubt; }))
      reader.fault("doubt", "is there twice");
    table.push_back(std::move(row));
  }
  return finish(reader, std::move(table));
}

const DoubtTable& doubt_table() {
  static const DoubtTable table = [] {
    std::vector<Finding> findings;
    return value_or_throw(parse_doubt_table(published_table("doubts"), "doubts.csv"), findings);
  }();
  return table;
}

const DoubtRow& doubt_row(std::string_view doubt) {
  const DoubtTable& table = doubt_table();
  const auto found = std::find_if(table.begin(), table.end(),
                                  [doubt](const DoubtRow& row) { return row.doubt == doubt; });
  if (found == table.end()) throw std::invalid_argument("doubt_row: no row of that name");
  return *found;
}

bool UncertainZone::states(const std::string& key) const {
  return is_written(garden_, "zones." + std::to_string(index_ + 1) + "." + key);
}

UncertainZone::Text UncertainZone::shown_as(Shown kind, int decimals) const {
  return [display = garden_.display, kind, decimals](double value) {
    return measure(display, kind, value, decimals);
  };
}

void UncertainZone::add(std::string_view doubt, double taken, double low, double high,
                        const Text& text, const Put& put) const {
  low = std::min(low, taken);
  high = std::max(high, taken);
  if (!(low < high)) return;
  const auto put_in = [put, index = index_](double value) {
    return [=](Garden& garden) { put(garden.zones[index], value); };
  };
  add({.row = &doubt_row(doubt),
       .zone = index_,
       .taken = text(taken),
       .low = text(low),
       .high = text(high),
       .put_low = put_in(low),
       .put_high = put_in(high)});
}

void UncertainZone::add(std::string_view doubt, double taken, const Text& text,
                        const Put& put) const {
  const DoubtRow& row = doubt_row(doubt);
  if (!row.low || !row.high) throw std::invalid_argument("UncertainZone: the row has no range");
  add(doubt, taken, *row.low, *row.high, text, put);
}

void UncertainZone::add(UncertainInput input) const { inputs_.push_back(std::move(input)); }

std::string in_percent(double share) { return fixed(100.0 * share, 0) + " %"; }
std::string as_factor(double factor) { return fixed(factor, 2); }

}  // namespace runnel

#include "runnel/demand/table_reader.hpp"

#include <stdexcept>

#include "runnel/units/number.hpp"

namespace runnel {

TableReader::TableReader(std::string_view csv, std::string_view name,
                         std::initializer_list<std::string_view> columns)
    : table_(split_csv(csv, name)), name_(name), findings_(std::move(table_.findings)) {
  if (!table_.value) return;
  for (const std::string_view column : columns) {
    if (table_.value->column(column) >= 0) continue;
    findings_.push_back({.kind = Finding::Kind::error,
                         .at = {.file = name_, .line = 1, .column = 0, .key = std::string{column}},
                         .says = "no column " + quoted(column),
                         .mend = "add it to the header"});
    table_.value.reset();
    return;
  }
}

bool TableReader::next() {
  if (!table_.value || next_ == table_.value->rows()) return false;
  ++next_;
  return true;
}

const CsvCell& TableReader::cell(std::string_view column) const {
  const int index = table_.value->column(column);
  if (index < 0) throw std::invalid_argument("TableReader: a column not asked for");
  return table_.value->row(next_ - 1)[static_cast<std::size_t>(index)];
}

void TableReader::fault(std::string_view column, std::string says) {
  const CsvCell& at = cell(column);
  findings_.push_back(
      {.kind = Finding::Kind::error,
       .at = {.file = name_, .line = at.line, .column = at.column, .key = std::string{column}},
       .says = std::move(says),
       .mend = ""});
}

std::string TableReader::text_if_any(std::string_view column) const {
  return std::string{cell(column).text};
}

std::string TableReader::text(std::string_view column) {
  std::string text = text_if_any(column);
  if (text.empty()) fault(column, "must not be empty");
  return text;
}

std::optional<double> TableReader::number_if_any(std::string_view column) {
  const std::string_view text = cell(column).text;
  if (text.empty()) return std::nullopt;
  const std::optional<double> number = parse_number(text, table_.value->decimal_comma());
  if (!number) fault(column, quoted(text) + " is not a number");
  return number;
}

double TableReader::number(std::string_view column) {
  if (cell(column).text.empty()) fault(column, "needs a number");
  return number_if_any(column).value_or(0.0);
}

double TableReader::measure(std::string_view column, Dimension dimension) {
  const MeasureOrFault measure = parse_measure(cell(column).text, dimension);
  if (!measure.fault.empty()) fault(column, measure.fault);
  return measure.value;
}

double TableReader::number_within(std::string_view column, std::string_view low,
                                  std::string_view high) {
  const double value = number(column);
  const double least = number(low);
  const double most = number(high);
  if (value < least || value > most) {
    fault(column, shortest(value) + " lies outside the row's own range " + shortest(least) +
                      " to " + shortest(most));
  }
  return value;
}

}  // namespace runnel

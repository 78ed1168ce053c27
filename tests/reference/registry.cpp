#include "registry.hpp"

#include <algorithm>
#include <span>
#include <stdexcept>

#include "runnel/units/csv.hpp"
#include "runnel/units/number.hpp"

namespace runnel::reference {
namespace {

std::map<std::string, std::string> parse_inputs(std::string_view text) {
  std::map<std::string, std::string> inputs;
  while (!text.empty()) {
    const auto end = std::min(text.find(';'), text.size());
    const std::string_view part = trimmed(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
    const auto equals = std::min(part.find('='), part.size());
    const std::string_view value =
        equals < part.size() ? part.substr(equals + 1) : std::string_view{};
    inputs.emplace(trimmed(part.substr(0, equals)), trimmed(value));
  }
  return inputs;
}

double leading_number(std::string_view text) {
  for (auto length = text.size(); length > 0; --length) {
    if (const auto value = parse_number(text.substr(0, length))) return *value;
  }
  throw std::invalid_argument("no number in \"" + std::string{text} + "\"");
}

/// How much an entry says about the row, or -1 when it does not serve it.
int fit(const RowKind& kind, const PublishedRow& row) {
  if (kind.symbol != row.symbol) return -1;
  if (!kind.example.empty() && kind.example != row.example) return -1;
  if (!kind.quantity_has.empty() && row.quantity.find(kind.quantity_has) == std::string::npos)
    return -1;
  return (kind.example.empty() ? 0 : 1) + 2 * static_cast<int>(kind.quantity_has.size());
}

}  // namespace

double PublishedRow::number(std::string_view key) const {
  const auto found = inputs.find(std::string{key});
  if (found == inputs.end()) {
    throw std::invalid_argument(where + ": no input \"" + std::string{key} + "\"");
  }
  return leading_number(found->second);
}

const Adaptor* Registry::find(const PublishedRow& row) const {
  const Adaptor* best = nullptr;
  int best_fit = -1;
  for (const auto& entry : entries_) {
    const int how_well = fit(entry.kind, row);
    if (how_well < 0 || how_well < best_fit) continue;
    best = &entry.adaptor;
    best_fit = how_well;
  }
  return best;
}

std::vector<PublishedRow> published_rows(std::string_view csv, std::string_view name) {
  std::vector<Finding> findings;
  const CsvTable table = value_or_throw(split_csv(csv, name), findings);
  std::vector<PublishedRow> rows;
  for (std::size_t i = 0; i < table.rows(); ++i) {
    const std::span<const CsvCell> cells = table.row(i);
    const auto text = [&](std::string_view column) {
      const int index = table.column(column);
      if (index < 0)
        throw std::invalid_argument(std::string{name} + ": no column " + std::string{column});
      return std::string{cells[static_cast<std::size_t>(index)].text};
    };
    const std::string inputs = text("inputs");
    rows.push_back({.example = text("example"),
                    .quantity = text("quantity"),
                    .symbol = text("symbol"),
                    .inputs_text = inputs,
                    .inputs = parse_inputs(inputs),
                    .expected = leading_number(text("expected")),
                    .test_tolerance = leading_number(text("test_tolerance")),
                    .status = text("status"),
                    .note = text("note"),
                    .where = std::string{name} + ":" + std::to_string(cells.front().line)});
  }
  return rows;
}

}  // namespace runnel::reference

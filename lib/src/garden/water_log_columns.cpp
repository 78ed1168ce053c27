#include "water_log_columns.hpp"

#include <cstddef>
#include <string>
#include <vector>

#include "runnel/units/nearest.hpp"
#include "runnel/units/number.hpp"

namespace runnel {

LogCells LogColumns::cells(std::span<const CsvCell> row) const {
  const auto cell = [&](std::size_t column) -> LogCell {
    if (index.at(column) < 0) return {};
    const CsvCell& written = row[static_cast<std::size_t>(index.at(column))];
    return {.text = written.text, .line = written.line, .column = written.column};
  };
  return {.date = cell(0), .zone = cell(1), .what = cell(2), .amount = cell(3), .note = cell(4)};
}

std::optional<LogColumns> log_columns(const CsvTable& table, FindingList& list) {
  const auto header = table.header();
  const auto place = [&](const CsvCell& cell) {
    return Place{.file = list.file(), .line = cell.line, .column = cell.column, .key = {}};
  };
  LogColumns columns{.index = {-1, -1, -1, -1, -1}};
  std::vector<std::string_view> others;
  for (std::size_t i = 0; i < header.size(); ++i) {
    bool known = false;
    for (std::size_t column = 0; column < log_headers.size(); ++column) {
      if (lower(header[i].text) != log_headers.at(column)) continue;
      known = true;
      if (columns.index.at(column) >= 0)
        list.add(Finding::Kind::error, place(header[i]),
                 "the column " + quoted(header[i].text) + " stands there twice",
                 "rename one of the two");
      columns.index.at(column) = static_cast<int>(i);
    }
    if (!known && !header[i].text.empty()) others.push_back(header[i].text);
  }
  bool whole = true;
  for (std::size_t column = 0; column + 1 < log_headers.size(); ++column) {
    if (columns.index.at(column) >= 0) continue;
    const auto near = nearest(log_headers.at(column), others);
    list.add(Finding::Kind::error, place(header.front()),
             "there is no column " + quoted(log_headers.at(column)),
             near ? "did you mean it by " + quoted(*near) + "?"
                  : "a log has the columns date, zone, what, amount and note");
    whole = false;
  }
  std::string unused;
  for (const std::string_view name : others) unused += (unused.empty() ? "" : ", ") + quoted(name);
  if (!unused.empty())
    list.add(Finding::Kind::remark, place(header.front()), "columns not used: " + unused);
  return whole ? std::optional(columns) : std::nullopt;
}

bool is_empty_log(std::string_view csv) {
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  if (csv.starts_with(byte_order_mark)) csv.remove_prefix(byte_order_mark.size());
  return csv.find_first_not_of(" \t\r\n") == std::string_view::npos;
}

}  // namespace runnel

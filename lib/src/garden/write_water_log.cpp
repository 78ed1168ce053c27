#include <algorithm>
#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>
#include <vector>

#include "runnel/garden/files.hpp"
#include "runnel/garden/water_log.hpp"
#include "runnel/units/csv.hpp"
#include "water_log_columns.hpp"

namespace runnel {
namespace {

constexpr std::string_view new_header = "date,zone,what,amount,note\n";

/// Quotes only where they are needed: people read and edit the file.
std::string field(std::string_view text, char separator) {
  const std::string quoted_cell = csv_cell(text);
  const bool guarded_or_doubled = quoted_cell.size() != text.size() + 2;
  const bool plain = !guarded_or_doubled && !text.starts_with('#') &&
                     text.find(separator) == std::string_view::npos &&
                     text.find_first_of("\r\n\t;,") == std::string_view::npos;
  return plain ? std::string(text) : quoted_cell;
}

std::string with_decimal_comma(std::string text) {
  std::replace(text.begin(), text.end(), '.', ',');
  return text;
}

std::string row_text(const LogRow& row, const CsvTable& table, const LogColumns& columns) {
  const std::string amount = table.decimal_comma() ? with_decimal_comma(row.amount) : row.amount;
  const std::vector<std::string_view> texts{row.date, row.zone, row.what, amount, row.note};
  std::vector<std::string_view> in_order(table.header().size());
  for (std::size_t i = 0; i < texts.size(); ++i)
    if (const int column = columns.index.at(i); column >= 0)
      in_order.at(static_cast<std::size_t>(column)) = texts[i];
  std::string text;
  for (std::size_t i = 0; i < in_order.size(); ++i) {
    if (i > 0) text += table.separator();
    text += field(in_order[i], table.separator());
  }
  return text;
}

Read<std::string> refused(std::vector<Finding> findings) {
  return {.value = std::nullopt, .findings = std::move(findings)};
}

/// A last row that says what stands there already; others of which there is a doubt are wanted.
std::optional<Finding> said_already(const Read<WaterLog>& log) {
  const auto& entries = log.value->entries;
  const auto last =
      std::max_element(entries.begin(), entries.end(),
                       [](const LogEntry& a, const LogEntry& b) { return a.at.line < b.at.line; });
  if (last->what != LogWhat::did_not_run) return std::nullopt;
  const auto doubt =
      std::find_if(log.findings.begin(), log.findings.end(), [&last](const Finding& finding) {
        return finding.kind == Finding::Kind::doubt && finding.at.line == last->at.line;
      });
  return doubt == log.findings.end() ? std::nullopt : std::optional(*doubt);
}

}  // namespace

Read<std::string> with_log_row(std::string_view csv, std::string_view name, const LogRow& row,
                               const Garden& garden) {
  Read<WaterLog> before = read_water_log(csv, name, garden);
  if (!before.value) return refused(std::move(before.findings));
  std::string text(is_empty_log(csv) ? new_header : csv);
  const bool ends_line = text.ends_with('\n') || text.ends_with('\r');
  const std::string line_end = text.find("\r\n") == std::string::npos ? "\n" : "\r\n";

  const Read<CsvTable> table = split_csv(text, name);
  FindingList list(name);
  const auto columns = log_columns(table.value.value(), list);
  const Place header{.file = std::string(name),
                     .line = table.value->header().front().line,
                     .column = 1,
                     .key = {}};
  if (!row.note.empty() && columns.value().index.back() < 0) {
    return refused({{.kind = Finding::Kind::error,
                     .at = header,
                     .says = "there is no column \"note\"",
                     .mend = "add one, or leave the note out"}});
  }
  std::string line = row_text(row, *table.value, columns.value());
  if (!ends_line) text += line_end;
  text += line + line_end;

  Read<WaterLog> after = read_water_log(text, name, garden);
  if (!after.value) {
    for (Finding& finding : after.findings) finding.says = "not written: " + finding.says;
    return refused(std::move(after.findings));
  }
  if (after.value->entries.size() != before.value->entries.size() + 1) {
    return refused({{.kind = Finding::Kind::error,
                     .at = header,
                     .says = "not written: the entry would not be read back",
                     .mend = "keep to plain text in it"}});
  }
  if (auto known = said_already(after)) {
    known->kind = Finding::Kind::error;
    known->says = "not written: " + known->says;
    return refused({*std::move(known)});
  }
  return {.value = std::move(text), .findings = std::move(after.findings)};
}

std::string water_log_path(const Garden& garden) {
  if (garden.log) return path_beside(garden.file, *garden.log);
  throw InputError(Finding{.kind = Finding::Kind::error,
                           .at = in_file(garden.file),
                           .says = "this garden has no water log",
                           .mend = "add a line to the garden file: \"log: water-log.csv\""});
}

WaterLog water_log_of(const Garden& garden, std::vector<Finding>& findings) {
  if (!garden.log) return {};
  const std::string path = water_log_path(garden);
  std::error_code fault;
  if (std::filesystem::status(path, fault).type() == std::filesystem::file_type::not_found) {
    findings.push_back({.kind = Finding::Kind::remark,
                        .at = garden.log_at,
                        .says = path + ": there is no such file yet: nothing has been logged",
                        .mend = {}});
    return {};
  }
  return value_or_throw(read_water_log(read_file(path, garden.log_at), path, garden), findings);
}

std::string add_to_water_log(const LogRow& row, const Garden& garden) {
  std::string path = water_log_path(garden);
  change_file(path, [&](const std::optional<std::string>& before) {
    std::vector<Finding> findings;
    return value_or_throw(with_log_row(before.value_or(""), path, row, garden), findings);
  });
  return path;
}

}  // namespace runnel

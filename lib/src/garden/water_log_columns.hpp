#pragma once

#include <array>
#include <optional>
#include <span>
#include <string_view>

#include "runnel/units/csv.hpp"
#include "yaml_reader.hpp"

namespace runnel {

/// A field of a log, and where it stands: line 0 when it was typed elsewhere, as the column `key`.
struct LogCell {
  std::string_view text;
  int line = 0;
  int column = 0;
  std::string_view key = {};
};
struct LogCells {
  LogCell date, zone, what, amount, note;
};

constexpr std::array<std::string_view, 5> log_headers = {"date", "zone", "what", "amount", "note"};

/// Which column is which; -1: not there.
struct LogColumns {
  std::array<int, log_headers.size()> index;
  [[nodiscard]] LogCells cells(std::span<const CsvCell> row) const;
};

/// Nothing when one that is needed is missing, which is then an error.
[[nodiscard]] std::optional<LogColumns> log_columns(const CsvTable& table, FindingList& list);

/// A log that nobody has written in: blank but for a byte order mark.
[[nodiscard]] bool is_empty_log(std::string_view csv);

}  // namespace runnel

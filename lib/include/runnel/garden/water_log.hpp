#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/quantity.hpp"

namespace runnel {

/// What an entry of the water log says. The log holds what was otherwise than planned, and what
/// was read off.
enum class LogWhat {
  did_not_run,  ///< what the timer was to do that day fell out
  ran,          ///< in place of what the timer was to do that day
  by_hand,      ///< besides the timer, in place of a run by hand that the plan asked for that day
  rain,         ///< a rain gauge, in place of the weather file's rain
  depletion,    ///< measured, in the evening
  feel,         ///< a finger test, in the evening
  meter,        ///< a water meter, which counts on, in the evening
};
/// As written in the log: "did not run", "by hand", ...
[[nodiscard]] std::string_view to_text(LogWhat what);

/// Share of the available water that is still there, 0-1.
struct FeltMoisture {
  double available;
};

/// monostate: did not run. ran, by hand: any of Duration (of the valve), Volume (on the whole
/// zone), Depth (mean over it). rain, depletion: Depth. meter: Volume.
using LogAmount = std::variant<std::monostate, Duration, Volume, Depth, FeltMoisture>;

/// One row of the log, its names and amounts resolved.
struct LogEntry {
  Date date;
  LogWhat what;
  std::vector<std::size_t> zones;  ///< places in the garden, rising; empty: rain or meter of it all
  LogAmount amount;
  std::string note;
  Place at;  ///< of its first field
};

/// Entries in order of date, those of a day as they stand in the file.
struct WaterLog {
  std::vector<LogEntry> entries;
};

/// Reads a log: a CSV with the columns `date`, `zone`, `what`, `amount` and, if wanted, `note`, in
/// any order. `zone` is a zone's name or "valve 2" for all zones on it; empty is every zone for
/// "did not run", the garden for rain, and must be for a meter. Amounts have their unit; `feel` has
/// dry, slightly moist, moist or wet (soil/feel.hpp). A text that is empty or blank is a log
/// without entries. Errors, each with line and column: what split_csv refuses, a column missing, a
/// date that is none, a zone or `what` unknown (naming the nearest), an amount missing, out of
/// range, of the wrong kind or without a unit, one where there is none to give, "did not run" and
/// "ran" on one day, a gauge, a reading or a meter twice on one day. Doubts: a meter that counts
/// back, "did not run" once more for zones of which it stands there. @param name of the file, for
/// the findings.
[[nodiscard]] Read<WaterLog> read_water_log(std::string_view csv, std::string_view name,
                                            const Garden& garden);

/// An entry in the words of the log.
struct LogRow {
  std::string date;  ///< 2027-07-15
  std::string zone, what, amount, note;
};

/// One row alone. Findings have the column's name as key and no line.
[[nodiscard]] Read<LogEntry> read_log_row(const LogRow& row, const Garden& garden);

/// The log's text with one entry more, in the separator, order of columns and line ends that it
/// has; with a header where it is empty. A field that a spreadsheet could take for a formula is
/// guarded (units/csv.hpp). Errors: what the log has already, or would have with this entry, and
/// "did not run" once more.
[[nodiscard]] Read<std::string> with_log_row(std::string_view csv, std::string_view name,
                                             const LogRow& row, const Garden& garden);

/// Path of the garden's log. @throws InputError when the garden file names none.
[[nodiscard]] std::string water_log_path(const Garden& garden);

/// The garden's log; without entries when the garden file names none or the file is not there yet
/// (a remark). @throws InputError when it cannot be used.
[[nodiscard]] WaterLog water_log_of(const Garden& garden, std::vector<Finding>& findings);

/// Adds one entry to the garden's log file, which it makes where there is none. Whole or not at
/// all, and no entry that another program adds at the same time is lost (change_file).
/// @return the path. @throws InputError when the garden file names no log, or the log cannot be
/// read, has errors or cannot be written.
std::string add_to_water_log(const LogRow& row, const Garden& garden);

}  // namespace runnel

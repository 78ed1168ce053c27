#include <array>
#include <ostream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "commands.hpp"
#include "print.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/garden/water_log.hpp"

namespace runnel::cli {
namespace {

/// A mistake on the command line.
struct Usage {
  std::string says;
};

struct Kind {
  LogWhat what;
  std::string_view option;
  const std::string LogOptions::*amount;
};
constexpr std::array<Kind, 6> with_amount = {
    {{LogWhat::ran, "--ran", &LogOptions::ran},
     {LogWhat::by_hand, "--by-hand", &LogOptions::by_hand},
     {LogWhat::rain, "--rain", &LogOptions::rain},
     {LogWhat::depletion, "--depletion", &LogOptions::depletion},
     {LogWhat::feel, "--feel", &LogOptions::feel},
     {LogWhat::meter, "--meter", &LogOptions::meter}}};

/// An entry as typed, and the option that says what it is.
struct Typed {
  LogRow row;
  std::string option;
};

Typed typed(const LogOptions& options) {
  std::vector<Typed> given;
  const auto take = [&](LogWhat what, std::string_view option, const std::string& amount) {
    given.push_back({.row = {.date = options.date,
                             .zone = options.zone,
                             .what = std::string(to_text(what)),
                             .amount = amount,
                             .note = options.note},
                     .option = std::string(option)});
  };
  if (options.did_not_run) take(LogWhat::did_not_run, "--did-not-run", "");
  for (const Kind& kind : with_amount)
    if (const std::string& amount = options.*kind.amount; !amount.empty())
      take(kind.what, kind.option, amount);
  if (given.empty())
    throw Usage{
        "what happened is not said (write --did-not-run, --ran, --by-hand, --rain, --depletion, "
        "--feel or --meter)"};
  if (given.size() > 1)
    throw Usage{given[0].option + " and " + given[1].option +
                " are two entries (write a command for each)"};
  if (options.date.empty())
    throw Usage{
        "--date is missing: the program reads no clock (write the day, such as --date 2027-06-15)"};
  return given.front();
}

/// What is wrong with the words typed, before the log is touched.
void require_readable(const Typed& entry, const Garden& garden) {
  const Read<LogEntry> read = read_log_row(entry.row, garden);
  if (read.value) return;
  const Finding& first = read.findings.front();
  const std::string option = first.at.key == "amount" ? entry.option : "--" + first.at.key;
  throw Usage{option + ": " + first.says + (first.mend.empty() ? "" : " (" + first.mend + ")")};
}

}  // namespace

int log(const LogOptions& options, const Streams& streams) {
  try {
    const Typed entry = typed(options);
    std::vector<Finding> findings;
    const Garden garden =
        value_or_throw(read_garden(read_file(options.garden), options.garden), findings);
    require_readable(entry, garden);
    const std::string path = add_to_water_log(entry.row, garden);
    streams.out << path << ": " << entry.row.date;
    for (const std::string* part : {&entry.row.zone, &entry.row.what, &entry.row.amount})
      if (!part->empty()) streams.out << ", " << *part;
    streams.out << '\n';
    return done;
  } catch (const Usage& usage) {
    streams.err << "runnel log: " << usage.says << '\n';
    return wrong_usage;
  }
}

}  // namespace runnel::cli

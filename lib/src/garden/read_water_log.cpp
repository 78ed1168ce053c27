#include <algorithm>
#include <array>
#include <cstddef>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "runnel/garden/water_log.hpp"
#include "runnel/soil/feel.hpp"
#include "runnel/units/csv.hpp"
#include "runnel/units/nearest.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/plain_text.hpp"
#include "runnel/units/unit_table.hpp"
#include "water_log_columns.hpp"
#include "yaml_reader.hpp"

namespace runnel {
namespace {

constexpr std::array<std::string_view, 7> whats = {"did not run", "ran",  "by hand", "rain",
                                                   "depletion",   "feel", "meter"};

// Limits against slips of the pen (a unit mistaken, a digit too many); no source.
constexpr Range any_run_min{.least = 0.1, .most = 1440.0};
constexpr Range any_watering_l{.least = 0.01, .most = 1e6};
constexpr Range any_watering_mm{.least = 0.01, .most = 500.0};
constexpr Range any_rain_mm{.least = 0.0, .most = 2000.0};
constexpr Range any_depletion_mm{.least = 0.0, .most = 1000.0};
constexpr Range any_meter_l{.least = 0.0, .most = 1e12};

/// "a, b or c".
std::string listed(std::span<const std::string_view> words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
    text += words[i];
  }
  return text;
}

bool is_control_character(char c) { return static_cast<unsigned char>(c) < 0x20U || c == '\x7F'; }

std::string did_you_mean(std::string_view written, std::span<const std::string_view> known) {
  const auto near = nearest(written, known);
  return near ? "did you mean " + quoted(*near) + "?" : "write " + listed(known);
}

/// "By_hand" as "by hand".
std::string plain(std::string_view text) {
  std::string words = lower(text);
  std::replace_if(
      words.begin(), words.end(), [](char c) { return c == '_' || c == '-'; }, ' ');
  return words;
}

/// Reads the fields of one row; says what is wrong with each.
class RowReader {
 public:
  RowReader(const Garden& garden, const FeelTable& feels, FindingList& list, bool decimal_comma)
      : garden_(garden), feels_(feels), list_(list), decimal_comma_(decimal_comma) {}

  /// Nothing when there was an error.
  std::optional<LogEntry> read(const LogCells& cells) {
    errors_ = 0;
    LogEntry entry{
        .date = {}, .what = {}, .zones = {}, .amount = {}, .note = {}, .at = place(cells.date)};
    read_date(cells.date, entry);
    const auto what = read_what(cells.what);
    // What the zone and the amount should be depends on it.
    if (!what) return std::nullopt;
    entry.what = *what;
    read_zones(cells.zone, entry);
    read_amount(cells.amount, entry);
    entry.note = without_formula_guard(cells.note.text);
    return errors_ == 0 ? std::optional(std::move(entry)) : std::nullopt;
  }

 private:
  [[nodiscard]] Place place(const LogCell& cell) const {
    return {.file = list_.file(),
            .line = cell.line,
            .column = cell.column,
            .key = std::string(cell.line > 0 ? "" : cell.key)};
  }
  void error(const LogCell& at, std::string says, std::string mend) {
    list_.add(Finding::Kind::error, place(at), std::move(says), std::move(mend));
    ++errors_;
  }

  void read_date(const LogCell& cell, LogEntry& entry) {
    if (const auto date = parse_date(cell.text)) {
      entry.date = *date;
    } else {
      error(cell, cell.text.empty() ? "the date is missing" : quoted(cell.text) + " is not a date",
            "write it as 2027-06-15; a spreadsheet keeps it so when the column is formatted as "
            "text");
    }
  }

  std::optional<LogWhat> read_what(const LogCell& cell) {
    const auto found = std::find(whats.begin(), whats.end(), plain(cell.text));
    if (found != whats.end()) return static_cast<LogWhat>(found - whats.begin());
    error(cell,
          cell.text.empty() ? "what happened is missing" : quoted(cell.text) + " is nothing to log",
          did_you_mean(plain(cell.text), whats));
    return std::nullopt;
  }

  void read_zones(const LogCell& cell, LogEntry& entry) {
    const std::string_view name = without_formula_guard(cell.text);
    if (!name.empty()) {
      entry.zones = zones_named(name);
      if (entry.zones.empty()) return unknown_zone(cell, name);
      if (entry.what == LogWhat::meter)
        error(cell, "a meter reading has no zone", "leave the zone empty");
    } else if (entry.what == LogWhat::did_not_run) {
      for (std::size_t i = 0; i < garden_.zones.size(); ++i) entry.zones.push_back(i);
    } else if (entry.what != LogWhat::rain && entry.what != LogWhat::meter) {
      error(cell, "the zone is missing",
            "name the zone, or the valve, such as \"valve " +
                std::to_string(garden_.zones.empty() ? 1 : garden_.zones[0].valve) + "\"");
    }
  }

  [[nodiscard]] std::vector<std::size_t> zones_named(std::string_view name) const {
    std::vector<std::size_t> of_name;
    std::vector<std::size_t> of_valve;
    const std::string wanted = lower(name);
    for (std::size_t i = 0; i < garden_.zones.size(); ++i) {
      if (lower(garden_.zones[i].name) == wanted) of_name.push_back(i);
      if (wanted == "valve " + std::to_string(garden_.zones[i].valve)) of_valve.push_back(i);
    }
    return of_name.empty() ? of_valve : of_name;
  }

  void unknown_zone(const LogCell& cell, std::string_view name) {
    std::vector<std::string> known;
    for (const Zone& zone : garden_.zones) known.push_back(zone.name);
    for (const Zone& zone : garden_.zones) {
      const std::string valve = "valve " + std::to_string(zone.valve);
      if (std::find(known.begin(), known.end(), valve) == known.end()) known.push_back(valve);
    }
    const std::vector<std::string_view> views(known.begin(), known.end());
    const auto near = nearest(name, views);
    error(cell, "no zone is called " + quoted(name),
          near ? "did you mean " + quoted(*near) + "?"
               : "write a zone's name as in the garden file, such as " +
                     (views.empty() ? "\"bed\"" : quoted(views.front())));
  }

  void read_amount(const LogCell& cell, LogEntry& entry) {
    switch (entry.what) {
      case LogWhat::did_not_run:
        if (!cell.text.empty())
          error(cell, "\"did not run\" has no amount",
                "leave the amount empty, or write \"ran\" if some of it ran");
        return;
      case LogWhat::ran:
      case LogWhat::by_hand:
        return read_watering(cell, entry);
      case LogWhat::rain:
        return read_depth(cell, entry, any_rain_mm, "12 mm");
      case LogWhat::depletion:
        return read_depth(cell, entry, any_depletion_mm, "8 mm");
      case LogWhat::feel:
        return read_feel(cell, entry);
      case LogWhat::meter:
        if (const auto volume_l = measure(cell, Dimension::volume, any_meter_l, "12345 L"))
          entry.amount = Volume::litres(*volume_l);
        return;
    }
  }

  /// With a decimal comma, as semicolons between the fields go with, "8,5 mm" is read.
  [[nodiscard]] std::string measure_text(const LogCell& cell) const {
    std::string text(cell.text);
    if (decimal_comma_)
      for (char& c : text) c = c == ',' ? '.' : c == '.' ? ',' : c;
    return text;
  }

  /// Whether a number and a unit of that dimension stand there, be the number in range or not.
  [[nodiscard]] bool is_of(const LogCell& cell, Dimension dimension) const {
    return parse_measure(measure_text(cell), dimension).fault.empty();
  }

  /// Whether a decimal point is what is wrong, and then says so.
  bool refused_point(const LogCell& cell) {
    if (!decimal_comma_ || cell.text.find('.') == std::string_view::npos) return false;
    error(cell, quoted(cell.text) + " has a decimal point",
          "with semicolons between the fields write a decimal comma");
    return true;
  }

  std::optional<double> measure(const LogCell& cell, Dimension dimension, const Range& range,
                                const std::string& example) {
    if (cell.text.empty()) {
      error(cell, "the amount is missing", "write it with its unit, such as " + example);
      return std::nullopt;
    }
    const MeasureOrFault read = parse_measure(measure_text(cell), dimension);
    if (!read.fault.empty()) {
      if (!refused_point(cell)) error(cell, read.fault, read.mend);
      return std::nullopt;
    }
    if (read.value >= range.least && read.value <= range.most) return read.value;
    const std::string unit(base_unit(dimension));
    error(cell,
          quoted(cell.text) + " is not between " + shortest(range.least) + " and " +
              shortest(range.most) + " " + unit,
          "check the figure and its unit");
    return std::nullopt;
  }

  void read_depth(const LogCell& cell, LogEntry& entry, const Range& range,
                  const std::string& example) {
    if (const auto depth_mm = measure(cell, Dimension::depth, range, example))
      entry.amount = Depth::mm(*depth_mm);
  }

  void read_watering(const LogCell& cell, LogEntry& entry) {
    // None by hand says that a run the plan asked for was not done.
    const auto range = [&](Range of_timer) {
      return entry.what == LogWhat::by_hand ? Range{.least = 0.0, .most = of_timer.most} : of_timer;
    };
    if (is_of(cell, Dimension::volume)) {
      if (entry.zones.size() > 1)
        error(cell, "litres of a valve with several zones say of none how much it got",
              "write minutes, or a row for each zone");
      if (const auto volume_l = measure(cell, Dimension::volume, range(any_watering_l), "5 L"))
        entry.amount = Volume::litres(*volume_l);
    } else if (is_of(cell, Dimension::depth)) {
      read_depth(cell, entry, range(any_watering_mm), "8 mm");
    } else if (is_of(cell, Dimension::duration)) {
      if (const auto run_min = measure(cell, Dimension::duration, range(any_run_min), "20 min"))
        entry.amount = Duration::minutes(*run_min);
    } else if (!refused_point(cell)) {
      error(cell,
            cell.text.empty()
                ? "the amount is missing"
                : quoted(cell.text) + (parse_number(cell.text, decimal_comma_)
                                           ? " has no unit"
                                           : " is neither a time, a volume nor a depth"),
            decimal_comma_ ? "write it with its unit: 20 min, 5 L or 8,5 mm"
                           : "write it with its unit: 20 min, 5 L or 8.5 mm");
    }
  }

  void read_feel(const LogCell& cell, LogEntry& entry) {
    if (const FeelClass* feel = find_feel(feels_, plain(cell.text))) {
      entry.amount = FeltMoisture{.available = feel->available};
      return;
    }
    error(cell,
          cell.text.empty() ? "how the soil feels is missing"
                            : quoted(cell.text) + " is not how soil feels",
          did_you_mean(cell.text, names(feels_)));
  }

  const Garden& garden_;
  const FeelTable& feels_;
  FindingList& list_;
  bool decimal_comma_;
  int errors_ = 0;
};

/// What no row says alone: two that contradict each other.
class Contradictions {
 public:
  explicit Contradictions(FindingList& list) : list_(list) {}

  void look_at(const LogEntry& entry) {
    switch (entry.what) {
      case LogWhat::did_not_run:
        doubt_known(entry);
        return each_zone(entry, ran_, did_not_run_, "this watering ran all the same",
                         "keep one of the two");
      case LogWhat::ran:
        return each_zone(entry, did_not_run_, ran_, "this watering did not run",
                         "keep one of the two");
      case LogWhat::by_hand:
        return;
      case LogWhat::rain:
        return once(entry, rain_, "this day's rain", "put all the gauge caught into one row");
      case LogWhat::depletion:
      case LogWhat::feel:
        return once(entry, state_, "this zone's moisture of the day", "keep the last one");
      case LogWhat::meter:
        return once(entry, meter_, "the meter of this day", "keep the one of the evening");
    }
  }

 private:
  using Key = std::pair<Date, std::size_t>;
  using Lines = std::map<Key, int>;

  void error(const LogEntry& entry, const std::string& says, int line, const std::string& mend) {
    list_.add(Finding::Kind::error, entry.at, says + " on line " + std::to_string(line), mend);
  }

  /// Whether earlier rows say the same of all its zones.
  void doubt_known(const LogEntry& entry) {
    const auto known = [&](std::size_t zone) {
      return did_not_run_.contains(Key{entry.date, zone});
    };
    if (entry.zones.empty() || !std::all_of(entry.zones.begin(), entry.zones.end(), known)) return;
    list_.add(Finding::Kind::doubt, entry.at,
              "that this watering did not run stands there already, on line " +
                  std::to_string(did_not_run_.at(Key{entry.date, entry.zones.front()})),
              "keep one of the two; check the date and the zone");
  }

  void each_zone(const LogEntry& entry, const Lines& against, Lines& mine, const std::string& says,
                 const std::string& mend) {
    bool told = false;
    for (const std::size_t zone : entry.zones) {
      const Key key{entry.date, zone};
      const auto other = against.find(key);
      if (other != against.end() && !told) error(entry, says, other->second, mend);
      told = told || other != against.end();
      mine.emplace(key, entry.at.line);
    }
  }

  void once(const LogEntry& entry, Lines& mine, const std::string& says, const std::string& mend) {
    std::vector<std::size_t> zones = entry.zones;
    if (zones.empty()) zones.push_back(whole_garden);
    bool told = false;
    for (const std::size_t zone : zones) {
      const auto [first, is_new] = mine.emplace(Key{entry.date, zone}, entry.at.line);
      if (!is_new && !told) error(entry, says + " stands there already,", first->second, mend);
      told = told || !is_new;
    }
  }

  static constexpr auto whole_garden = static_cast<std::size_t>(-1);
  FindingList& list_;
  Lines ran_, did_not_run_, rain_, state_, meter_;
};

void doubt_meters(const WaterLog& log, FindingList& list) {
  const LogEntry* before = nullptr;
  for (const LogEntry& entry : log.entries) {
    if (entry.what != LogWhat::meter) continue;
    if (before != nullptr && std::get<Volume>(entry.amount) < std::get<Volume>(before->amount))
      list.add(Finding::Kind::doubt, entry.at,
               "the meter shows less than on " + iso_date(before->date) + ", line " +
                   std::to_string(before->at.line),
               "check the figure; after a new meter the days before it are left out");
    before = &entry;
  }
}

WaterLog read_rows(const CsvTable& table, const LogColumns& columns, const Garden& garden,
                   FindingList& list) {
  const FeelTable feels = feel_table();
  RowReader reader(garden, feels, list, table.decimal_comma());
  Contradictions contradictions(list);
  WaterLog log;
  for (std::size_t i = 0; i < table.rows(); ++i) {
    auto entry = reader.read(columns.cells(table.row(i)));
    if (!entry) continue;
    contradictions.look_at(*entry);
    log.entries.push_back(*std::move(entry));
  }
  std::stable_sort(log.entries.begin(), log.entries.end(),
                   [](const LogEntry& a, const LogEntry& b) { return a.date < b.date; });
  doubt_meters(log, list);
  return log;
}

}  // namespace

std::string_view to_text(LogWhat what) { return whats.at(static_cast<std::size_t>(what)); }

Read<WaterLog> read_water_log(std::string_view csv, std::string_view name, const Garden& garden) {
  if (is_empty_log(csv)) return {.value = WaterLog{}, .findings = {}};
  Read<CsvTable> table = split_csv(csv, name);
  if (!table.value) return {.value = std::nullopt, .findings = std::move(table.findings)};
  FindingList list(name);
  list.add(std::move(table.findings));
  WaterLog log;
  if (const auto columns = log_columns(*table.value, list))
    log = read_rows(*table.value, *columns, garden, list);
  Read<WaterLog> read{.value = std::nullopt, .findings = list.take()};
  if (!has_error(read.findings)) read.value = std::move(log);
  return read;
}

Read<LogEntry> read_log_row(const LogRow& row, const Garden& garden) {
  FindingList list("");
  for (const auto& [key, text] : {std::pair<std::string, std::string_view>{"zone", row.zone},
                                  {"amount", row.amount},
                                  {"note", row.note}}) {
    if (first_binary_byte(text) < text.size() ||
        std::any_of(text.begin(), text.end(), is_control_character)) {
      list.add(Finding::Kind::error, {.file = {}, .line = 0, .column = 0, .key = key},
               quoted(text) + " is not one line of plain text", "leave out what is not");
      return {.value = std::nullopt, .findings = list.take()};
    }
  }
  const FeelTable feels = feel_table();
  const LogCells cells{.date = {.text = row.date, .key = "date"},
                       .zone = {.text = row.zone, .key = "zone"},
                       .what = {.text = row.what, .key = "what"},
                       .amount = {.text = row.amount, .key = "amount"},
                       .note = {.text = row.note, .key = "note"}};
  auto entry = RowReader(garden, feels, list, false).read(cells);
  Read<LogEntry> read{.value = std::nullopt, .findings = list.take()};
  if (!has_error(read.findings)) read.value = std::move(entry);
  return read;
}

}  // namespace runnel

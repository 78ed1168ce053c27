#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "runnel/garden/digest.hpp"
#include "runnel/garden/plan_file.hpp"
#include "runnel/units/number.hpp"
#include "yaml_reader.hpp"
#include "yaml_tree.hpp"

namespace runnel {
namespace {

// Wider than any plan: what stands here was written by the program.
constexpr int any_valve = 10000;
constexpr int any_minutes = 24 * 60;
constexpr int any_percentage = 1000;
constexpr int any_interval = 366;
constexpr Range any_depth_mm{.least = 0.0, .most = 1e6};
constexpr Range any_litres{.least = 0.0, .most = 1e12};
constexpr Range wetted_surface{.least = 0.001, .most = 1.0};  // a surface that evaporates has some

constexpr int newest_format = 2;

constexpr std::string_view plan_anew =
    "plan anew, without --after; what ran otherwise than planned goes into the water log";

/// "3 days": 3.
std::optional<int> interval(const YamlField& field) {
  const auto written = field.text();
  if (!written) return std::nullopt;
  const auto n = parse_int(written->substr(0, written->find(' ')));
  if (n && *n >= 1 && *n <= any_interval &&
      *written == std::to_string(*n) + (*n == 1 ? " day" : " days"))
    return n;
  field.error(quoted(*written) + " is no interval of days", "write it as 3 days");
  return std::nullopt;
}

DayPattern read_interval(const YamlField& field) {
  YamlMap map = field.map();
  const auto n = interval(map.field("every").needed("every: 3 days"));
  const auto first = map.field("from").needed("from: 2027-06-15").date();
  map.refuse_others();
  return EveryN{.n = n.value_or(1), .first = first.value_or(Date{})};
}

DayPattern read_weekdays(const YamlField& field) {
  Weekdays days;
  for (const YamlField& item : field.list()) {
    const auto written = item.text();
    if (!written) continue;
    if (const auto day = parse_weekday(*written)) {
      days.on.set(static_cast<std::size_t>(*day));
    } else {
      item.error(quoted(*written) + " is no day of the week", "write Mon, Tue and so on");
    }
  }
  return days;
}

DayPattern read_days(YamlField field) {
  field.needed("days: [Mon, Thu]");
  if (field.is_map()) return read_interval(field);
  if (field.is_list()) return read_weekdays(field);
  static constexpr std::array<std::string_view, 2> parities = {"odd dates", "even dates"};
  return DateParity{field.one_of(parities, "choice of days") == "odd dates"};
}

std::vector<WallTime> read_starts(YamlField field) {
  std::vector<WallTime> starts;
  for (const YamlField& item : field.needed("starts: [\"04:30\"]").list()) {
    const auto written = item.text();
    if (!written) continue;
    if (const auto start = parse_clock(*written)) {
      starts.push_back(*start);
    } else {
      item.error(quoted(*written) + " is no time of the day", "write it as \"04:30\"");
    }
  }
  return starts;
}

std::vector<int> read_lengths(YamlField field) {
  field.needed("minutes: 38");
  std::vector<int> lengths;
  for (const YamlField& length : field.is_list() ? field.list() : std::vector<YamlField>{field})
    if (const auto minutes = length.whole_number(0, any_minutes)) lengths.push_back(*minutes);
  return lengths;
}

int read_valve(YamlField field) {
  return field.needed("valve: 1").whole_number(1, any_valve).value_or(0);
}

Run read_run(const YamlField& field, std::set<int>& valves) {
  YamlMap map = field.map();
  const YamlField valve = map.field("valve");
  Run run{.valve = read_valve(valve), .typed_min = read_lengths(map.field("minutes"))};
  map.refuse_others();
  if (run.valve > 0 && !valves.insert(run.valve).second)
    valve.error("valve " + std::to_string(run.valve) + " has two runs", "one for each valve");
  return run;
}

std::vector<Programme> read_programmes(YamlField field) {
  std::vector<Programme> programmes;
  std::set<int> valves;
  for (const YamlField& item : field.needed("programmes: [...]").list()) {
    YamlMap map = item.map();
    Programme& programme = programmes.emplace_back(
        Programme{.days = read_days(map.field("days")), .starts = {}, .runs = {}});
    programme.starts = read_starts(map.field("starts"));
    for (const YamlField& run : map.field("runs").needed("runs: [{valve: 1, minutes: 38}]").list())
      programme.runs.push_back(read_run(run, valves));
    map.refuse_others();
  }
  return programmes;
}

std::vector<HandWatering> read_by_hand(YamlField field) {
  std::vector<HandWatering> waterings;
  for (const YamlField& item : field.needed("by hand: []").list()) {
    YamlMap map = item.map();
    HandWatering watering{};
    watering.date = map.field("date").needed("date: 2027-06-15").date().value_or(Date{});
    watering.valve = read_valve(map.field("valve"));
    watering.minutes =
        map.field("minutes").needed("minutes: 20").whole_number(0, any_minutes).value_or(0);
    map.refuse_others();
    waterings.push_back(watering);
  }
  return waterings;
}

double read_depth_mm(YamlField field, std::string_view example) {
  return field.needed(example).measure(Dimension::depth, any_depth_mm).value_or(0.0);
}

SoilState read_state(YamlField field) {
  YamlMap map = field
                    .needed(
                        "start: {depletion: 12 mm, dry part: 0 mm, surface: 0 mm, "
                        "surface wetted: 1}")
                    .map();
  const SoilState state{.depletion_mm = read_depth_mm(map.field("depletion"), "depletion: 12 mm"),
                        .dry_mm = read_depth_mm(map.field("dry part"), "dry part: 0 mm"),
                        .surface_mm = read_depth_mm(map.field("surface"), "surface: 0 mm"),
                        .surface_fw = map.field("surface wetted")
                                          .needed("surface wetted: 1")
                                          .number(wetted_surface)
                                          .value_or(1.0)};
  map.refuse_others();
  return state;
}

/// One for each day of the plan.
std::vector<double> read_expected(YamlField field, const SavedPlan& plan) {
  std::vector<double> expected_mm;
  field.needed("expected: [12 mm, 13.5 mm]");
  const std::vector<YamlField> days = field.list();
  for (const YamlField& day : days)
    expected_mm.push_back(day.measure(Dimension::depth, any_depth_mm).value_or(0.0));
  const auto planned = (plan.until - plan.from).count() + 1;
  if (planned > 0 && !days.empty() && static_cast<std::int64_t>(days.size()) != planned)
    field.error("expected depletions of " + std::to_string(days.size()) + " days, in a plan of " +
                    std::to_string(planned),
                "one for each day, in order, from the plan's first on");
  return expected_mm;
}

std::vector<SavedZone> read_zones(YamlField field, const SavedPlan& plan, int format) {
  std::vector<SavedZone> zones;
  std::map<std::string, int> lines;
  for (const YamlField& item : field.needed("zones: [...]").list()) {
    YamlMap map = item.map();
    YamlField name = map.field("zone");
    SavedZone zone{.name = name.needed("zone: terrace bed").text().value_or(""),
                   .valve = read_valve(map.field("valve")),
                   .litres = map.field("litres")
                                 .needed("litres: 120 L")
                                 .measure(Dimension::volume, any_litres)
                                 .value_or(0.0),
                   .demand_mm = read_depth_mm(map.field("demand"), "demand: 20 mm"),
                   .start = read_state(map.field("start")),
                   .end = read_state(map.field("end")),
                   .expected_mm = {}};
    if (format > 1) zone.expected_mm = read_expected(map.field("expected"), plan);
    map.refuse_others();
    const auto [known, is_new] = lines.emplace(zone.name, name.place().line);
    if (!is_new && !zone.name.empty())
      name.error("zone " + quoted(zone.name) + " stands twice, first on line " +
                     std::to_string(known->second),
                 "keep one of the two");
    zones.push_back(std::move(zone));
  }
  return zones;
}

DaySource source_named(const std::optional<std::string>& name) {
  for (const DaySource source : {DaySource::observed, DaySource::forecast, DaySource::record})
    if (name == to_text(source)) return source;
  return DaySource::recent_mean;
}

std::vector<SavedDay> read_weather(YamlField field, std::optional<Date> from) {
  static constexpr std::array<std::string_view, 4> sources = {"observed", "forecast", "record",
                                                              "recent mean"};
  std::vector<SavedDay> days;
  for (const YamlField& item : field.needed("weather: [...]").list()) {
    YamlMap map = item.map();
    YamlField date_field = map.field("date");
    const auto date = date_field.needed("date: 2027-06-15").date();
    const Date expected = from.value_or(Date{}) + std::chrono::days{static_cast<int>(days.size())};
    if (from && date && *date != expected)
      date_field.error("the weather of " + iso_date(expected) + " should stand here",
                       "one entry for each day, in order, from the plan's first on");
    days.push_back(
        {.eto_mm = read_depth_mm(map.field("reference et"), "reference et: 6 mm"),
         .rain_mm = read_depth_mm(map.field("rain"), "rain: 0 mm"),
         .source = source_named(
             map.field("from").needed("from: forecast").one_of(sources, "source of weather"))});
    map.refuse_others();
  }
  return days;
}

/// All of the text above a line; nothing when it has fewer.
std::optional<std::string_view> above(std::string_view text, int line) {
  std::size_t end = 0;
  for (int i = 1; i < line; ++i) {
    end = text.find('\n', end);
    if (end == std::string_view::npos) return std::nullopt;
    ++end;
  }
  return text.substr(0, end);
}

/// As it is written when nobody has touched it: the digest's line is the last.
bool untouched(std::string_view text, const YamlField& field, const std::string& stated) {
  const auto covered = above(text, field.place().line);
  if (!covered || digest(*covered) != stated) return false;
  std::string whole = with_digest(std::string(*covered));
  std::string read(text);
  std::erase(whole, '\r');
  std::erase(read, '\r');
  return read == whole;
}

void read_digests(YamlField field, std::string_view text, FindingList& list, SavedPlan& plan) {
  YamlMap map = field.needed("digests: {...}").map();
  plan.garden_digest = map.field("garden file").needed("garden file: ...").text().value_or("");
  plan.observed_digest =
      map.field("observed days before").needed("observed days before: ...").text().value_or("");
  YamlField of_text = map.field("text above");
  const auto stated = of_text.needed("text above: ...").text();
  map.refuse_others();
  // Any other fault says more of what was changed.
  if (stated && !list.any_error() && !untouched(text, of_text, *stated))
    of_text.error("this plan was edited after it was written", std::string(plan_anew));
}

void read_timer(YamlField field, SavedPlan& plan) {
  YamlMap map = field.needed("timer: {percentage: 100, pause between valves: 0 min}").map();
  plan.percentage = map.field("percentage")
                        .needed("percentage: 100")
                        .whole_number(1, any_percentage)
                        .value_or(plan.percentage);
  const YamlField pause = map.field("pause between valves").needed("pause between valves: 0 min");
  const auto minutes = pause.measure(Dimension::duration, {.least = 0.0, .most = any_minutes});
  plan.pause_minutes = static_cast<int>(minutes.value_or(0.0));
  if (minutes && *minutes != plan.pause_minutes)
    pause.error("a pause between valves is counted in whole minutes", "write it so, such as 2 min");
  map.refuse_others();
}

/// Nothing when it is none that is known.
std::optional<int> read_format(YamlField field) {
  const auto format = field.needed("format: 2").whole_number(1, 1000000);
  if (!format || *format <= newest_format) return format;
  field.error("a plan file of format " + std::to_string(*format) + ": this program reads " +
                  std::to_string(newest_format) + " and older ones",
              "read it with the program that wrote it, or plan anew, without --after");
  return std::nullopt;
}

void read_entries(YamlMap& map, std::string_view text, int format, FindingList& list,
                  SavedPlan& plan) {
  YamlField garden = map.field("garden");
  YamlField from = map.field("from");
  const YamlField until = map.field("until");
  plan.garden = garden.needed("garden: Larkspur Terrace").text().value_or("");
  plan.garden_at = garden.value_place();
  const auto first = from.needed("from: 2027-06-15").date();
  const auto last = YamlField(until).needed("until: 2027-06-21").date();
  plan.from_at = from.value_place();
  plan.from = first.value_or(Date{});
  plan.until = last.value_or(Date{});
  if (first && last && *last < *first)
    until.error("the plan ends before it begins", "write its last day");
  read_timer(map.field("timer"), plan);
  plan.programmes = read_programmes(map.field("programmes"));
  plan.by_hand = read_by_hand(map.field("by hand"));
  plan.zones = read_zones(map.field("zones"), plan, format);
  plan.weather = read_weather(map.field("weather"), first);
  const YamlField digests = map.field("digests");
  map.refuse_others();
  read_digests(digests, text, list, plan);
}

void read_all(const YamlNode& root, std::string_view text, FindingList& list, SavedPlan& plan) {
  if (root.kind == YamlNode::Kind::broken) return;
  const Place start{.file = list.file(), .line = 1, .column = 1, .key = {}};
  if (root.kind != YamlNode::Kind::map) {
    list.add(Finding::Kind::error, start, "this is no plan file",
             "runnel plan GARDEN --save FILE writes one");
    return;
  }
  YamlMap map(list, &root, start);
  if (const auto format = read_format(map.field("format")))
    read_entries(map, text, *format, list, plan);
}

}  // namespace

Read<SavedPlan> read_plan_file(std::string_view yaml, std::string_view name) {
  YamlText text = parse_yaml(yaml, name);
  FindingList list(name);
  list.add(std::move(text.findings));
  SavedPlan plan;
  plan.file = name;
  if (text.whole) read_all(text.root, yaml, list, plan);
  Read<SavedPlan> read{.value = std::nullopt, .findings = list.take()};
  if (!has_error(read.findings)) read.value = std::move(plan);
  return read;
}

}  // namespace runnel

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "read_garden_parts.hpp"
#include "runnel/garden/digest.hpp"
#include "runnel/garden/garden.hpp"
#include "runnel/garden/time_zone.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/quantity.hpp"
#include "runnel/units/unit_table.hpp"
#include "runnel/weather/weather_csv.hpp"
#include "yaml_reader.hpp"
#include "yaml_tree.hpp"

namespace runnel {
namespace {

constexpr Range any_latitude_deg{.least = -90.0, .most = 90.0};
constexpr Range any_longitude_deg{.least = -180.0, .most = 180.0};
// The lowest shore and the highest summit.
constexpr Range any_elevation_m{.least = -430.0, .most = 8850.0};
// Limits against slips of the pen (a unit mistaken, a digit too many); no source.
constexpr Range any_wind_height_m{.least = 0.5, .most = 200.0};
constexpr Range any_supply_l_h{.least = 1.0, .most = 1e6};
constexpr Range any_pressure_kpa{.least = 10.0, .most = 2000.0};

/// The year whose standard time hourly rows are taken to keep: zones seldom change it, and the year
/// of the weather is not known here.
constexpr int offset_year = 2026;

std::string read_time_zone(YamlField field) {
  const auto name = field.needed("timezone: Europe/Lisbon").text();
  if (!name) return {};
  if (is_time_zone(*name)) return *name;
  const auto guess = nearest_time_zone(*name);
  field.error("there is no time zone " + quoted(*name),
              guess ? "did you mean " + quoted(*guess) + "?"
                    : "write its name in the tz database, such as Europe/Lisbon");
  return {};
}

/// Clocks that are put forward for January belong to the south, and the other way round.
void doubt_hemisphere(const YamlField& latitude, const Garden& garden) {
  if (garden.timezone.empty() || garden.site.latitude_deg == 0.0) return;
  const std::chrono::year year{2025};  // any in which the clocks still change
  const auto offset = [&](std::chrono::month month) {
    return utc_offset_at_noon(garden.timezone, Date(year / month / 1));
  };
  const auto january = offset(std::chrono::January);
  const auto july = offset(std::chrono::July);
  const bool south = garden.site.latitude_deg < 0.0;
  if (january == july || (january > july) == south) return;
  latitude.doubt("lies in the " + std::string(south ? "south" : "north") + ", but the clocks of " +
                     garden.timezone + " keep summer time in the " +
                     (south ? "northern" : "southern") + " summer",
                 "write " + shortest(-garden.site.latitude_deg) +
                     " if it is the other half, or "
                     "check the time zone");
}

/// Clocks are set by the sun's time of about their own meridian.
void doubt_longitude(const YamlField& longitude, const Garden& garden) {
  const double degrees = garden.site.longitude_deg;
  if (garden.timezone.empty() || degrees == 0.0) return;
  constexpr double most_h = 4.0;  // China's west is 3 hours off its clock; our choice
  const double clock_h =
      static_cast<double>(standard_utc_offset(garden.timezone, offset_year).count()) / 60.0;
  const auto apart_h = [clock_h](double longitude_deg) {
    return std::abs(std::remainder(longitude_deg / 15.0 - clock_h, 24.0));
  };
  if (apart_h(degrees) <= most_h) return;
  const bool mirrored = apart_h(-degrees) <= most_h;
  longitude.doubt(
      shortest(std::abs(degrees)) + (degrees < 0.0 ? " west is " : " east is ") +
          fixed(apart_h(degrees), 0) + " hours from the clocks of " + garden.timezone,
      (mirrored ? "is it " + shortest(-degrees) + "? west of Greenwich has a minus; else "
                : std::string()) +
          "check longitude and time zone");
}

void read_site(YamlField field, Garden& garden) {
  field.needed(
      "site: {latitude: 38.72, longitude: -9.14, elevation: 95 m, timezone: Europe/Lisbon}");
  YamlMap map = field.map();
  garden.site = {
      .latitude_deg =
          map.field("latitude").needed("latitude: 38.72").number(any_latitude_deg).value_or(0.0),
      .longitude_deg =
          map.field("longitude").needed("longitude: -9.14").number(any_longitude_deg).value_or(0.0),
      .elevation_m = map.field("elevation")
                         .needed("elevation: 95 m")
                         .measure(Dimension::length, any_elevation_m)
                         .value_or(0.0)};
  garden.timezone = read_time_zone(map.field("timezone"));
  doubt_hemisphere(map.field("latitude"), garden);
  doubt_longitude(map.field("longitude"), garden);
  static constexpr std::array<std::string_view, 2> settings = {"coast", "inland"};
  static constexpr std::array<std::string_view, 2> airs = {"dry", "humid"};
  garden.coast = map.field("setting")
                     .or_else(
                         "setting inland, unless measured days show it (matters where radiation is "
                         "not measured)")
                     .one_of(settings, "setting") == "coast";
  garden.dry_air =
      map.field("air")
          .or_else(
              "air humid, unless measured days show it (matters where humidity is not measured)")
          .one_of(airs, "kind of air") == "dry";
  map.refuse_others();
}

/// "+01:00", "-03:30".
std::optional<std::chrono::minutes> parse_utc_offset(std::string_view text) {
  if (text.empty() || (text[0] != '+' && text[0] != '-')) return std::nullopt;
  const auto size = parse_clock(text.substr(1));
  if (!size || *size > std::chrono::hours(15)) return std::nullopt;
  return text[0] == '-' ? -*size : *size;
}

std::chrono::minutes read_utc_offset(const YamlField& field, const std::string& timezone) {
  if (!field.written()) {
    return timezone.empty() ? std::chrono::minutes(0) : standard_utc_offset(timezone, offset_year);
  }
  const auto written = field.text();
  if (!written) return std::chrono::minutes(0);
  const auto offset = parse_utc_offset(*written);
  if (!offset) {
    field.error(quoted(*written) + " is not an offset from UTC",
                "write hours and minutes east of Greenwich, such as \"+01:00\"");
  }
  return offset.value_or(std::chrono::minutes(0));
}

/// Standard names are the keys, the file's own headers the values.
void read_columns(const YamlField& field, WeatherLayout& layout) {
  for (const auto& [key, header] : field.map().all()) {
    const auto text = header.text();
    if (key != "date" && key != "time" && !variable_named(key)) {
      header.error("there is no weather column " + quoted(key),
                   "the standard names are date, time, tmax, tmin, rain and so on");
    } else if (text) {
      layout.columns.emplace(key, *text);
    }
  }
}

void read_weather(YamlField field, Garden& garden) {
  field.needed("weather: {observed: weather.csv}");
  YamlMap map = field.map("observed");
  WeatherFiles& files = garden.weather;
  YamlField observed = map.field("observed");
  const YamlField forecast = map.field("forecast");
  files.observed = observed.needed("observed: weather.csv").text().value_or("");
  const YamlField record = map.field("record");
  files.forecast = forecast.text();
  files.record = record.text();
  files.observed_at = observed.value_place();
  files.forecast_at = forecast.value_place();
  files.record_at = record.value_place();
  files.layout.wind_height_m = map.field("wind measured at")
                                   .or_else("wind measured at 2 m")
                                   .measure(Dimension::length, any_wind_height_m)
                                   .value_or(files.layout.wind_height_m);
  files.layout.utc_offset = read_utc_offset(map.field("utc offset"), garden.timezone);
  static constexpr std::array<std::string_view, 2> labels = {"begins", "ends"};
  files.layout.hour_label_is_end = map.field("hour label").one_of(labels, "hour label") == "ends";
  const YamlField columns = map.field("columns");
  if (columns.written()) read_columns(columns, files.layout);
  map.refuse_others();
}

void read_supply(YamlField field, Garden& garden) {
  field.or_else("the supply is taken to feed every zone");
  YamlMap map = field.map("flow");
  if (const auto flow = map.field("flow").measure(Dimension::flow, any_supply_l_h)) {
    garden.supply_flow = Flow::litres_per_hour(*flow);
  }
  garden.supply_pressure_kpa = map.field("pressure").measure(Dimension::pressure, any_pressure_kpa);
  map.refuse_others();
}

void read_all(const YamlNode& root, FindingList& list, Garden& garden) {
  const Place start{.file = garden.file, .line = 1, .column = 1, .key = {}};
  if (root.kind == YamlNode::Kind::broken) return;
  if (root.kind == YamlNode::Kind::null) {
    list.add(Finding::Kind::error, start, "the file is empty",
             "write a garden: its site, weather, timer, watering hours and zones");
    return;
  }
  if (root.kind != YamlNode::Kind::map) {
    list.add(Finding::Kind::error,
             {.file = garden.file, .line = root.line, .column = root.column, .key = {}},
             "a garden file holds entries",
             "write them as \"key: value\", the first \"garden: NAME\"");
    return;
  }
  YamlMap map(list, &root, start);
  garden.name = map.field("garden").needed("garden: Larkspur Terrace").text().value_or("");
  read_site(map.field("site"), garden);
  read_weather(map.field("weather"), garden);
  read_supply(map.field("supply"), garden);
  garden.timer = read_timer(map.field("timer"));
  garden.watering_hours = read_hours(
      map.field("watering hours").needed("watering hours: [\"04:30-08:00\"]"), "watering hours");
  const YamlField log = map.field("log");
  garden.log = log.text();
  garden.log_at = log.value_place();
  garden.zones = read_zones(map.field("zones").needed("zones: [...]"), garden.timer);
  garden.rules = read_rules(map.field("rules"), garden.zones);
  map.refuse_others();
  check_rules(garden, list);
}

}  // namespace

Read<Garden> read_garden(std::string_view yaml, std::string_view name) {
  YamlText text = parse_yaml(yaml, name);
  FindingList list(name);
  list.add(std::move(text.findings));
  Garden garden;
  garden.file = name;
  garden.digest = digest(yaml);
  if (text.whole) read_all(text.root, list, garden);
  Read<Garden> read{.value = std::nullopt, .findings = list.take()};
  if (!has_error(read.findings)) {
    garden.written = paths_of(text.root);
    read.value = std::move(garden);
  }
  return read;
}

bool is_written(const Garden& garden, std::string_view path) {
  return std::binary_search(garden.written.begin(), garden.written.end(), path);
}

}  // namespace runnel

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "read_garden_parts.hpp"
#include "runnel/demand/surroundings.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/unit_table.hpp"

namespace runnel {
namespace {

constexpr double degrees = std::numbers::pi / 180.0;

// Limits against slips of the pen (a unit mistaken, a digit too many); no source.
constexpr Range any_exposure{.least = 0.05, .most = 2.0};
constexpr Range whole_share{.least = 0.0, .most = 1.0};
constexpr Range any_wind_share{.least = 0.0, .most = 3.0};
constexpr Range any_direction_deg{.least = 0.0, .most = 360.0};
constexpr Range any_height_deg{.least = 0.0, .most = 90.0};
constexpr Range any_wall_m{.least = 0.0, .most = 300.0};
constexpr Range any_distance_m{.least = 0.05, .most = 10000.0};
constexpr Range any_slope_deg{.least = 0.0, .most = 45.0};
constexpr double widest_wall_deg = 180.0;

double read_factor(const YamlField& field) {
  const double factor = field.number(any_exposure).value_or(1.0);
  // Costello et al. (2000) give 0.5-1.4 for their microclimate factor; computed deep shade lies
  // lower.
  if (factor < 0.4 || factor > 1.4) {
    field.doubt("an exposure factor of " + shortest(factor) + " is out of the ordinary",
                "deep shade is about 0.4, a hot paved court about 1.4");
  }
  return factor;
}

/// "south", "north-east", or degrees clockwise from north.
std::optional<double> read_direction_deg(const YamlField& field) {
  static constexpr std::array<std::string_view, 8> winds = {
      "north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"};
  const auto written = field.text();
  if (!written) return std::nullopt;
  const bool in_words = written->find_first_of("0123456789") == std::string::npos;
  if (!in_words) return field.measure(Dimension::angle, any_direction_deg);
  const auto wind = field.one_of(winds, "direction");
  if (!wind) return std::nullopt;
  return 45.0 * static_cast<double>(std::find(winds.begin(), winds.end(), *wind) - winds.begin());
}

/// A stretch of the day, a list of them, "none" or "all day".
std::vector<Window> read_sun_hours(const YamlField& field) {
  constexpr Window whole_day{.opens = WallTime{0}, .closes = std::chrono::hours(24)};
  std::vector<YamlField> items;
  if (field.is_list()) {
    items = field.list();
    if (items.empty())
      field.error("no hours of sun are listed", "write \"none\" if there are none");
  } else {
    const auto written = field.text();
    if (!written || lower(*written) == "none") return {};
    if (lower(*written) == "all day") return {whole_day};
    items = {field};
  }
  std::vector<Window> hours;
  for (const YamlField& item : items) {
    const auto window = read_window(item, "hours of sun");
    if (!window) continue;
    const bool twice = std::any_of(hours.begin(), hours.end(),
                                   [&](const Window& other) { return overlap(*window, other); });
    if (twice) {
      item.error("these hours of sun overlap with those before", "join them into one stretch");
    } else {
      hours.push_back(*window);
    }
  }
  return hours;
}

/// Another day of the same kind, with a date of its own.
ObservedSun read_other_day(const YamlField& field) {
  YamlMap map = field.map();
  ObservedSun sun{.hours = {}, .on = std::nullopt, .at = field.place()};
  if (!map.readable()) return sun;
  const YamlField hours = map.field("direct sun").needed("direct sun: \"09:00-12:00\"");
  sun.hours = read_sun_hours(hours);
  sun.on = map.field("observed").needed("observed: 2027-12-20").date();
  sun.at = hours.value_place();
  map.refuse_others();
  return sun;
}

std::vector<ObservedSun> read_sun(YamlMap& map) {
  YamlField hours = map.field("direct sun");
  const YamlField observed = map.field("observed");
  const YamlField also = map.field("also");
  if (observed.written() || also.written()) hours.needed("direct sun: \"07:00-11:30\"");
  if (!hours.written()) return {};
  std::vector<ObservedSun> days{
      {.hours = read_sun_hours(hours), .on = observed.date(), .at = hours.value_place()}};
  if (also.is_list()) {
    for (const YamlField& other : also.list()) days.push_back(read_other_day(other));
  } else if (also.written()) {
    days.push_back(read_other_day(also));
  }
  return days;
}

/// A height above the horizon, or a wall of so many metres at a distance.
double read_height_deg(YamlMap& map, bool& wall) {
  YamlField height = map.field("height");
  const YamlField wall_height = map.field("wall");
  YamlField distance = map.field("distance");
  wall = wall_height.written() || distance.written();
  if (!wall) {
    return height.needed("height: 35 deg, or wall: 3 m and distance: 2 m")
        .measure(Dimension::angle, any_height_deg)
        .value_or(0.0);
  }
  if (height.written())
    height.error("beside \"wall\" this says the height a second time", "leave one of the two out");
  const double up_m = YamlField(wall_height)
                          .needed("wall: 3 m")
                          .measure(Dimension::length, any_wall_m)
                          .value_or(0.0);
  const double away_m =
      distance.needed("distance: 2 m").measure(Dimension::length, any_distance_m).value_or(1.0);
  return std::atan2(up_m, away_m) / degrees;
}

void read_obstruction(const YamlField& item, Skyline& skyline) {
  YamlMap map = item.map();
  if (!map.readable()) return;
  const YamlField from = map.field("from").needed("from: 200 deg");
  const YamlField to = map.field("to").needed("to: 290 deg");
  const auto from_deg = read_direction_deg(from);
  const auto to_deg = read_direction_deg(to);
  bool wall = false;
  const double height_deg = read_height_deg(map, wall);
  map.refuse_others();
  if (!from_deg || !to_deg) return;
  const double turn_deg = *to_deg - *from_deg;
  const double width_deg = turn_deg < 0.0 ? turn_deg + 360.0 : turn_deg;
  if (width_deg == 0.0) {
    to.error("an obstruction ends in the direction in which it begins",
             "write the directions of its two ends, clockwise, or from: 0 deg, to: 360 deg for "
             "all round");
  } else if (wall && width_deg > widest_wall_deg) {
    to.error("a straight wall cannot be seen over " + shortest(width_deg) + " deg",
             "write its two ends, clockwise, or one entry for each straight part");
  } else {
    add_obstruction(
        skyline,
        {.from_deg = *from_deg, .to_deg = *to_deg, .height_deg = height_deg, .wall = wall});
  }
}

Skyline read_obstructions(const YamlField& field) {
  Skyline skyline;
  if (!field.written()) return skyline;
  const std::vector<YamlField> items = field.list();
  if (items.empty() && field.is_list())
    field.error("no obstruction is listed", "leave \"obstructions\" out where nothing stands");
  for (const YamlField& item : items) read_obstruction(item, skyline);
  return skyline;
}

double read_albedo(YamlMap& map) {
  const YamlField albedo = map.field("albedo");
  const YamlField surroundings = map.field("surroundings");
  if (albedo.written() && surroundings.written()) {
    surroundings.error("beside \"albedo\" this says the light thrown back a second time",
                       "leave one of the two out");
    return usual_albedo;
  }
  if (!surroundings.written())
    return albedo.measure(Dimension::share, whole_share).value_or(usual_albedo);
  const auto name = surroundings_name(surroundings);
  if (!name) return usual_albedo;
  const SurroundingsTable table = surroundings_table();
  return find_surroundings(table, *name)->albedo;
}

/// "15 %" or "8 deg", as degrees.
double read_slope_deg(const YamlField& field) {
  const auto written = field.text();
  if (!written) return 0.0;
  const bool rise = written->ends_with("%") || written->ends_with("percent");
  if (!rise) return field.measure(Dimension::angle, any_slope_deg).value_or(0.0);
  return std::atan(field.measure(Dimension::share, whole_share).value_or(0.0)) / degrees;
}

void read_tilt(YamlMap& map, Exposure& exposure) {
  YamlField slope = map.field("slope");
  YamlField facing = map.field("facing");
  if (!slope.written() && !facing.written()) return;
  exposure.slope_rad = read_slope_deg(slope.needed("slope: 15 %")) * degrees;
  exposure.facing_rad = read_direction_deg(facing.needed("facing: south")).value_or(0.0) * degrees;
}

void read_geometry(YamlMap& map, ExposureEntry& entry) {
  Exposure& geometry = entry.geometry;
  entry.sun = read_sun(map);
  const YamlField obstructions = map.field("obstructions");
  geometry.skyline = read_obstructions(obstructions);
  if (!entry.sun.empty() && obstructions.written())
    obstructions.error("beside \"direct sun\" this says what hides the sun a second time",
                       "leave one of the two out");
  geometry.sky_share = map.field("sky").measure(Dimension::share, whole_share);
  geometry.canopy_share = map.field("canopy").measure(Dimension::share, whole_share).value_or(1.0);
  geometry.wind_share = map.field("wind").measure(Dimension::share, any_wind_share).value_or(1.0);
  geometry.albedo = read_albedo(map);
  read_tilt(map, geometry);
}

}  // namespace

ExposureEntry read_exposure(YamlField field) {
  ExposureEntry entry;
  entry.at = field.or_else("open to the sky all day: exposure factor 1").value_place();
  if (!field.written()) return entry;
  if (!field.is_map()) {
    if (field.text()) entry.words = exposure_words(field).value_or("");
    return entry;
  }
  YamlMap map = field.map();
  const YamlField factor = map.field("factor");
  if (factor.written()) {
    entry.factor = read_factor(factor);
    for (const YamlMap::Named& other : map.all()) {
      if (other.key == "factor") continue;
      other.field.error("beside \"factor\" nothing else can be said of the exposure",
                        "leave one of the two out");
    }
    return entry;
  }
  if (map.all().empty())
    field.error("nothing is said of the exposure",
                "write words, such as part shade, or direct sun, obstructions or a factor");
  read_geometry(map, entry);
  map.refuse_others();
  return entry;
}

}  // namespace runnel

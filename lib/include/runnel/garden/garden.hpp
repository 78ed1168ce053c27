#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/delivery/delivery.hpp"
#include "runnel/delivery/emitters.hpp"
#include "runnel/schedule/timer.hpp"
#include "runnel/sky/site.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/quantity.hpp"
#include "runnel/weather/weather_csv.hpp"

namespace runnel {

/// What grows in a zone: a kind of planting or a crop by name, and what the gardener knows better
/// than the tables.
struct PlantsEntry {
  std::string name;                    ///< "mixed shrubs", "tomato": a name of the plant tables
  std::string density;                 ///< sparse, average or dense; landscape kinds only
  std::optional<Date> planted;         ///< crops only
  std::optional<double> coefficient;   ///< in place of the table's
  std::optional<double> root_depth_m;  ///< in place of the table's
  std::optional<double> allowable_depletion;  ///< p, share of TAW, in place of the table's
  Place at;
};

/// Pots, tubs, baskets: all alike.
struct ContainersEntry {
  int count;
  double volume_l;
  double mouth_diameter_m;
  std::optional<double> canopy_diameter_m;
  std::string medium;  ///< a name of the media table
  double leaching_share;
  Place at;
};

struct SoilEntry {
  std::string texture;  ///< a name of the soil table
  double slope_pct = 0.0;
  std::optional<double> field_capacity, wilting_point;  ///< m3/m3, both or neither
  std::string mulch;                                    ///< what lies on the ground; empty: nothing
  Place at;
};

struct ExposureEntry {
  double factor = 1.0;  ///< zone reference ET over open-ground ET
  std::string words;    ///< as the gardener put it; empty when a factor was stated
  Place at;
};

/// A pipe that carries emitters, closed at its far end.
struct LineEntry {
  double length_m;
  double inside_diameter_m;
  double roughness_c;     ///< Hazen-Williams C
  double rise_m;          ///< from inlet to end; negative downhill
  int lines;              ///< how many such there are
  double most_variation;  ///< of flow from emitter to emitter that is still even enough, 0-1
  Place at;
};

struct EmittersEntry {
  EmitterSpec spec;
  std::string type;  ///< a name of the emitter table
  std::optional<double>
      uniformity;  ///< measured low-quarter uniformity, 0-1, in place of the table's
  Place at;
  EnoughFor enough_for = EnoughFor::driest_half;
  bool compensating = false;             ///< pressure does not change the flow
  std::optional<double> rated_kpa{};     ///< the pressure of the flow stated
  std::optional<double> pressure_kpa{};  ///< where the water enters the zone; else the supply's
  std::optional<double> variation{};     ///< Cv of the emitters as made
  int per_plant = 1;                     ///< emitters
  std::optional<LineEntry> line{};
};

struct Zone {
  std::string name;
  int valve;
  bool shared_valve = false;
  std::optional<Area> area;  ///< of a bed
  std::optional<ContainersEntry> containers;
  PlantsEntry plants;
  ExposureEntry exposure;
  std::optional<SoilEntry> soil;  ///< of a bed
  EmittersEntry emitters;
  double rain_reaches = 1.0;           ///< share of the rain that gets past eaves and canopies
  std::optional<double> depletion_mm;  ///< known at the start (a finger test); else half the limit
  Place at;
};

struct WeatherFiles {
  std::string observed;  ///< as written, relative to the garden file
  std::optional<std::string> forecast;
  WeatherLayout layout;
  Place observed_at, forecast_at;
};

/// A garden file, read and found in order: units resolved, defaults applied, each default remarked.
struct Garden {
  std::string name;
  std::string file;
  Site site;
  std::string timezone;  ///< IANA name
  bool coast = false;    ///< FAO-56 Eq. 50: 0.19 instead of 0.16
  bool dry_air = false;  ///< FAO-56 Eq. 48: dew point 2 degC below Tmin
  WeatherFiles weather;
  std::optional<Flow> supply_flow;
  std::optional<double> supply_pressure_kpa;
  Timer timer;
  std::vector<Window> watering_hours;  ///< as written, in order; not yet cut at solar noon
  std::vector<Zone> zones;
};

/// Reads a garden file (YAML). All findings at once, each with line and column; no value when one
/// is an error. Errors: YAML that does not parse or nests too deep, a key twice, an unknown key
/// (naming the nearest), a missing key, a value of the wrong kind, a unit missing, unknown or of
/// another dimension, a value out of range, an unknown plant, soil, medium or emitter type (naming
/// the nearest), an unknown time zone, a valve beyond the timer, one valve for two zones without
/// `shared valve: yes` in both, watering hours empty, wrong or overlapping, two zones of one name.
/// @param name the file's name as the findings shall show it.
[[nodiscard]] Read<Garden> read_garden(std::string_view yaml, std::string_view name);

}  // namespace runnel

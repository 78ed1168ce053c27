#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/delivery/delivery.hpp"
#include "runnel/delivery/emitters.hpp"
#include "runnel/demand/exposure.hpp"
#include "runnel/demand/growth_stages.hpp"
#include "runnel/garden/watering_rules.hpp"
#include "runnel/schedule/timer.hpp"
#include "runnel/sky/site.hpp"
#include "runnel/units/display.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/quantity.hpp"
#include "runnel/weather/weather_csv.hpp"

namespace runnel {

/// What grows in a zone: a kind of planting or a crop by name, and what the gardener knows better
/// than the tables.
struct PlantsEntry {
  std::string name;      ///< "mixed shrubs", "tomato": a name of the plant tables
  bool is_crop = false;  ///< else a kind of planting
  std::optional<bool>
      dual;             ///< basal coefficient and evaporation apart (FAO-56 chapter 7), if stated
  std::string density;  ///< sparse, average or dense; landscape kinds only
  std::string water_need;       ///< very low, low, moderate or high; empty: the kind's usual factor
  std::optional<Date> planted;  ///< annual crops; else when young
  std::optional<Date> green_up;       ///< perennial crops: that day of every year
  std::optional<double> coefficient;  ///< in place of the table's, all year
  double times_coefficient = 1.0;     ///< on the tables' own; not of the file: for asking what if
  std::optional<StageValues> coefficients;    ///< likewise, a crop's; Kcb with the dual form
  std::optional<StageLengths> stages;         ///< likewise
  std::optional<double> root_depth_m;         ///< in place of the table's
  std::optional<double> root_ball_m;          ///< depth of the roots when planted
  std::optional<double> height_m;             ///< in place of the table's, full grown
  std::optional<double> cover;                ///< share of the ground under leaves
  std::optional<double> allowable_depletion;  ///< p, share of TAW, in place of the table's
  std::optional<int> wetted_every_days;  ///< single form: how often bare soil is wetted at first
  double wetting_mm = 15.0;              ///< and how deep each time
  Place at;
};

/// Pots, tubs, baskets: all alike.
struct ContainersEntry {
  int count;
  double volume_l;
  double mouth_diameter_m;
  std::optional<double> canopy_diameter_m;
  std::optional<double> height_m;
  std::string medium;                      ///< a name of the media table; empty with an own figure
  std::optional<double> easily_available;  ///< own figure: share of the medium's volume
  std::string placed;                      ///< a name of the pot place table
  double leaching_share;
  Place at;
};

/// A layer of soil, or a whole soil that is alike to any depth.
struct SoilLayerEntry {
  std::string texture;                                  ///< a name of the soil table
  std::optional<double> field_capacity, wilting_point;  ///< m3/m3, both or neither
  double stones = 0.0;                                  ///< share of the volume
  std::optional<double> depth_m;                        ///< how thick; none: deeper than roots go
};

/// The ground of a bed.
struct SoilEntry : SoilLayerEntry {         ///< as at the surface
  std::vector<SoilLayerEntry> layers = {};  ///< from the surface down; empty: alike throughout
  double slope_pct = 0.0;
  std::string cover;         ///< a name of the curve number table; empty: by the plants
  std::string mulch;         ///< what lies on the ground, a name of the mulch table; empty: nothing
  double mulch_cover = 1.0;  ///< share of the ground under it
  Place at;
};

/// When the sun was seen to shine on a zone, by the site's clock.
struct ObservedSun {
  std::vector<Window> hours;  ///< empty: at no time of the day
  std::optional<Date> on;     ///< nothing: midsummer of the hemisphere
  Place at;
};

/// How sun, sky and wind reach a zone, in one of four ways: a factor, words, hours of sun with the
/// rest of `geometry`, or `geometry` alone.
struct ExposureEntry {
  std::optional<double> factor;  ///< zone reference ET over open-ground ET
  std::string words;             ///< a name of the exposure table
  std::vector<ObservedSun> sun;  ///< from which the skyline is still to be found
  Exposure geometry{};           ///< as it stands: open ground
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

/// What brings the water, and what is known of how evenly.
struct EmittersEntry {
  EmitterSpec spec;
  std::string type;  ///< a name of the emitter table
  std::optional<double>
      uniformity;  ///< measured low-quarter uniformity, 0-1, in place of the table's
  std::optional<double> wetted_share = {};  ///< of a bed's root zone, in place of what soil and
                                            ///< spacing give
  Place at;
  EnoughFor enough_for = EnoughFor::driest_half;
  bool compensating = false;             ///< pressure does not change the flow
  std::optional<double> rated_kpa{};     ///< the pressure of the flow stated
  std::optional<double> pressure_kpa{};  ///< where the water enters the zone; else the supply's
  std::optional<double> variation{};     ///< Cv of the emitters as made
  int per_plant = 1;                     ///< emitters
  std::optional<LineEntry> line{};
};

/// A bed, or a group of pots, on one valve.
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
  ZoneWishes wishes = {};
  Place at;
};

/// Where a garden's weather stands, and what the files do not say of themselves.
struct WeatherFiles {
  std::string observed;  ///< as written, relative to the garden file
  std::optional<std::string> forecast;
  std::optional<std::string> record = {};  ///< past years
  WeatherLayout layout;
  Place observed_at, forecast_at, record_at = {};
  double wind_when_unknown_m_s = 2.0;  ///< FAO-56 chapter 3; not of the file: for asking what if
};

/// A garden file, read and found in order: units resolved, defaults applied, each default remarked.
struct Garden {
  std::string name;
  std::string file;
  std::string digest;  ///< of the file's text
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
  std::optional<std::string> log = {};  ///< water log, as written, relative to the garden file
  Place log_at = {};
  std::vector<WateringRule> rules = {};
  /// Dotted paths of all entries of the file, such as "zones.2.soil.slope", in order of the
  /// alphabet: what is not among them is taken by default.
  std::vector<std::string> written = {};
  Display display = {};  ///< of what is said about it; not of the file
};

/// Whether the garden file states the entry of that path.
[[nodiscard]] bool is_written(const Garden& garden, std::string_view path);

/// Reads a garden file (YAML). All findings at once, each with line and column; no value when one
/// is an error. Errors: YAML that does not parse or nests too deep, a key twice, an unknown key
/// (naming the nearest), a missing key, a value of the wrong kind, a unit missing, unknown or of
/// another dimension, a value out of range, an unknown plant, soil, medium or emitter type (naming
/// the nearest), an unknown time zone, a valve beyond the timer, one valve for two zones without
/// `shared valve: yes` in both, watering hours empty, wrong or overlapping, two zones of one name,
/// rules and wishes that leave a zone no hours, no day or no run.
/// @param name the file's name as the findings shall show it.
[[nodiscard]] Read<Garden> read_garden(std::string_view yaml, std::string_view name);

}  // namespace runnel

#include <doctest/doctest.h>

#include <algorithm>
#include <bitset>
#include <chrono>
#include <filesystem>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "runnel/garden/files.hpp"
#include "runnel/garden/garden.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/number.hpp"
#include "support/near.hpp"

using runnel::Dripline;
using runnel::Drippers;
using runnel::Finding;
using runnel::Garden;
using runnel::lower;
using runnel::MeasuredFlow;
using runnel::MeasuredRate;
using runnel::near;
using runnel::Read;
using runnel::read_garden;
using runnel::to_text;
using runnel::Zone;
using std::chrono::minutes;

namespace {

/// States everything: no default is taken, so nothing is remarked.
constexpr std::string_view whole_garden = R"(garden: Larkspur Terrace
site: {latitude: 38.72, longitude: -9.14, elevation: 95 m, timezone: Europe/Lisbon,
       setting: coast, air: dry}
weather:
  observed: weather.csv
  forecast: forecast.csv
  wind measured at: 10 m
  utc offset: "+01:00"
  hour label: ends
  columns: {tmax: "MX [degF]", rain: RR}
supply: {flow: 16 L/min, pressure: 2.8 bar}
timer:
  valves: 4
  starts per valve: 3
  minutes: {step: 5, least: 5, most: 120}
  days: [weekdays, every n days up to 14, odd/even dates]
  together: 2
  pause between valves: 1 min
  lengths: one for each start
  programmes: 2
  percentage: 120 %
watering hours: ["20:30-01:00", "04:30-08:00"]
zones:
  - name: terrace bed
    valve: 1
    area: 260 sq ft
    plants: {kind: mixed shrubs, density: dense, coefficient: 0.6, root depth: 18 in,
             allowable depletion: 40 %}
    exposure: {factor: 0.46}
    soil: {texture: sandy loam, slope: 3 %, field capacity: 0.24, wilting point: 0.11,
           mulch: {kind: Bark, cover: 80 %}}
    emitters: {type: dripline, flow: 2.1 L/h, spacing: 30 cm, rows: 40 cm, uniformity: 85 %}
    rain reaches: 60 %
    depletion: 12 mm
    hours: ["04:30-07:00", "23:00-24:00"]
    finish by: "07:00"
    not on: [Sat]
  - name: pots by the door
    valve: 3
    shared valve: yes
    containers: {count: 9, volume: 20 L, diameter: 32 cm, canopy: 45 cm, medium: peat mix,
                 leaching: 12 %}
    plants: {crop: tomato, planted: 2027-04-20}
    exposure: {factor: 1}
    emitters: {type: dripper, flow: 2 L/h, per container: 2, uniformity: 0.9}
    rain reaches: 100 %
  - name: strip
    valve: 3
    shared valve: yes
    area: 6 m2
    plants: {kind: annual flowers, density: average}
    exposure: {factor: 1}
    soil: {texture: loam, slope: 0 %}
    emitters: {type: spray, total flow: 12 L/min, uniformity: 65 %}
    rain reaches: 100 %
    evening: fine
  - name: corner
    valve: 4
    area: 6 m2
    plants: {kind: annual flowers, density: average}
    exposure: {factor: 1}
    soil: {texture: loam, slope: 0 %, mulch: wood chips}
    emitters: {type: spray, rate: 33 mm/h, uniformity: 65 %, wetted: 60 %}
    rain reaches: 100 %
rules:
  - days: [Wed, Sun]
    for: [terrace bed]
  - dates: odd
    for: corner
  - hours: ["18:00-10:00"]
    not between: ["00:15-00:30"]
  - most a day: 40 min
    most a week: 500 L
    for: sprays
  - {most a day: 60 L, most a week: 90 min, for: drip}
  - {not in wind above: 18 km/h, not below: 2 degC}
)";

/// Whatever can be left out is.
constexpr std::string_view short_garden = R"(garden: Backyard
site: {latitude: -34.93, longitude: 138.60, elevation: 50 m, timezone: Australia/Adelaide}
weather: {observed: w.csv}
watering hours: ["04:30-08:00"]
zones:
  - name: bed
    valve: 1
    area: 18 m2
    plants: {kind: mixed shrubs}
    soil: {texture: loam}
    emitters: {type: dripper, flow: 2 L/h, count: 24}
  - name: pots
    valve: 2
    containers: {count: 3, volume: 20 L, diameter: 32 cm, medium: peat mix}
    plants: {kind: annual flowers}
    emitters: {type: dripper, flow: 2 L/h, per container: 1}
)";

std::string all_text(const std::vector<Finding>& findings) {
  std::string text;
  for (const Finding& finding : findings) text += to_text(finding) + "\n";
  return text;
}

Garden garden_of(std::string_view yaml) {
  Read<Garden> read = read_garden(yaml, "g.yaml");
  CAPTURE(all_text(read.findings));
  REQUIRE(read.value);
  return *std::move(read.value);
}

/// The one finding that a file must give: "26:5 unknown key ...".
void check_only_finding(const std::string& yaml, const std::string& expected) {
  const Read<Garden> read = read_garden(yaml, "g.yaml");
  CAPTURE(all_text(read.findings));
  CAPTURE(expected);
  CHECK_FALSE(read.value);
  REQUIRE(read.findings.size() == 1);
  const Finding& finding = read.findings[0];
  CHECK(finding.kind == Finding::Kind::error);
  CHECK(finding.at.file == "g.yaml");
  const std::string got = std::to_string(finding.at.line) + ":" +
                          std::to_string(finding.at.column) + " " + finding.says;
  CAPTURE(got);
  const std::size_t blank = expected.find(' ');
  CHECK(got.substr(0, blank + 1) == expected.substr(0, blank + 1));
  CHECK(got.find(expected.substr(blank + 1)) != std::string::npos);
}

std::string replaced(std::string text, std::string_view from, std::string_view to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

std::vector<std::string> says_of_kind(const std::vector<Finding>& findings, Finding::Kind kind) {
  std::vector<std::string> says;
  for (const Finding& finding : findings) {
    if (finding.kind == kind) says.push_back(finding.says);
  }
  return says;
}

}  // namespace

TEST_SUITE("garden") {
  TEST_CASE("read garden - everything stated is taken and nothing remarked") {
    const Read<Garden> read = read_garden(whole_garden, "g.yaml");
    CHECK(all_text(read.findings) == "");
    REQUIRE(read.value);
    const Garden& garden = *read.value;
    CHECK(garden.name == "Larkspur Terrace");
    CHECK(garden.file == "g.yaml");
    CHECK(garden.site.latitude_deg == 38.72);
    CHECK(garden.site.longitude_deg == -9.14);
    CHECK(garden.site.elevation_m == 95.0);
    CHECK(garden.timezone == "Europe/Lisbon");
    CHECK(garden.coast);
    CHECK(garden.dry_air);
    CHECK(garden.weather.observed == "weather.csv");
    CHECK(garden.weather.forecast == "forecast.csv");
    CHECK(garden.weather.observed_at.line == 5);
    CHECK(garden.weather.forecast_at.line == 6);
    CHECK(garden.weather.layout.wind_height_m == 10.0);
    CHECK(garden.weather.layout.utc_offset == minutes(60));
    CHECK(garden.weather.layout.hour_label_is_end);
    REQUIRE(garden.weather.layout.columns.size() == 2);
    CHECK(garden.weather.layout.columns.at("tmax") == "MX [degF]");
    CHECK(garden.weather.layout.columns.at("rain") == "RR");
    REQUIRE(garden.supply_flow);
    CHECK(garden.supply_flow->litres_per_hour() == near(960.0, 1e-9));
    CHECK(garden.supply_pressure_kpa.value_or(0.0) == near(280.0, 1e-9));
  }

  TEST_CASE("read garden - timer and watering hours") {
    const Garden garden = garden_of(whole_garden);
    CHECK(garden.timer.valves == 4);
    CHECK(garden.timer.starts_per_valve == 3);
    CHECK(garden.timer.minutes_step == 5);
    CHECK(garden.timer.minutes_least == 5);
    CHECK(garden.timer.minutes_most == 120);
    CHECK(garden.timer.weekdays);
    CHECK(garden.timer.every_n_days == 14);
    CHECK(garden.timer.odd_even);
    CHECK(garden.timer.together == 2);
    CHECK(garden.timer.pause_minutes == 1);
    CHECK(garden.timer.length_per_start);
    CHECK(garden.timer.programmes == 2);
    CHECK(garden.timer.percentage == 120);
    CHECK(garden.timer.minutes_choices.empty());
    CHECK(garden.timer.repeat_hours.empty());
    // In order of time; past midnight the day goes on.
    REQUIRE(garden.watering_hours.size() == 2);
    CHECK(garden.watering_hours[0].opens == minutes(4 * 60 + 30));
    CHECK(garden.watering_hours[0].closes == minutes(8 * 60));
    CHECK(garden.watering_hours[1].opens == minutes(20 * 60 + 30));
    CHECK(garden.watering_hours[1].closes == minutes(25 * 60));
  }

  TEST_CASE("read garden - chosen lengths and an interval") {
    std::string yaml = replaced(std::string(whole_garden), "{step: 5, least: 5, most: 120}",
                                "{choices: [5, 10, 45]}");
    CHECK(garden_of(yaml).timer.minutes_choices == std::vector<int>{5, 10, 45});
    CHECK(run_lengths(garden_of(yaml).timer).back().runs == minutes(54));  // 45 x 120 %
    yaml = replaced(yaml, "  starts per valve: 3\n", "");
    yaml = replaced(yaml, "one for each start\n  programmes: 2\n",
                    "one for all starts\n  repeats: [6 h, 8 h, 720 min]\n");
    const runnel::Timer timer = garden_of(yaml).timer;
    CHECK_FALSE(timer.length_per_start);
    CHECK(timer.repeat_hours == std::vector<int>{6, 8, 12});
    CHECK(timer.starts_per_valve == 4);  // every 6 hours
  }

  TEST_CASE("read garden - a zone's wishes") {
    const Garden garden = garden_of(whole_garden);
    const runnel::ZoneWishes& wishes = garden.zones[0].wishes;
    REQUIRE(wishes.hours.size() == 2);
    CHECK(wishes.hours[0].closes == minutes(7 * 60));
    CHECK(wishes.hours[1].opens == minutes(23 * 60));
    CHECK(wishes.finish_by == minutes(7 * 60));
    CHECK(wishes.not_on == std::bitset<7>{0b0100000});  // Saturday
    CHECK_FALSE(wishes.evening_fine);
    CHECK(garden.zones[2].wishes.evening_fine);
    CHECK(garden.zones[1].wishes.hours.empty());
    CHECK_FALSE(garden.zones[1].wishes.finish_by);
  }

  TEST_CASE("read garden - rules and whom they are for") {
    const std::vector<runnel::WateringRule> rules = garden_of(whole_garden).rules;
    REQUIRE(rules.size() == 6);
    CHECK(rules[0].days == std::bitset<7>{0b1000100});  // Wednesday and Sunday
    CHECK(rules[0].zones == std::vector<std::size_t>{0});
    CHECK(rules[1].odd_dates == true);
    CHECK(rules[1].zones == std::vector<std::size_t>{3});
    REQUIRE(rules[2].hours.size() == 1);
    CHECK(rules[2].hours[0].closes == minutes(34 * 60));
    REQUIRE(rules[2].not_between.size() == 1);
    CHECK(rules[2].not_between[0].opens == minutes(15));
    CHECK(rules[2].zones == std::vector<std::size_t>{0, 1, 2, 3});
    CHECK(rules[3].most_minutes_a_day == 40);
    CHECK(rules[3].most_litres_a_week == 500.0);
    CHECK_FALSE(rules[3].most_litres_a_day);
    CHECK(rules[3].zones == std::vector<std::size_t>{2, 3});
    CHECK(rules[4].most_litres_a_day == 60.0);
    CHECK(rules[4].most_minutes_a_week == 90);
    CHECK(rules[4].zones == std::vector<std::size_t>{0, 1});
    CHECK(rules[5].not_in_wind_above_m_s.value_or(0.0) == near(5.0, 1e-9));
    CHECK(rules[5].not_below_c == 2.0);
    CHECK_FALSE(rules[5].odd_dates);
  }

  TEST_CASE("read garden - a rule for sprays where there are none is doubted") {
    const Read<Garden> read = read_garden(
        std::string(short_garden) + "rules:\n  - {dates: even, for: sprays}\n", "g.yaml");
    REQUIRE(read.value);
    CHECK(read.value->rules.at(0).zones.empty());
    CHECK(all_text(read.findings)
              .find("g.yaml:18:24: doubt: rules.1.for: no zone is watered from above") !=
          std::string::npos);
  }

  TEST_CASE("read garden - a bed") {
    const Garden garden = garden_of(whole_garden);
    REQUIRE(garden.zones.size() == 4);
    const Zone& bed = garden.zones[0];
    CHECK(bed.name == "terrace bed");
    CHECK(bed.valve == 1);
    CHECK_FALSE(bed.shared_valve);
    REQUIRE(bed.area);
    CHECK(bed.area->m2() == near(24.1548, 1e-4));  // 260 x 0.3048^2
    CHECK_FALSE(bed.containers);
    CHECK(bed.plants.name == "mixed shrubs");
    CHECK(bed.plants.density == "dense");
    CHECK(bed.plants.coefficient == 0.6);
    CHECK(bed.plants.root_depth_m.value_or(0.0) == near(0.4572, 1e-9));
    CHECK(bed.plants.allowable_depletion.value_or(0.0) == near(0.4, 1e-9));
    CHECK(bed.exposure.factor == 0.46);
    REQUIRE(bed.soil);
    CHECK(bed.soil->texture == "sandy loam");
    CHECK(bed.soil->slope_pct == near(3.0, 1e-9));
    CHECK(bed.soil->field_capacity == 0.24);
    CHECK(bed.soil->wilting_point == 0.11);
    CHECK(lower(bed.soil->mulch) == "bark");
    CHECK(bed.soil->mulch_cover == near(0.8, 1e-12));
    CHECK_FALSE(bed.emitters.wetted_share);
    CHECK(bed.emitters.type == "dripline");
    CHECK(bed.emitters.uniformity.value_or(0.0) == near(0.85, 1e-9));
    const auto* line = std::get_if<Dripline>(&bed.emitters.spec);
    REQUIRE(line != nullptr);
    CHECK(line->each.litres_per_hour() == 2.1);
    CHECK(line->spacing_m == near(0.3, 1e-9));
    CHECK(line->row_spacing_m == near(0.4, 1e-9));
    CHECK(bed.rain_reaches == near(0.6, 1e-9));
    CHECK(bed.depletion_mm == 12.0);
    CHECK(bed.at.line == 24);
    CHECK(bed.plants.at.line == 27);
  }

  TEST_CASE("read garden - containers and the other ways of stating a flow") {
    const Garden garden = garden_of(whole_garden);
    const Zone& pots = garden.zones[1];
    REQUIRE(pots.containers);
    CHECK_FALSE(pots.area);
    CHECK_FALSE(pots.soil);
    CHECK(pots.shared_valve);
    CHECK(pots.containers->count == 9);
    CHECK(pots.containers->volume_l == 20.0);
    CHECK(pots.containers->mouth_diameter_m == near(0.32, 1e-9));
    CHECK(pots.containers->canopy_diameter_m.value_or(0.0) == near(0.45, 1e-9));
    CHECK(pots.containers->medium == "peat mix");
    CHECK(pots.containers->leaching_share == near(0.12, 1e-9));
    CHECK(pots.plants.name == "tomato");
    CHECK(pots.plants.planted == runnel::parse_date("2027-04-20"));
    const auto* drippers = std::get_if<Drippers>(&pots.emitters.spec);
    REQUIRE(drippers != nullptr);
    CHECK(drippers->count == 18);
    const auto* flow = std::get_if<MeasuredFlow>(&garden.zones[2].emitters.spec);
    REQUIRE(flow != nullptr);
    CHECK(flow->total.litres_per_hour() == near(720.0, 1e-9));
    const auto* rate = std::get_if<MeasuredRate>(&garden.zones[3].emitters.spec);
    REQUIRE(rate != nullptr);
    CHECK(rate->rate.mm_per_hour() == 33.0);
    CHECK(garden.zones[3].emitters.wetted_share == 0.6);
    CHECK(garden.zones[3].soil->mulch == "wood chips");
    CHECK(garden.zones[3].soil->mulch_cover == 1.0);
    CHECK(garden.zones[2].soil->mulch.empty());
  }

  TEST_CASE("read garden - own medium, height and place of pots") {
    const Garden garden =
        garden_of(replaced(std::string(whole_garden), "medium: peat mix",
                           "height: 27 cm, medium: {easily available: 22 %}, placed: Hanging"));
    REQUIRE(garden.zones[1].containers);
    const runnel::ContainersEntry& pots = *garden.zones[1].containers;
    CHECK(pots.height_m.value_or(0.0) == near(0.27, 1e-12));
    CHECK(pots.medium.empty());
    CHECK(pots.easily_available.value_or(0.0) == near(0.22, 1e-12));
    CHECK(pots.placed == "hanging");
  }

  TEST_CASE("read garden - layers of soil") {
    const Garden garden = garden_of(
        replaced(std::string(whole_garden),
                 "texture: sandy loam, slope: 3 %, field capacity: 0.24, wilting point: 0.11",
                 "slope: 3 %, cover: mulch, layers: [{texture: loam, depth: 20 cm, stones: 10 %}, "
                 "{texture: clay, "
                 "depth: 60 cm, field capacity: 0.4, wilting point: 0.2}]"));
    REQUIRE(garden.zones[0].soil);
    const runnel::SoilEntry& soil = *garden.zones[0].soil;
    REQUIRE(soil.layers.size() == 2);
    CHECK(soil.texture == "loam");
    CHECK(soil.cover == "mulch");
    CHECK(soil.layers[0].depth_m.value_or(0.0) == near(0.2, 1e-12));
    CHECK(soil.layers[0].stones == near(0.1, 1e-12));
    CHECK(soil.layers[1].texture == "clay");
    CHECK(soil.layers[1].field_capacity == 0.4);
  }

  TEST_CASE("read garden - each default is remarked where it is missing") {
    const Read<Garden> read = read_garden(short_garden, "g.yaml");
    REQUIRE(read.value);
    CHECK(all_text(read.findings) ==
          R"(g.yaml:1:1: remark: supply: not stated: the supply is taken to feed every zone
g.yaml:1:1: remark: timer: not stated: a timer of 6 valves, each with 4 starts a day, runs of 1 to 240 minutes in steps of 1, on chosen days of the week
g.yaml:2:1: remark: site.setting: not stated: setting inland, unless measured days show it (matters where radiation is not measured)
g.yaml:2:1: remark: site.air: not stated: air humid, unless measured days show it (matters where humidity is not measured)
g.yaml:3:1: remark: weather.wind measured at: not stated: wind measured at 2 m
g.yaml:6:5: remark: zones.1.exposure: not stated: open to the sky all day: exposure factor 1
g.yaml:6:5: remark: zones.1.rain reaches: not stated: all rain reaches the zone
g.yaml:9:5: remark: zones.1.plants.density: not stated: planted at average density
g.yaml:10:5: remark: zones.1.soil.slope: not stated: level ground
g.yaml:11:5: remark: zones.1.emitters.uniformity: not stated: the uniformity usual for this type of emitter
g.yaml:12:5: remark: zones.2.exposure: not stated: open to the sky all day: exposure factor 1
g.yaml:12:5: remark: zones.2.rain reaches: not stated: all rain reaches the zone
g.yaml:14:5: remark: zones.2.containers.leaching: not stated: a leaching share of 10 %
g.yaml:15:5: remark: zones.2.plants.density: not stated: planted at average density
g.yaml:16:5: remark: zones.2.emitters.uniformity: not stated: the uniformity usual for this type of emitter
)");
    const Garden& garden = *read.value;
    CHECK(garden.timer.valves == 6);
    CHECK(garden.timer.weekdays);
    CHECK(garden.timer.every_n_days == 0);
    CHECK_FALSE(garden.coast);
    CHECK_FALSE(garden.dry_air);
    CHECK_FALSE(garden.supply_flow);
    // Hourly rows keep the zone's standard time, here in the middle of its winter.
    CHECK(garden.weather.layout.utc_offset == minutes(9 * 60 + 30));
    CHECK_FALSE(garden.zones[0].exposure.factor);
    CHECK(is_open(garden.zones[0].exposure.geometry));
    CHECK(garden.zones[0].plants.density == "average");
    CHECK(garden.zones[0].rain_reaches == 1.0);
    CHECK_FALSE(garden.zones[0].depletion_mm);
    CHECK_FALSE(garden.zones[1].containers->canopy_diameter_m);
    CHECK(garden.zones[1].containers->leaching_share == 0.1);
  }

  TEST_CASE("read garden - one fault in a file gives one error at its place") {
    const std::filesystem::path folder = RUNNEL_SOURCE_DIR "/tests/garden/bad";
    constexpr std::string_view start = "# expected: ";
    int files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
      const std::string name = entry.path().filename().string();
      CAPTURE(name);
      const std::string yaml = runnel::read_file(entry.path().string());
      const std::string first = yaml.substr(0, yaml.find('\n'));
      REQUIRE(first.starts_with(start));
      check_only_finding(yaml, first.substr(start.size()));
      ++files;
    }
    CHECK(files >= 244);
  }

  TEST_CASE("read garden - what is no garden file at all") {
    check_only_finding("", "1:1 the file is empty");
    check_only_finding("# nothing\n", "1:1 the file is empty");
    check_only_finding("- a\n- b\n", "1:1 a garden file holds entries");
    check_only_finding("just text\n", "1:1 a garden file holds entries");
    check_only_finding(std::string("garden: a\0b", 11), "1:10 this is no text in UTF-8");
    check_only_finding("garden: \xC3\x28\n", "1:9 this is no text in UTF-8");
    check_only_finding("garden:\tx\n\ty: 1\n", "2:1 a tab in the indentation");
    // Levels as the parser counts them: it takes an open bracket for the key of a map, too.
    check_only_finding(std::string(100'000, '['), "1:33 the file nests too deep");
    std::string braces;
    for (int i = 0; i < 100'000; ++i) braces += "{a: ";
    check_only_finding(braces, "1:253 the file nests too deep");
    std::string dashes;
    for (int i = 0; i < 100'000; ++i) dashes += "- ";
    check_only_finding(dashes, "1:129 the file nests too deep");
  }

  TEST_CASE("read garden - a bomb of references is one error beside what is missing") {
    std::string bomb = "a0: &a0 [x, x]\n";
    for (int i = 1; i < 30; ++i) {
      const std::string last = "*a" + std::to_string(i - 1);
      bomb +=
          "a" + std::to_string(i) + ": &a" + std::to_string(i) + " [" + last + ", " + last + "]\n";
    }
    const Read<Garden> read = read_garden(bomb + std::string(whole_garden), "g.yaml");
    CHECK_FALSE(read.value);
    const auto says = says_of_kind(read.findings, Finding::Kind::error);
    CHECK(std::count_if(says.begin(), says.end(), [](const std::string& text) {
            return text.starts_with("parts of the file that are named");
          }) == 1);
  }

  TEST_CASE("read garden - several faults come at once, in order, without echoes") {
    std::string yaml(whole_garden);
    yaml = replaced(yaml, "latitude: 38.72", "latitude: 138.72");
    yaml = replaced(yaml, "Europe/Lisbon", "Europe/Lisboa");
    yaml = replaced(yaml, "valves: 4", "valves: four");
    yaml = replaced(yaml, "valve: 1\n", "valve: 99\n");
    yaml = replaced(yaml, "260 sq ft", "260");
    yaml = replaced(yaml, "kind: mixed shrubs", "kin: mixed shrubs");
    yaml = replaced(yaml, "count: 9", "count: none");
    const Read<Garden> read = read_garden(yaml, "g.yaml");
    CHECK_FALSE(read.value);
    std::vector<std::pair<int, int>> places;
    for (const Finding& finding : read.findings) {
      places.emplace_back(finding.at.line, finding.at.column);
    }
    CAPTURE(all_text(read.findings));
    CHECK(std::is_sorted(places.begin(), places.end()));
    const std::vector<std::pair<int, int>> expected = {{2, 18},  {2, 71},  {13, 11},
                                                       {26, 11}, {27, 14}, {41, 25}};
    CHECK(places == expected);
  }

  TEST_CASE("read garden - an odd exposure factor is doubted, not refused") {
    const Read<Garden> read =
        read_garden(replaced(std::string(whole_garden), "factor: 0.46", "factor: 0.3"), "g.yaml");
    CHECK(read.value);
    REQUIRE(read.findings.size() == 1);
    CHECK(read.findings[0].kind == Finding::Kind::doubt);
    CHECK(read.findings[0].at.line == 29);
  }

  TEST_CASE("read garden - a file of nothing but faults stays readable") {
    std::string yaml;
    for (int i = 0; i < 20'000; ++i) yaml += "k" + std::to_string(i) + ": 1\n";
    const Read<Garden> read = read_garden(yaml, "g.yaml");
    CHECK_FALSE(read.value);
    CHECK(says_of_kind(read.findings, Finding::Kind::error).size() == 100);
  }

  TEST_CASE("read garden - the user's own text cannot command the terminal") {
    const Read<Garden> read = read_garden("\"\\e[31mgarden\": x\nsite: \"\\e[2J\"\n", "g.yaml");
    CHECK_FALSE(read.value);
    CHECK(all_text(read.findings).find('\x1b') == std::string::npos);
  }
}

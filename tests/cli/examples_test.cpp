// The gardens of examples/: each is sound, its own commands run, and it shows what it is there for.
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "desk.hpp"
#include "runnel/units/calendar.hpp"

namespace runnel {
namespace {

/// A copy of examples/ in a folder of its own.
class Gallery : public Desk {
 public:
  Gallery() {
    fs::copy(fs::path(RUNNEL_SOURCE_DIR) / "examples", path("examples"),
             fs::copy_options::recursive);
  }
  [[nodiscard]] std::vector<std::string> gardens() const {
    std::vector<std::string> found;
    for (const auto& entry : fs::recursive_directory_iterator(path("examples")))
      if (entry.path().extension() == ".yaml")
        found.push_back(fs::relative(entry.path(), path("")).string());
    return found;
  }
  [[nodiscard]] YAML::Node planned(const std::string& garden) const {
    const Result result = run("runnel plan examples/" + garden + "/garden.yaml --format json");
    CHECK_MESSAGE(result.exit == 0, result.err);
    YAML::Node json = YAML::Load(result.out);
    CHECK(json["unharmed"].as<bool>());
    return json;
  }
};

/// "# Try: runnel ..." and the lines like it below; what stands two blanks further is a remark.
std::vector<std::string> own_commands(const std::string& garden) {
  static const std::regex command("#(?: Try:|     ) (runnel .*?)(?:  .*)?");
  std::vector<std::string> commands;
  for (const std::string& line : lines_of(garden)) {
    std::smatch found;
    if (std::regex_match(line, found, command)) commands.push_back(found[1]);
  }
  return commands;
}

/// One opening of a valve; minutes from the plan's first midnight.
struct Run {
  int valve, day, starts_min, ends_min;
  [[nodiscard]] int of_day_min() const { return starts_min - day * 1440; }
};

std::vector<Run> runs_of(const YAML::Node& json) {
  const Date first = *parse_date(json["from"].as<std::string>());
  std::vector<Run> runs;
  for (const YAML::Node& run : json["runs"]) {
    const int day = static_cast<int>((*parse_date(run["date"].as<std::string>()) - first).count());
    const int starts =
        day * 1440 + static_cast<int>(parse_clock(run["start"].as<std::string>())->count());
    runs.push_back({.valve = run["valve"].as<int>(),
                    .day = day,
                    .starts_min = starts,
                    .ends_min = starts + run["run_min"].as<int>()});
  }
  return runs;
}

std::vector<Run> of_valve(const std::vector<Run>& runs, int valve) {
  std::vector<Run> own;
  std::copy_if(runs.begin(), runs.end(), std::back_inserter(own),
               [&](const Run& run) { return run.valve == valve; });
  return own;
}

YAML::Node zone_named(const YAML::Node& json, const std::string& name) {
  for (const YAML::Node& zone : json["zones"])
    if (zone["zone"].as<std::string>() == name) return zone;
  FAIL("no zone " << name);
  return {};
}

double figure(const YAML::Node& json, const std::string& zone, const std::string& key) {
  return zone_named(json, zone)[key].as<double>();
}

bool within(const Run& run, int opens_min, int closes_min) {
  return run.of_day_min() >= opens_min &&
         run.of_day_min() + run.ends_min - run.starts_min <= closes_min;
}

constexpr int hour = 60;

}  // namespace

TEST_SUITE("cli") {
  TEST_CASE("examples - each garden passes check and its own commands run") {
    const Gallery gallery;
    const std::string list = gallery.text("examples/README.md");
    const std::vector<std::string> gardens = gallery.gardens();
    CHECK(gardens.size() >= 8);
    for (const std::string& garden : gardens) {
      CAPTURE(garden);
      const Result check = gallery.run("runnel check " + garden);
      CHECK(check.exit == 0);
      CHECK_MESSAGE(has(check.out, "\n0 errors, "), check.out);
      CHECK(has(list, garden.substr(std::string("examples/").size())));
      const std::vector<std::string> commands = own_commands(gallery.text(garden));
      CHECK_FALSE(commands.empty());
      for (const std::string& command : commands) {
        CAPTURE(command);
        const Result result = gallery.run(command);
        CHECK(result.exit == (has(garden, "short-morning") || has(garden, "away") ? 1 : 0));
        CHECK_FALSE(has(result.err, ": error:"));
      }
    }
  }

  // Clay under sprays takes in 0.1 in/h and holds 0.15 in on a slope of 4-6 % (Irrigation
  // Association 2005, data/intake.csv); the heads bring 28.8 L/min on 42 m2, 41.1 mm/h.
  TEST_CASE("examples - the lawn on clay is watered in cycles within rules, hours and wind") {
    const double rate = 28.8 * 60.0 / 42.0;
    const double intake = 2.54;
    const double storage = 3.81;
    const Gallery gallery;
    const std::vector<Run> runs = runs_of(gallery.planned("lawn"));
    const std::vector<Run> slope = of_valve(runs, 1);
    REQUIRE(slope.size() > 3);
    int cycles = 0;
    std::map<int, int> minutes_a_day;
    for (std::size_t i = 0; i < slope.size(); ++i) {
      const int length = slope[i].ends_min - slope[i].starts_min;
      minutes_a_day[slope[i].day] += length;
      CHECK(length <= 60.0 * storage / (rate - intake));
      if (i == 0 || slope[i].day != slope[i - 1].day) continue;
      ++cycles;
      CHECK(slope[i].starts_min - slope[i - 1].ends_min >= length * (rate - intake) / intake);
    }
    CHECK(cycles >= 2);
    for (const auto& [day, minutes] : minutes_a_day) CHECK(minutes <= 60);
    const std::set<int> allowed{0, 2, 5};  // Mon, Wed, Sat: Friday has 6.4 m/s
    for (const Run& run : runs) {
      if (run.valve <= 2) CHECK(allowed.count(run.day) == 1);
      CHECK((within(run, 3 * hour, 8 * hour) || within(run, 20 * hour, 23 * hour)));
    }
  }

  TEST_CASE("examples - the rule on wind goes by the forecast") {
    const Gallery gallery;
    const std::string err = gallery.run("runnel plan examples/lawn/garden.yaml").err;
    CHECK(has(err, "mean wind of 6.4 m/s at 2 m on Fri 23 Jul"));
    gallery.replace("examples/lawn/forecast.csv", ",6.4,", ",2.4,");
    CHECK_FALSE(has(gallery.run("runnel plan examples/lawn/garden.yaml").err, "mean wind"));
  }

  // South Australia puts the clock forward on the first Sunday of October (tz database).
  TEST_CASE("examples - the southern orchard has seasons, clock and futures of its own") {
    const Gallery gallery;
    const std::string plan = "runnel plan examples/orchard/garden.yaml";
    CHECK(has(gallery.run(plan).err, "the clocks change on 2027-10-03"));
    const YAML::Node json = gallery.planned("orchard");
    CHECK(json["weather_sum"]["futures"].as<int>() == 64);
    for (const Run& run : runs_of(json))
      CHECK((within(run, 4 * hour, 7 * hour + 30) || within(run, 20 * hour, 23 * hour + 30)));
    const double early = figure(json, "plums", "demand_mm");
    gallery.replace("examples/orchard/garden.yaml", "green-up: 2027-08-28", "green-up: 2027-09-26");
    CHECK(figure(gallery.planned("orchard"), "plums", "demand_mm") < 0.9 * early);
    gallery.replace("examples/orchard/garden.yaml", "  record: past-springs.csv\n", "");
    const Result alone = gallery.run(plan + " --format json");
    CHECK(YAML::Load(alone.out)["weather_sum"]["futures"].as<int>() == 1);
  }

  TEST_CASE("examples - sowings of one crop differ and straw saves evaporation") {
    const Gallery gallery;
    const YAML::Node json = gallery.planned("vegetables");
    const auto wet_share = [&json](const std::string& zone) {
      return figure(json, zone, "evaporated_mm") / figure(json, zone, "demand_mm");
    };
    CHECK(figure(json, "lettuce of May", "demand_mm") >
          figure(json, "lettuce of late May", "demand_mm"));
    CHECK(figure(json, "lettuce of late May", "demand_mm") >
          figure(json, "lettuce of June", "demand_mm"));
    CHECK(wet_share("lettuce of June") > wet_share("lettuce of May"));
    for (const char* sowing : {"lettuce of late May", "lettuce of June"})
      CHECK(zone_named(json, sowing)["set"]["minutes"].as<std::string>() ==
            zone_named(json, "lettuce of May")["set"]["minutes"].as<std::string>());
    const double with_straw = figure(json, "tomatoes under straw", "evaporated_mm");
    gallery.replace("examples/vegetables/garden.yaml", ", mulch: {kind: straw, cover: 80 %}", "");
    CHECK(figure(gallery.planned("vegetables"), "tomatoes under straw", "evaporated_mm") >
          1.3 * with_straw);
  }

  TEST_CASE("examples - forty zones share three valves at once and one main") {
    const Gallery gallery;
    const YAML::Node json = gallery.planned("park");
    REQUIRE(json["zones"].size() == 40);
    CHECK(json["shortfalls"].size() == 0);
    std::map<int, double> l_min;  // of each valve: its litres over its minutes
    const std::vector<Run> runs = runs_of(json);
    for (const YAML::Node& zone : json["zones"]) {
      const int valve = zone["valve"].as<int>();
      int minutes = 0;
      for (const Run& run : of_valve(runs, valve)) minutes += run.ends_min - run.starts_min;
      REQUIRE(minutes > 0);
      l_min[valve] = zone["litres"].as<double>() / minutes;
    }
    std::map<int, std::vector<int>> open;  // valves by minute
    for (const Run& run : runs) {
      CHECK((within(run, 0, 9 * hour) || within(run, 21 * hour, 24 * hour)));
      if (run.valve <= 18) CHECK(run.day != 6);  // no sprinkler on Sunday
      for (int minute = run.starts_min; minute < run.ends_min; ++minute)
        open[minute].push_back(run.valve);
    }
    std::size_t most = 0;
    for (const auto& [minute, valves] : open) {
      most = std::max(most, valves.size());
      double flow = 0.0;
      for (const int valve : valves) flow += l_min.at(valve);
      CHECK(flow <= 75.0 * 3.785411784 + 0.1);  // 75 gpm
    }
    CHECK(most >= 2);
    CHECK(most <= 3);
  }
}

}  // namespace runnel

// The middle of a week through the program: what to change, what to leave, and what is written.
#include <doctest/doctest.h>

#include <cstdlib>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "folder.hpp"

namespace runnel {
namespace {

constexpr const char* replan = "replan garden.yaml --after w1.yaml --save mid.yaml";

/// So many days of the forecast have come true, from the `first` on (0: the 13th).
void live(const Folder& folder, int first, int days) {
  const std::string forecast = folder.text("forecast.csv");
  std::size_t begin = forecast.find("\n2026") + 1;
  for (int day = 0; day < first; ++day) begin = forecast.find('\n', begin) + 1;
  std::size_t end = begin;
  for (int day = 0; day < days; ++day) end = forecast.find('\n', end) + 1;
  folder.write("weather.csv", folder.text("weather.csv") + forecast.substr(begin, end - begin));
}

void live_three_days(const Folder& folder) {
  REQUIRE(folder.run("plan garden.yaml --save w1.yaml").exit == 0);
  live(folder, 0, 3);
}

/// Cells of CSV rows by the header's names; no quoted commas.
std::vector<std::map<std::string, std::string>> rows_of(const std::string& csv) {
  std::istringstream lines(csv);
  const auto cells = [](const std::string& line) {
    std::vector<std::string> all;
    std::istringstream in(line);
    for (std::string cell; std::getline(in, cell, ',');) all.push_back(cell);
    return all;
  };
  std::string line;
  std::getline(lines, line);
  const std::vector<std::string> names = cells(line);
  std::vector<std::map<std::string, std::string>> rows;
  while (std::getline(lines, line)) {
    const std::vector<std::string> row = cells(line);
    REQUIRE(row.size() == names.size());
    rows.emplace_back();
    for (std::size_t i = 0; i < row.size(); ++i) rows.back()[names[i]] = row[i];
  }
  return rows;
}

/// Runs a shell command elsewhere; what it prints goes through the folder.
Result run_in(const std::string& where, const std::string& command, const Folder& folder) {
  const std::string whole = "cd " + where + " && " + command + " >'" + folder.path(".out") +
                            "' 2>'" + folder.path(".err") + "' </dev/null";
  const int status = std::system(whole.c_str());  // NOLINT: the tests' own words
  return {.exit = WEXITSTATUS(status), .out = folder.text(".out"), .err = folder.text(".err")};
}

double number(const std::map<std::string, std::string>& row, const std::string& name) {
  return std::stod(row.at(name));
}

/// Depletion on the first morning of the plan that follows, by zone.
std::vector<double> starts_after(const Folder& folder, const std::string& args) {
  std::vector<double> starts;
  for (const auto& row : rows_of(folder.run("plan garden.yaml --format csv " + args).out))
    starts.push_back(number(row, "start_depletion_mm"));
  return starts;
}

}  // namespace

TEST_SUITE("cli") {
  TEST_CASE("replan - a week as expected is left as it is, in shade too") {
    const Folder folder;
    folder.replace("garden.yaml", "{factor: 0.46}",
                   "{direct sun: \"07:00-10:00\", observed: 2026-07-05, sky: 50 %, wind: 60 %}");
    live_three_days(folder);
    const Result result = folder.run(replan);
    CAPTURE(result.out);
    CAPTURE(result.err);
    CHECK(result.exit == 0);
    CHECK(has(result.out, "RUN ONCE BY HAND, before Thu 16 Jul\n  Nothing.\n"));
    CHECK(has(result.out, "LEAVE AS IS\n  valve 1, terrace bed\n"));
    CHECK(has(result.out, "\n  valve 2, wall border\n"));
    CHECK(has(result.out, "HOW THE DAYS SINCE THE PLAN BEFORE WENT"));
    CHECK(has(folder.text("mid.yaml"), "from: 2026-07-16\n"));
    std::istringstream shown(result.out);
    for (std::string line; std::getline(shown, line);) CHECK_MESSAGE(line.size() <= 80, line);

    const auto rows = rows_of(folder.run("replan garden.yaml --after w1.yaml --format csv").out);
    REQUIRE(rows.size() == 3);
    for (const auto& row : rows) {
      CAPTURE(row.at("zone"));
      CHECK(number(row, "depletion_mm") ==
            doctest::Approx(number(row, "expected_mm")).epsilon(1e-9));
      CHECK(row.at("days_beyond_if_left") == "0");
      // Of the pots' 23 minutes one less does: 5 % of their water, more than a setting costs.
      CHECK(row.at("settings_changed") == (row.at("valve") == "3" ? "1" : "0"));
    }
    const Result json = folder.run("replan garden.yaml --after w1.yaml --format json");
    CHECK(has(json.out, "\"assumed_eto_mm\": "));
    CHECK(has(json.out, "\"why\": \"As set, it stays within its limit of "));
  }

  // The week worked by hand (data/docs/method.md): 17.5 mm/h, 1.099 times as much for uneven
  // watering; Thursday uses 8.26 x 0.98 x 0.50 = 4.05 mm.
  TEST_CASE("replan - a watering cut short is made good by hand and counted once") {
    const Folder folder;
    folder.replace("garden.yaml", "supply:", "log: water-log.csv\nsupply:");
    live_three_days(folder);
    folder.write("water-log.csv",
                 "date,zone,what,amount,note\n2026-07-15,terrace bed,ran,50 min,\n");
    const Result result = folder.run(replan);
    CAPTURE(result.out);
    CAPTURE(result.err);
    CHECK(result.exit == 0);
    CHECK(has(result.out, "RUN ONCE BY HAND, before Thu 16 Jul\n  valve 1, terrace bed: "));
    const auto rows = rows_of(folder.run("replan garden.yaml --after w1.yaml --format csv").out);
    const double minutes = number(rows[0], "by_hand_min");
    CHECK(minutes > 0.0);
    CHECK(rows[0].at("settings_changed") == "0");
    CHECK(rows[0].at("days_beyond_if_left") == "2");
    CHECK(rows[0].at("days_beyond") == "0");
    const std::string entry =
        "by hand:\n  - {date: 2026-07-16, valve: 1, minutes: " + rows[0].at("by_hand_min") +
        "}\nzones:";
    CHECK(has(folder.text("mid.yaml"), entry));

    // Looked at again before Thursday is over, and after it.
    const Result again =
        folder.run("replan garden.yaml --after mid.yaml --from 2026-07-16 --save again.yaml");
    CHECK(again.exit == 0);
    CHECK(has(again.out, "As the plan before said already: not once more."));
    CHECK(has(folder.text("again.yaml"), entry));
    live(folder, 3, 1);
    for (const char* after : {"--after mid.yaml", "--after again.yaml"}) {
      const std::vector<double> starts = starts_after(folder, after);
      CHECK(starts[0] ==
            doctest::Approx(number(rows[0], "depletion_mm") + 4.05 - minutes * 17.5 / 60.0 / 1.099)
                .epsilon(0.002));
    }
    const Result next = folder.run("replan garden.yaml --after mid.yaml");
    CAPTURE(next.out);
    CHECK(next.exit == 0);
    CHECK(has(next.out, "CHANGE ON THE TIMER\n  Nothing.\n"));
    CHECK(has(next.out, "RUN ONCE BY HAND, before Fri 17 Jul\n  Nothing.\n"));
  }

  // On Monday the bed would need the morning of the border and move the pots', three starts more.
  TEST_CASE("replan - new days for one valve move no other's start") {
    const Folder folder;
    folder.replace("garden.yaml", "supply:", "log: water-log.csv\nsupply:");
    live_three_days(folder);
    folder.write("water-log.csv",
                 "date,zone,what,amount,note\n2026-07-15,terrace bed,ran,40 min,\n");
    const auto rows = rows_of(folder.run("replan garden.yaml --after w1.yaml --format csv").out);
    REQUIRE(rows.size() == 3);
    CHECK(rows[0].at("settings_changed") == "1");
    CHECK(rows[0].at("days") != rows[0].at("days_before"));
    CHECK(rows[0].at("days_beyond_if_left") == "2");
    for (const auto& row : rows) {
      CHECK(row.at("starts") == row.at("starts_before"));
      CHECK(row.at("days_beyond") == "0");
    }
  }

  TEST_CASE("replan - a valve whose zone has gone is to be switched off") {
    const Folder folder;
    live_three_days(folder);
    const std::string whole = folder.text("garden.yaml");
    const std::size_t last = whole.rfind("\n  - name:");
    REQUIRE(last != std::string::npos);
    folder.write("garden.yaml", whole.substr(0, last + 1));
    const Result again = folder.run("replan garden.yaml --after w1.yaml");
    CAPTURE(again.out);
    CHECK(has(again.out,
              "  valve 3, on which the garden has no zone any more\n"
              "       switch it off (was every day at "));
    CHECK(has(folder.run("replan garden.yaml --after w1.yaml --format json").out,
              "\"valve\": 3,\n      \"settings_changed\": "));
  }

  TEST_CASE("replan - ends with 1 where a zone cannot be kept unharmed") {
    const Folder folder;
    folder.replace("garden.yaml", "volume: 20 L, diameter: 32 cm, canopy: 45 cm",
                   "volume: 0.4 L, diameter: 32 cm, canopy: 60 cm");
    CHECK(folder.run("plan garden.yaml --save w1.yaml").exit == 1);
    live(folder, 0, 3);
    const Result result = folder.run(replan);
    CHECK(result.exit == 1);
    CHECK(has(result.out, "FALLS SHORT"));
    CHECK(has(result.err, "pots by the door: cannot be kept moist"));
    CHECK(has(folder.text("mid.yaml"), "format: 2"));
  }

  TEST_CASE("heatwave - the example lives through what it says") {
    const std::string source = RUNNEL_SOURCE_DIR;
    const Folder folder;
    const Result story = run_in(
        "'" + source + "'",
        "sh examples/heatwave.sh '" RUNNEL_PROGRAM "' '" + folder.path("story") + "'", folder);
    CAPTURE(story.out);
    CAPTURE(story.err);
    REQUIRE(story.exit == 0);
    // Two settings and one run by hand, for the pots alone; none of its zones is to go beyond.
    CHECK(has(story.out, "CHANGE ON THE TIMER: 2 settings\n  valve 3, pots by the door\n"));
    CHECK(has(story.out, "RUN ONCE BY HAND, before Thu 15 Jul\n  valve 3, pots by the door: "));
    CHECK(has(story.out, "LEAVE AS IS\n  valve 1, terrace bed\n"));
    CHECK_FALSE(has(story.out, "FALLS SHORT"));
    const std::size_t changed = story.out.find("\nNext Monday: ");
    const std::size_t unchanged = story.out.find("\nHad nobody looked on Wednesday: ");
    REQUIRE(changed != std::string::npos);
    REQUIRE(unchanged != std::string::npos);
    const std::string with_change = story.out.substr(changed, unchanged - changed);
    const std::string without = story.out.substr(unchanged);
    CHECK_FALSE(has(story.out.substr(0, unchanged), "BEYOND"));
    for (const char* zone : {"terrace bed", "wall border", "pots by the door"})
      CHECK(has(with_change, std::string(zone) + ": within its limit on all 4 days"));
    CHECK(has(without, "pots by the door: BEYOND its limit on 4 of 7 days"));

    const std::string page = read(fs::path(source) / "data/docs/week-after-week.md");
    const std::size_t from = story.out.find("WEATHER, mm:");
    const std::size_t to = story.out.find("\nTHE PROGRAMME FROM");
    REQUIRE(from < to);
    CHECK(has(page, story.out.substr(from, to - from)));
    CHECK(has(page, with_change.substr(with_change.find("HOW THE DAYS"))));
    const std::size_t went = without.find("HOW THE DAYS");
    CHECK(has(page, without.substr(went, without.find("\n\n", went) - went)));
    // The same in a few words.
    CHECK(has(story.out, "45 min (13.5 L)"));
    CHECK(has(without, "Sun 18 Jul: 16.0 mm of 8.9\n"));
    const std::string readme = read(fs::path(source) / "README.md");
    CHECK(has(readme, "two settings changed and 13.5 L given by\nhand"));
    CHECK(has(readme, "beyond it on 4 of 7 days, 16.0 mm\ndry where 8.9 mm is the limit"));
  }

  TEST_CASE("heatwave - nine degrees more with the same vapour in the air") {
    const Folder folder;
    const auto days_of = [&folder](const std::string& file) {
      return rows_of(folder
                         .run("et '" RUNNEL_SOURCE_DIR "/examples/heatwave/" + file +
                              "' --latitude 38.72 --elevation '95 m' --format csv --steps")
                         .out);
    };
    const auto expected = days_of("forecast-monday.csv");
    const auto happened = days_of("happened.csv");
    REQUIRE(happened.size() == 7);
    double expected_mm = 0.0;
    double happened_mm = 0.0;
    for (std::size_t day = 2; day < 7; ++day) {
      CHECK(happened[day].at("date") == expected[day].at("date"));
      CHECK(number(happened[day], "t_mean_c") ==
            doctest::Approx(number(expected[day], "t_mean_c") + 9.0));
      CHECK(number(happened[day], "ea_kpa") ==
            doctest::Approx(number(expected[day], "ea_kpa")).epsilon(0.002));
      expected_mm += number(expected[day], "eto_mm");
      happened_mm += number(happened[day], "eto_mm");
    }
    CHECK(happened_mm / expected_mm == doctest::Approx(1.34).epsilon(0.005));
  }

  TEST_CASE("replan - without a plan nothing is done") {
    const Folder folder;
    CHECK(folder.run("replan garden.yaml").exit == 2);
    const Result none = folder.run(replan);
    CHECK(none.exit == 3);
    CHECK(none.out.empty());
    CHECK_FALSE(has(none.err, "should not happen"));
  }
}

}  // namespace runnel

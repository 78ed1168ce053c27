// Many gardens in one command: one sheet, a plan file of each, and none that stops the others.
#include <doctest/doctest.h>
#include <sys/wait.h>

#include <array>
#include <chrono>
#include <filesystem>
#include <sstream>
#include <string>
#include <vector>

#include "folder.hpp"
#include "processes.hpp"

namespace runnel {
namespace {

/// oak, elm and ash, each the week worked by hand in a folder of its own.
struct Round : Folder {
  Round() {
    for (const char* const name : {"oak", "elm", "ash"}) add(name);
  }
  void add(const std::string& name) const {
    fs::create_directories(path(name));
    for (const char* file : {"garden.yaml", "weather.csv", "forecast.csv"})
      fs::copy_file(path(file), path(name + "/" + file));
    replace(name + "/garden.yaml", "garden: Sanity week", "garden: Garden " + name);
  }
  /// `name` in the folder's own words.
  [[nodiscard]] std::vector<std::string> names_in(const std::string& folder) const {
    std::vector<std::string> names;
    if (!fs::exists(path(folder))) return names;
    for (const auto& entry : fs::directory_iterator(path(folder)))
      names.push_back(entry.path().filename().string());
    std::sort(names.begin(), names.end());
    return names;
  }
};

using Names = std::vector<std::string>;

constexpr const char* three = "plan oak/garden.yaml elm/garden.yaml ash/garden.yaml";

std::string all_three(const std::string& options) { return std::string(three) + " " + options; }

/// Whether the parts stand in the text, one after the other.
void check_in_order(const std::string& text, const std::vector<std::string>& parts) {
  std::size_t at = 0;
  for (const std::string& part : parts) {
    const std::size_t found = text.find(part, at);
    CHECK_MESSAGE(found != std::string::npos, part);
    if (found != std::string::npos) at = found + part.size();
  }
}

void check_at_80_columns(const std::string& text) {
  std::istringstream shown(text);
  for (std::string line; std::getline(shown, line);) CHECK_MESSAGE(line.size() <= 80, line);
}

void check_wrong_usage(const Round& round, const std::string& args, const std::string& says) {
  const Names before = round.names_in("w1");
  const Result result = round.run(args);
  CAPTURE(result.err);
  CHECK(result.exit == 2);
  CHECK(result.out.empty());
  CHECK(lines(result.err) == 1);
  CHECK_MESSAGE(has(result.err, says), says);
  CHECK(round.names_in("w1") == before);
}

}  // namespace

TEST_SUITE("cli") {
  TEST_CASE("many - a bad garden stops no other and has its errors on the sheet") {
    const Round round;
    round.add("yew");
    round.replace("elm/garden.yaml", "area: 18 m2", "area: 18");
    const Result result = round.run(all_three("yew/garden.yaml --save w1"));
    CAPTURE(result.err);
    CHECK(result.exit == 3);
    CHECK(round.names_in("w1") == Names{"ash.yaml", "oak.yaml", "yew.yaml"});
    CHECK(has(round.text("w1/oak.yaml"), "garden: \"Garden oak\"\n"));
    check_in_order(
        result.out,
        {"4 gardens, Mon 13 Jul to Sun 19 Jul 2026\n", "3 to visit, 1 not planned\n",
         "\nTO VISIT\n", "Garden oak (oak/", "valve 1, terrace bed: Wed at 04:30, 101 min\n",
         "Garden ash (ash/", "Garden yew (yew/", "\nCOULD NOT BE PLANNED\n", "elm/garden.yaml\n",
         "elm/garden.yaml:32:11: error: zones.1.area: 18 has no unit", "\nTAKE CARE\n"});
    CHECK(lines(result.err) == 1);
    CHECK(has(result.err, "elm/garden.yaml:32:11: error: zones.1.area: 18 has no unit"));
    check_at_80_columns(result.out);
  }

  TEST_CASE("many - what changed since last week alone is set anew") {
    // Drippers of 2.5 in place of 2.1 L/h give the same water in 101 x 2.1 / 2.5 = 84.8 minutes;
    // method.md works the 101 by hand (100.9), and 100.9 x 2.1 / 2.5 = 84.8 rounds up to 85.
    const Round round;
    REQUIRE(round.run(all_three("--save w1")).exit == 0);
    round.replace("elm/garden.yaml", "flow: 2.1 L/h", "flow: 2.5 L/h");
    const Result result = round.run(all_three("--after w1 --save w2"));
    CHECK(result.exit == 0);
    CHECK(result.err.empty());
    check_in_order(result.out, {"1 to visit, 2 with nothing to change\n", "\nTO VISIT\n\n",
                                "Garden elm (elm/garden.yaml): ",
                                "\n  valve 1, terrace bed: minutes 85 (was 101)\n",
                                "\nNOTHING TO CHANGE\n", "Garden oak ", ", Garden ash "});
    CHECK_FALSE(has(result.out, "valve 2"));
    CHECK(round.names_in("w2") == Names{"ash.yaml", "elm.yaml", "oak.yaml"});
  }

  TEST_CASE("many - days and starts that change are named and a valve that is new or gone") {
    const Round round;
    REQUIRE(round.run(all_three("--save w1")).exit == 0);
    round.replace("elm/garden.yaml", "[\"04:30-08:00\", ", "[\"05:00-08:00\", ");
    round.replace("ash/garden.yaml", "valve: 2\n", "valve: 5\n");
    round.replace("oak/garden.yaml", "zones:\n",
                  "rules: [{days: [Fri], for: [terrace bed]}]\nzones:\n");
    const Result result = round.run(all_three("--after w1"));
    CAPTURE(result.out);
    check_in_order(result.out,
                   {"valve 1, terrace bed: days Fri (was Wed)", "start times 05:00 (was 04:30)",
                    "valve 2, on which the garden has no zone any more: off (was Mon",
                    "valve 5, wall border: Mon at 04:30, 48 min (was off)\n"});
  }

  TEST_CASE("many - what falls short comes first and is said to be mended") {
    const Round round;
    round.replace("ash/garden.yaml", "[\"04:30-08:00\", \"20:30-22:30\"]", "[\"04:30-05:30\"]");
    const Result result = round.run(all_three(""));
    CHECK(result.exit == 1);
    check_in_order(result.out, {"3 to visit (1 falls short)\n", "\nTO VISIT\n\n",
                                "Garden ash (ash/", "\n  FALLS SHORT: ", " mm too dry on ",
                                "\n  Would mend it: watering hours 04:30", "Garden oak (oak/",
                                "Garden elm (elm/"});
    CHECK(has(result.err, "ash/garden.yaml: doubt: "));
    check_at_80_columns(result.out);
  }

  TEST_CASE("many - gardens with one plan file are refused before any work") {
    const Round round;
    fs::copy_file(round.path("oak/garden.yaml"), round.path("ash/plot.yaml"));
    fs::copy_file(round.path("oak/garden.yaml"), round.path("elm/plot.yml"));
    check_wrong_usage(round, "plan ash/plot.yaml oak/garden.yaml elm/plot.yml --save w1",
                      "ash/plot.yaml and elm/plot.yml would both have the plan file plot.yaml");
    check_wrong_usage(round,
                      "plan oak/garden.yaml ash/garden.yaml oak/../oak/garden.yaml --save w1",
                      "oak/../oak/garden.yaml is given twice");
    check_wrong_usage(round, all_three("--save ash/weather.csv"), "is a file (several gardens");
    check_wrong_usage(round, "plan ash/plot.yaml oak/garden.yaml --save ash --replace",
                      "would write a plan over the garden ash/plot.yaml");
    check_wrong_usage(round, all_three("--explain 'terrace bed'"),
                      "--explain is for a zone of one");
    CHECK_FALSE(fs::exists(round.path("w1")));
    // Nothing is saved, so nothing clashes.
    CHECK(round.run("plan ash/plot.yaml elm/plot.yml").exit == 0);
  }

  TEST_CASE("many - no plan is written over without being told to") {
    const Round round;
    REQUIRE(round.run("plan oak/garden.yaml elm/garden.yaml --save w1").exit == 0);
    round.write("w1/elm.yaml", "mine\n");
    const std::string oak = round.text("w1/oak.yaml");
    check_wrong_usage(round, all_three("--save w1"),
                      "w1/oak.yaml and 1 more exist already (--replace writes over what is there)");
    CHECK(round.text("w1/elm.yaml") == "mine\n");
    CHECK(round.run(all_three("--save w1 --replace")).exit == 0);
    CHECK(round.text("w1/oak.yaml") == oak);
    CHECK(has(round.text("w1/elm.yaml"), "format: 2\n"));
  }

  TEST_CASE(
      "many - a garden without a plan of last week is planned afresh and one with a bad one not") {
    const Round round;
    const Result missing = round.run(all_three("--after w1"));
    CHECK(missing.exit == 3);
    CHECK(missing.out.empty());
    CHECK(has(missing.err, "w1/: error: there is no such folder"));
    REQUIRE(round.run("plan oak/garden.yaml ash/garden.yaml --save w1").exit == 0);
    round.replace("w1/ash.yaml", "minutes: ", "minutes: 1");
    const Result result = round.run(all_three("--after w1 --save w2"));
    CHECK(result.exit == 3);
    check_in_order(result.out, {"1 to visit, 1 not planned, 1 with nothing to change\n",
                                "Garden elm (elm/garden.yaml): 10 settings to set, ",
                                "w1/elm.yaml: doubt: there is no plan of the week before: planned",
                                "\nCOULD NOT BE PLANNED\n", "ash/garden.yaml\n  w1/ash.yaml:",
                                "\nNOTHING TO CHANGE\n  Garden oak "});
    CHECK(has(result.err, "edited after it was written"));
    CHECK(round.names_in("w2") == Names{"elm.yaml", "oak.yaml"});
  }

  TEST_CASE("many - one garden alone finds its plan files in the folders too") {
    const Round round;
    REQUIRE(round.run(all_three("--save w1")).exit == 0);
    const Result alone = round.run("plan oak/garden.yaml --after w1 --save w2/");
    CHECK(alone.exit == 0);
    CHECK(has(alone.err, "doubt: is for the same days, from "));
    CHECK(has(alone.out, "Garden oak\nSet on the timer"));
    CHECK_FALSE(has(alone.out, "How dry the ground is"));
    CHECK(round.names_in("w2") == Names{"oak.yaml"});
    const Result afresh = round.run("plan ash/garden.yaml --after w2");
    CHECK(afresh.exit == 0);
    CHECK(has(afresh.err, "w2/ash.yaml: doubt: there is no plan of the week before: planned"));
    for (const char* file : {"garden.yaml", "weather.csv", "forecast.csv"}) {
      const std::string input = std::string("ash/") + file;
      const std::string before = round.text(input);
      CHECK(round.run("plan ash/garden.yaml --replace --save " + input).exit == 3);
      CHECK(
          round.run("replan ash/garden.yaml --after w1/ash.yaml --replace --save " + input).exit ==
          3);
      CHECK(round.text(input) == before);
    }
    check_wrong_usage(round, "plan ash/garden.yaml ash/../ash/garden.yaml", "is given twice");
    CHECK(has(round.text("ash/garden.yaml"), "garden: Garden ash"));
  }

  TEST_CASE("many - a doubt that gardens share is said once") {
    const Round round;
    for (const char* name : {"oak", "elm"})
      round.replace(std::string(name) + "/garden.yaml", "observed: weather.csv ",
                    "observed: ../weather.csv");
    REQUIRE(round.run(all_three("--save w1")).exit == 0);
    // Four days with one Tmax: is the thermometer stuck?
    for (const char* stuck : {"2026-07-06,29", "2026-07-07,30", "2026-07-08,33", "2026-07-09,35"})
      round.replace("weather.csv", stuck, std::string(stuck, 11) + "34");
    const Result result = round.run(all_three("--after w1"));
    CHECK(result.exit == 0);
    CHECK(lines(result.err) == 1);
    CHECK(has(result.err, "weather.csv:3: doubt: tmax stands still for 4 days"));
    check_in_order(result.out, {"0 to visit, 3 with nothing to change\n",
                                "\nOF SEVERAL GARDENS\n  weather.csv:3: doubt: tmax stands still",
                                "; 2 gardens\n", "\nNOTHING TO CHANGE\n  Garden oak "});
    // What is one garden's own stands beside its name.
    round.replace("elm/garden.yaml", "../weather.csv", "weather.csv");
    round.write("elm/weather.csv", round.text("weather.csv"));
    const Result own = round.run(all_three("--after w1"));
    check_in_order(own.out, {"0 to visit, 2 with remarks, 1 with nothing to change\n",
                             "\nNOTHING TO SET, BUT TO LOOK AT\n\nGarden oak ", "tmax stands",
                             "Garden elm ", "tmax stands", "\nNOTHING TO CHANGE\n  Garden ash "});
  }

  TEST_CASE("many - the bytes are the same on any number of threads") {
    const Round round;
    round.add("yew");
    round.replace("elm/garden.yaml", "area: 18 m2", "area: 18");
    for (const std::string form : {"csv", "json", "text"}) {
      if (form == "text")  // what falls short is told in order too
        round.replace("ash/garden.yaml", "[\"04:30-08:00\", \"20:30-22:30\"]", "[\"04:30-05:30\"]");
      const std::string ask =
          all_three("yew/garden.yaml --format ") + form + " --replace --threads ";
      const Result one = round.run(ask + "1 --save w1");
      const Result four = round.run(ask + "4 --save w4");
      CHECK(one.exit == 3);
      CHECK(four.exit == 3);
      CHECK(four.out == one.out);
      CHECK(four.err == one.err);
      for (const char* const file : {"oak.yaml", "ash.yaml", "yew.yaml"})
        CHECK(round.text(std::string("w4/") + file) == round.text(std::string("w1/") + file));
    }
  }

  TEST_CASE("many - all gardens in one table or one JSON text") {
    const Round round;
    round.replace("elm/garden.yaml", "area: 18 m2", "area: 18");
    const Result csv = round.run(all_three("--format csv"));
    CHECK(csv.exit == 3);
    CHECK(lines(csv.out) == 1 + 2 * 3);
    CHECK(csv.out.starts_with("garden,file,set_anew,valve,zone,days,starts,run_min,"));
    CHECK(has(csv.out,
              "\n\"Garden oak\",\"oak/garden.yaml\",\"Wed at 04:30, 101 min\",1,\"terrace bed\","
              "\"Wed\",\"04:30\",101,"));
    // Behind what the gardens have in front, the rows are those of one garden alone.
    const std::string alone = round.run("plan ash/garden.yaml --format csv").out;
    CHECK(has(csv.out, alone.substr(alone.find("\n1,") + 1, 40)));
    const Result json = round.run(all_three("--format json"));
    CHECK(json.exit == 3);
    check_in_order(json.out, {"{\n  \"gardens\": [\n    {\n      \"file\": \"oak/garden.yaml\",\n",
                              "\"settings\": 10,\n", "\"where\": \"valve 1, terrace bed\",\n",
                              "\"garden\": \"Garden oak\",\n", "\"zone\": \"terrace bed\",\n",
                              "\"file\": \"elm/garden.yaml\",\n      \"errors\": [\n        \"elm/",
                              "\"garden\": \"Garden ash\",\n", "\n    }\n  ]\n}\n"});
  }

  TEST_CASE("many - its page shows a round as the program prints it") {
    const Folder folder;
    fs::copy(fs::path(RUNNEL_SOURCE_DIR) / "examples", folder.path("examples"),
             fs::copy_options::recursive);
    const std::string ask =
        "plan examples/terrace/garden.yaml examples/terrace/short-morning.yaml "
        "examples/kitchen/garden.yaml ";
    CHECK(folder.run(ask + "--save week-28").exit == 1);
    // A week later its forecast has come true.
    const std::string forecast = folder.text("examples/terrace/forecast.csv");
    const std::size_t from = forecast.find("\n2027-07-12") + 1;
    const std::size_t to = forecast.find("2027-07-19");
    folder.write("examples/terrace/weather.csv",
                 folder.text("examples/terrace/weather.csv") + forecast.substr(from, to - from));
    const Result week = folder.run(ask + "--after week-28 --save week-29");
    CHECK(week.exit == 1);
    const std::string page = read(fs::path(RUNNEL_SOURCE_DIR) / "data/docs/many-gardens.md");
    CHECK(has(page, week.out.substr(0, week.out.find("\nTAKE CARE"))));
    CHECK(has(folder.run("plan --help").out,
              "runnel plan garden.yaml my-garden/garden.yaml --save plans"));
  }
}

// By hand: cli_tests --no-skip -ts=slow; CTest runs it with the label slow.
TEST_SUITE("slow" * doctest::skip()) {
  TEST_CASE(
      "killed - each plan file of a round is the old or the new one after each of 200 kills") {
    const Round round;
    const std::array<const char*, 3> names{"oak.yaml", "elm.yaml", "ash.yaml"};
    const std::vector<std::string> one{
        "plan",       "oak/garden.yaml", "elm/garden.yaml", "ash/garden.yaml", "--from",
        "2026-07-13", "--save",          "plans",           "--replace"};
    std::vector<std::string> other = one;
    other[5] = "2026-07-14";
    const auto texts = [&] {
      std::vector<std::string> all;
      for (const char* name : names) all.push_back(round.text(std::string("plans/") + name));
      return all;
    };
    CHECK(WIFEXITED(wait_for(start(round, other))));
    const std::vector<std::string> second = texts();
    const auto began = std::chrono::steady_clock::now();
    CHECK(WIFEXITED(wait_for(start(round, one))));
    const auto whole_us = std::chrono::duration_cast<std::chrono::microseconds>(
        std::chrono::steady_clock::now() - began);
    const std::vector<std::string> first = texts();
    for (std::size_t i = 0; i < names.size(); ++i) REQUIRE(first[i] != second[i]);
    int killed = 0;
    int changed = 0;
    int mixed = 0;
    std::vector<std::string> before = first;
    for (int i = 0; i < 200; ++i) {
      const bool to_other = before[0] == first[0];
      // From at once to a little longer than a run took.
      killed += kill_after(start(round, to_other ? other : one),
                           static_cast<useconds_t>(whole_us.count() * (i % 50) / 40));
      const std::vector<std::string> now = texts();
      int news = 0;
      for (std::size_t g = 0; g < names.size(); ++g) {
        CHECK((now[g] == first[g] || now[g] == second[g]));
        news += now[g] != before[g];
      }
      changed += news > 0;
      mixed += news == 1 || news == 2;
      before = now;
    }
    MESSAGE(killed << " of 200 killed while they ran; plans replaced in " << changed
                   << ", some but not all in " << mixed);
    CHECK(killed >= 50);
    CHECK(changed >= 10);
    CHECK(WIFEXITED(wait_for(start(round, one))));
    CHECK(texts() == first);
    CHECK(round.names_in("plans") == Names{"ash.yaml", "elm.yaml", "oak.yaml"});
  }
}

}  // namespace runnel

// What is set on timers of every kind, as it is printed.
#include <doctest/doctest.h>

#include <sstream>
#include <string>
#include <vector>

#include "folder.hpp"

using namespace runnel;

namespace {

/// The sanity week on another timer.
Result planned(const std::string& timer, const std::string& hours = "[\"04:30-10:30\"]") {
  const Folder folder;
  std::string garden = folder.text("garden.yaml");
  const std::size_t from = garden.find("timer:");
  const std::size_t to = garden.find("zones:");
  REQUIRE(from != std::string::npos);
  REQUIRE(to != std::string::npos);
  folder.write(
      "garden.yaml",
      garden.replace(from, to - from, "timer: " + timer + "\nwatering hours: " + hours + "\n"));
  Result result = folder.run("plan garden.yaml");
  CHECK_MESSAGE(result.exit <= 1, result.err);
  for (std::size_t at = 0; at < result.out.size();) {
    const std::size_t end = result.out.find('\n', at);
    CHECK(end - at <= 80);
    at = end + 1;
  }
  return result;
}

/// The first line that holds the text; empty when none does.
std::string line_with(const Result& result, const std::string& text) {
  std::istringstream lines(result.out);
  for (std::string line; std::getline(lines, line);)
    if (line.find(text) != std::string::npos) return line;
  return {};
}

/// Words of the zone's line: the last two are minutes and litres.
std::vector<std::string> words_of(const Result& result, const std::string& zone) {
  std::istringstream line(line_with(result, zone));
  std::vector<std::string> words;
  for (std::string word; line >> word;) words.push_back(word);
  REQUIRE(words.size() >= 4);
  return words;
}
int minutes_of(const Result& result, const std::string& zone) {
  const std::vector<std::string> words = words_of(result, zone);
  return std::stoi(words[words.size() - 2]);
}

}  // namespace

TEST_SUITE("cli/timers") {
  TEST_CASE("timers - shared programmes are shown once with their valves under them") {
    const Result two = planned("{valves: 6, programmes: 2}");
    CHECK(line_with(two, "PROGRAMME 1: ").find(" at 0") != std::string::npos);
    CHECK(line_with(two, "PROGRAMME 2: ").find(" at 0") != std::string::npos);
    CHECK(words_of(two, "terrace bed").size() == 5);  // valve, its name of two, minutes, litres
    const Result one = planned("{valves: 6, programmes: 1}");
    CHECK_FALSE(line_with(one, "PROGRAMME 1: ").empty());
    CHECK(line_with(one, "PROGRAMME 2: ").empty());
  }

  TEST_CASE("timers - lengths are those to type while the percentage stands") {
    const Result plain = planned("{valves: 6, minutes: {step: 1, most: 240}}");
    const Result longer = planned("{valves: 6, minutes: {step: 1, most: 240}, percentage: 200 %}");
    CHECK_FALSE(line_with(longer, "percentage stands at 200 %").empty());
    // 101 minutes in the week worked by hand; 51 typed run 102.
    CHECK(minutes_of(plain, "terrace bed") == 101);
    CHECK(minutes_of(longer, "terrace bed") == 51);
  }

  TEST_CASE("timers - only the lengths there are") {
    const Result result = planned("{valves: 6, minutes: {choices: [20, 40, 120]}}");
    for (const char* zone : {"terrace bed", "wall border"}) {
      const int minutes = minutes_of(result, zone);
      CHECK((minutes == 20 || minutes == 40 || minutes == 120));
    }
  }

  TEST_CASE("timers - one start and an interval") {
    const Result result =
        planned("{valves: 6, repeats: [12 h]}", "[\"04:30-09:00\", \"16:30-21:00\"]");
    const std::string pots = line_with(result, "pots by the door");
    CHECK(pots.find("every day") != std::string::npos);
    CHECK(pots.find(", every 12 h") != std::string::npos);
  }
}

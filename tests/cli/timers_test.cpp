// What is set on timers of every kind, as it is printed.
#include <doctest/doctest.h>

#include <regex>
#include <string>

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

bool matches(const Result& result, const std::string& pattern) {
  return std::regex_search(result.out, std::regex(pattern));
}

}  // namespace

TEST_SUITE("cli/timers") {
  TEST_CASE("timers - shared programmes are shown once with their valves under them") {
    const Result two = planned("{valves: 6, programmes: 2}");
    CHECK(matches(two, "PROGRAMME 1: .+ at [0-9:]{5}"));
    CHECK(matches(two, "PROGRAMME 2: .+ at [0-9:]{5}"));
    CHECK(matches(two, "\n +1  terrace bed +[0-9]+ +[0-9]+\n"));
    const Result one = planned("{valves: 6, programmes: 1}");
    CHECK(matches(one, "PROGRAMME 1: "));
    CHECK_FALSE(matches(one, "PROGRAMME 2: "));
  }

  TEST_CASE("timers - lengths are those to type while the percentage stands") {
    const Result plain = planned("{valves: 6, minutes: {step: 1, most: 240}}");
    const Result longer = planned("{valves: 6, minutes: {step: 1, most: 240}, percentage: 200 %}");
    CHECK(matches(longer, "percentage stands at 200 %"));
    std::smatch once;
    std::smatch twice;
    const std::regex minutes("terrace bed +\\S.* +([0-9]+) +[0-9]+\n");
    REQUIRE(std::regex_search(plain.out, once, minutes));
    REQUIRE(std::regex_search(longer.out, twice, minutes));
    // 101 minutes in the week worked by hand; 51 typed run 102.
    CHECK(std::stoi(once[1]) == 101);
    CHECK(std::stoi(twice[1]) == 51);
  }

  TEST_CASE("timers - only the lengths there are") {
    const Result result = planned("{valves: 6, minutes: {choices: [20, 40, 120]}}");
    CHECK(matches(result, "terrace bed .* (20|40|120) +[0-9]+\n"));
    CHECK(matches(result, "wall border .* (20|40|120) +[0-9]+\n"));
  }

  TEST_CASE("timers - one start and an interval") {
    const Result result =
        planned("{valves: 6, repeats: [12 h]}", "[\"04:30-09:00\", \"16:30-21:00\"]");
    CHECK(matches(result, "pots by the door +every day +[0-9:]{5}, every 12 h"));
  }
}

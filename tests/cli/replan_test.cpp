// The middle of a week through the program: what to change, what to leave, and what is written.
#include <doctest/doctest.h>

#include <string>

#include "folder.hpp"

namespace runnel {
namespace {

/// The first days of the forecast have come true.
void live_three_days(const Folder& folder) {
  REQUIRE(folder.run("plan garden.yaml --save w1.yaml").exit == 0);
  const std::string forecast = folder.text("forecast.csv");
  const std::size_t begin = forecast.find("\n2026") + 1;
  std::size_t end = begin;
  for (int day = 0; day < 3; ++day) end = forecast.find('\n', end) + 1;
  folder.write("weather.csv", folder.text("weather.csv") + forecast.substr(begin, end - begin));
}

}  // namespace

TEST_SUITE("cli") {
  TEST_CASE("replan - says something of each valve, saves what can be carried on from") {
    const Folder folder;
    live_three_days(folder);
    const Result result = folder.run("replan garden.yaml --after w1.yaml --save mid.yaml");
    CAPTURE(result.out);
    CAPTURE(result.err);
    CHECK(result.exit == 0);
    CHECK(has(result.out, "valve 1: leave as is"));
    CHECK(has(result.out, "valve 2: leave as is"));
    CHECK(has(folder.text("mid.yaml"), "from: 2026-07-16\n"));
    const Result next = folder.run("replan garden.yaml --after mid.yaml");
    CHECK(next.exit == 0);
    CHECK(has(next.out, "No day has passed."));
    CHECK_FALSE(has(next.out, "change on the timer"));
  }

  TEST_CASE("replan - without a plan nothing is done") {
    const Folder folder;
    CHECK(folder.run("replan garden.yaml").exit == 2);
    const Result none = folder.run("replan garden.yaml --after w1.yaml --save mid.yaml");
    CHECK(none.exit == 3);
    CHECK(none.out.empty());
    CHECK_FALSE(has(none.err, "should not happen"));
  }
}

}  // namespace runnel

// Week after week through the program: what it writes, reads back, and refuses.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "folder.hpp"

namespace runnel {
namespace {

constexpr const char* first = "plan garden.yaml --save w1.yaml";
constexpr const char* second = "plan garden.yaml --after w1.yaml --save w2.yaml";

/// A second week can follow: the first is planned and its forecast has come true.
void live_a_week(const Folder& folder) {
  REQUIRE(folder.run(first).exit == 0);
  const std::string forecast = folder.text("forecast.csv");
  std::size_t at = forecast.find("\n2026") + 1;
  std::string week;
  for (int day = 0; day < 7; ++day) {
    const std::size_t end = forecast.find('\n', at) + 1;
    week += forecast.substr(at, end - at);
    at = end;
  }
  folder.write("weather.csv", folder.text("weather.csv") + week);
}

std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE_MESSAGE(at != std::string::npos, from);
  const std::size_t begin = at + from.size();
  return text.substr(begin, text.find(to, begin) - begin);
}

void check_refused(const Folder& folder, const std::vector<std::string>& parts) {
  const std::size_t files = folder.files();
  const Result result = folder.run(second);
  CAPTURE(result.err);
  CHECK(result.exit == 3);
  CHECK(result.out.empty());
  CHECK(lines(result.err) == 1);
  for (const std::string& part : parts) CHECK_MESSAGE(has(result.err, part), part);
  CHECK(folder.files() == files);
}

}  // namespace

TEST_SUITE("cli") {
  TEST_CASE("after - the second week is planned from the first and saved in turn") {
    const Folder folder;
    live_a_week(folder);
    const Result result = folder.run(second);
    CAPTURE(result.err);
    CHECK(result.exit == 0);
    CHECK(has(result.out, "Mon 20 Jul to Sun 26 Jul 2026"));
    CHECK_FALSE(has(result.out, "How dry the ground is"));
    CHECK_FALSE(has(result.err, "not observed"));
    const std::string saved = folder.text("w2.yaml");
    CHECK(has(saved, "from: 2026-07-20\nuntil: 2026-07-26\n"));
    const double expected_mm =
        std::stod(between(folder.text("w1.yaml"), "end: {depletion: ", " mm"));
    CHECK(std::stod(between(saved, "start: {depletion: ", " mm")) ==
          doctest::Approx(expected_mm).epsilon(1e-9));
    const Result explained = folder.run("plan garden.yaml --after w1.yaml --explain 'terrace bed'");
    CHECK(has(explained.out, "carried on from w1.yaml over 7"));
  }

  TEST_CASE("after - a day that was not observed is doubted") {
    const Folder folder;
    REQUIRE(folder.run(first).exit == 0);
    const Result result = folder.run(std::string(second) + " --from 2026-07-20");
    CHECK(result.exit == 0);
    CHECK(has(result.err, "7 days from 2026-07-13 to 2026-07-19 not observed"));
  }

  TEST_CASE("after - a plan that is edited or another garden's or none is refused") {
    const Folder folder;
    check_refused(folder, {"w1.yaml: error: there is no such file"});
    live_a_week(folder);
    const std::string good = folder.text("w1.yaml");
    folder.replace("w1.yaml", "minutes: ", "minutes: 1");
    check_refused(folder, {"w1.yaml:", "edited after it was written", "plan anew", "water log"});
    folder.write("w1.yaml", good);
    folder.replace("garden.yaml", "garden: ", "garden: Not ");
    check_refused(folder, {"w1.yaml:4:9", "this is a plan for \"Sanity week\"",
                           "not for \"Not Sanity week\""});
    folder.replace("garden.yaml", "garden: Not ", "garden: ");
    folder.write("w1.yaml", "format: 2\nand: more\n");
    check_refused(folder, {"w1.yaml:1:9", "format 2"});
    folder.write("w1.yaml", folder.text("garden.yaml"));
    check_refused(folder, {"w1.yaml:1:1", "\"format\" is missing"});
  }

  TEST_CASE("after - no plan is written over without being told to") {
    const Folder folder;
    live_a_week(folder);
    const std::string good = folder.text("w1.yaml");
    const Result over = folder.run("plan garden.yaml --after w1.yaml --save w1.yaml");
    CHECK(over.exit == 2);
    CHECK(has(over.err, "--replace"));
    CHECK(over.out.empty());
    CHECK(folder.text("w1.yaml") == good);
    CHECK(folder.run("plan garden.yaml --after w1.yaml --save w1.yaml --replace").exit == 0);
    CHECK(has(folder.text("w1.yaml"), "from: 2026-07-20\n"));
    const Result help = folder.run("plan --help");
    CHECK(has(help.out, "runnel plan garden.yaml --after week-28.yaml --save week-29.yaml"));
  }
}

}  // namespace runnel

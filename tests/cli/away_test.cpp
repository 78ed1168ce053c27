// A garden left alone for weeks, through the program.
#include <doctest/doctest.h>

#include <sstream>
#include <string>

#include "folder.hpp"

namespace runnel {
namespace {

constexpr const char* ask =
    "plan '" RUNNEL_SOURCE_DIR "/examples/terrace/away.yaml' --until 2027-08-08";

std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const std::size_t begin = text.find(from);
  REQUIRE_MESSAGE(begin != std::string::npos, from);
  const std::size_t end = text.find(to, begin);
  REQUIRE_MESSAGE(end != std::string::npos, to);
  return text.substr(begin, end - begin);
}

}  // namespace

TEST_SUITE("cli") {
  TEST_CASE("away - its page shows what the program prints of four weeks") {
    const Folder folder;
    const Result result = folder.run(ask);
    CHECK(result.exit == 1);
    CHECK(has(read(fs::path(RUNNEL_SOURCE_DIR) / "data/docs/absence.md"),
              between(result.out, "WHILE YOU ARE AWAY", "\nWEATHER TAKEN")));
    std::istringstream shown(result.out);
    for (std::string line; std::getline(shown, line);) CHECK_MESSAGE(line.size() <= 80, line);
    CHECK(has(result.out, "close it when there is a leak"));
    CHECK(has(result.out, "Local rules come before this sheet"));
    CHECK(has(result.err, "pots by the door: cannot be kept moist"));
  }

  TEST_CASE("away - each form carries the chance and the water that rain makes needless") {
    const Folder folder;
    const std::string text = folder.run(ask).out;
    const Result csv = folder.run(std::string(ask) + " --format csv");
    CHECK(csv.exit == 1);
    CHECK(has(csv.out,
              ",futures,futures_unharmed,first_harm,days_if_shut,away_litres,needless_litres\n"));
    CHECK(has(csv.out, ",64,29,2027-07-25,0,"));
    CHECK(has(text, "45 %   29 of 64  Sun 25 Jul   under a day"));
    const Result json = folder.run(std::string(ask) + " --format json");
    for (const char* part :
         {"\"until\": \"2027-08-08\"", "\"record_years\": 10", "\"chance\": 0.453125",
          "\"futures_unharmed\": 29", "\"first_harm\": \"2027-07-25\"",
          "\"needless_litres\": ", "\"would_raise\": ["})
      CHECK_MESSAGE(has(json.out, part), part);
  }

  TEST_CASE("away - without a record no chance is given and how to have one is said") {
    const Folder folder;
    const Result result = folder.run("plan garden.yaml --until 2026-08-09");
    CHECK(result.exit == 0);
    CHECK(has(result.out, "UNHARMED"));
    CHECK(has(result.out, "NO CHANCE CAN BE GIVEN"));
    CHECK(has(result.out, "record:"));
    CHECK_FALSE(has(result.out, " %"));
  }

  TEST_CASE("away - days that cannot be planned are wrong usage") {
    const Folder folder;
    const std::size_t files = folder.files();
    for (const char* days : {"--until 2026-07-12", "--from 2026-07-20 --until 2026-07-19",
                             "--until 2026-09-07", "--until tomorrow"}) {
      const Result result = folder.run("plan garden.yaml --save w1.yaml " + std::string(days));
      CAPTURE(days);
      CHECK(result.exit == 2);
      CHECK(result.out.empty());
      CHECK(lines(result.err) == 1);
      CHECK(has(result.err, "--until"));
      CHECK(folder.files() == files);
    }
    CHECK(folder.run("plan garden.yaml --until 2026-09-06").exit == 0);  // eight weeks
  }

  TEST_CASE("away - the next plan carries on from that of an absence") {
    const Folder folder;
    REQUIRE(folder.run("plan garden.yaml --until 2026-08-02 --save away.yaml").exit == 0);
    CHECK(has(folder.text("away.yaml"), "from: 2026-07-13\nuntil: 2026-08-02\n"));
    const Result next = folder.run("plan garden.yaml --after away.yaml --from 2026-08-03");
    CHECK(next.exit == 0);
    CHECK(has(next.out, "Mon 3 Aug to Sun 9 Aug 2026"));
    CHECK_FALSE(has(next.out, "How dry the ground is"));
    CHECK(has(next.err, "21 days from 2026-07-13 to 2026-08-02 not observed"));
  }
}

}  // namespace runnel

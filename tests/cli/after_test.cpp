// Week after week through the program: what it writes, reads back, and refuses.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "folder.hpp"
#include "support/near.hpp"

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

/// The same garden with a water log, whose file is not there yet.
void live_a_logged_week(const Folder& folder) {
  folder.replace("garden.yaml", "supply:", "log: water-log.csv\nsupply:");
  live_a_week(folder);
}

/// @param when "start" or "end"
double depletion_mm(const std::string& plan, const std::string& zone, const std::string& when) {
  const std::string of_zone = between(plan, "zone: \"" + zone + "\"", "weather:");
  return std::stod(between(of_zone, when + ": {depletion: ", " mm"));
}
/// How much drier the zone begins its second week than it would without the log.
double drier_mm(const Folder& folder, const std::string& rows, const std::string& zone) {
  folder.write("water-log.csv", "date,zone,what,amount\n" + rows);
  const Result result = folder.run(std::string(second) + " --replace");
  CAPTURE(result.err);
  REQUIRE(result.exit == 0);
  return depletion_mm(folder.text("w2.yaml"), zone, "start") -
         depletion_mm(folder.text("w1.yaml"), zone, "end");
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

  // The border's valve: 48 minutes of 2.1 L/h / (0.30 x 0.40 m) = 17.5 mm/h, of which uneven
  // watering leaves 0.4 + 0.6 x 0.85 = 0.91 to the roots: 48 / 60 x 17.5 x 0.91 = 12.74 mm. Without
  // it the border stays within its 32.5 mm, so that nothing else changes.
  TEST_CASE("after - what the log says of a week makes zones drier or moister by that depth") {
    const Folder folder;
    live_a_logged_week(folder);
    REQUIRE(has(folder.text("w1.yaml"), "{valve: 2, minutes: 48}"));
    const auto border_mm = [&](const std::string& rows) {
      return drier_mm(folder, rows, "wall border");
    };
    CHECK(border_mm("") == near(0.0, 1e-9));
    CHECK(border_mm("2026-07-13,wall border,did not run,\n") == near(12.74, 1e-9));
    CHECK(border_mm("2026-07-13,wall border,ran,24 min\n") == near(6.37, 1e-9));
    CHECK(border_mm("2026-07-15,wall border,by hand,30 L\n") == near(-3.0, 1e-9));  // 10 m2
    CHECK(border_mm("2026-07-17,,rain,5 mm\n") == near(-5.0, 1e-9));
    CHECK(border_mm("2026-07-17,terrace bed,rain,5 mm\n") == near(0.0, 1e-9));
    // 2 mm on the morning of the bed's watering: 23.61 + 3.98 - 26.81 - 2 mm, so that 1.22 drain.
    CHECK(drier_mm(folder, "2026-07-15,terrace bed,by hand,36 L\n", "terrace bed") ==
          near(-2.0 + 1.22, 0.01));
  }

  // Available water: (0.23 - 0.10) x 1000 x 0.5 m = 65 mm; moist leaves 62.5 % of it (USDA NRCS).
  TEST_CASE("after - a finger test says where a zone begins and is saved with the plan") {
    const Folder folder;
    live_a_logged_week(folder);
    CHECK(folder.run("log garden.yaml --date 2026-07-19 --zone 'wall border' --feel moist").exit ==
          0);
    CHECK(folder.run(second).exit == 0);
    CHECK(depletion_mm(folder.text("w2.yaml"), "wall border", "start") == near(0.375 * 65.0, 1e-9));
    const Result explained = folder.run("plan garden.yaml --after w1.yaml --explain 'wall border'");
    CHECK(has(explained.out, "corrected by the finger test"));
    CHECK(has(explained.out, "of Sun 19 Jul"));
    // From that plan file goes the next one; its first day was not observed and is as assumed.
    CHECK(folder.run("plan garden.yaml --after w2.yaml --from 2026-07-20 --save again.yaml").exit ==
          0);
    CHECK(depletion_mm(folder.text("again.yaml"), "wall border", "start") ==
          near(0.375 * 65.0, 1e-9));
    CHECK(
        has(folder.run("plan garden.yaml --after w2.yaml --from 2026-07-21").err, "not observed"));
  }

  // Expected: 530.25 L for the bed, 140 L for the border and 96.6 L for the pots.
  TEST_CASE("after - a meter that counted more than all valves tells of a leak") {
    const Folder folder;
    live_a_logged_week(folder);
    const std::string rows = "date,zone,what,amount\n2026-07-12,,meter,1000 L\n";
    folder.write("water-log.csv", rows + "2026-07-19,,meter,1900 L\n");
    const Result leak = folder.run(second);
    CHECK(leak.exit == 0);
    CHECK(has(leak.err,
              "water-log.csv:3:1: doubt: the meter counted 900 L from Mon 13 Jul to Sun 19 Jul, "
              "expected were 767 L: 133 L or 17 % more, a leak is likely (close every valve"));
    folder.write("water-log.csv", rows + "2026-07-19,,meter,1767 L\n");
    const Result usual = folder.run(std::string(second) + " --replace");
    CHECK(usual.exit == 0);
    CHECK_FALSE(has(usual.err, "meter"));
    CHECK(has(folder.run("plan garden.yaml --after w1.yaml --format json").out,
              "remark: the meter counted 767 L"));
  }

  TEST_CASE("after - a log that is wrong stops the plan and one of other days is doubted") {
    const Folder folder;
    live_a_logged_week(folder);
    folder.write("water-log.csv", "date,zone,what,amount\n2026-07-13,wal border,did not run,\n");
    check_refused(folder, {"water-log.csv:2:12: error: no zone is called \"wal border\" (did you"});
    folder.write("water-log.csv",
                 "date,zone,what,amount\n2026-07-14,wall border,did not run,\n"
                 "2026-07-20,wall border,by hand,5 mm\n");
    const Result doubted = folder.run(second);
    CHECK(doubted.exit == 0);
    CHECK(has(doubted.err, "2:1: doubt: nothing was planned for Tue 14 Jul in wall border"));
    CHECK(has(doubted.err, "3:1: doubt: 1 entry from 2026-07-20 on is not looked at"));
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
    folder.write("w1.yaml", "format: 3\nand: more\n");
    check_refused(folder, {"w1.yaml:1:9", "format 3"});
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
    CHECK(has(help.out, "runnel plan garden.yaml --after week-27.yaml --from 2027-07-12"));
  }
}

}  // namespace runnel

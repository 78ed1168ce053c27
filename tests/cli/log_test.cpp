// runnel log as a person runs it, many at once, and killed at any moment.
#include <doctest/doctest.h>
#include <sys/wait.h>

#include <chrono>
#include <csignal>
#include <string>
#include <vector>

#include "folder.hpp"
#include "processes.hpp"

namespace runnel {
namespace {

void name_log(const Folder& folder) {
  folder.replace("garden.yaml", "supply:", "log: water-log.csv\nsupply:");
}

constexpr const char* header = "date,zone,what,amount,note\n";

/// Two commands that write plan.yaml with --replace, each killed at any moment.
void check_whole_after_kills(const Folder& folder, const std::vector<std::string>& one,
                             const std::vector<std::string>& other) {
  const auto begun = std::chrono::steady_clock::now();
  CHECK(WIFEXITED(wait_for(start(folder, other))));
  const auto takes = std::chrono::duration_cast<std::chrono::microseconds>(
      std::chrono::steady_clock::now() - begun);
  const std::string second = folder.text("plan.yaml");
  CHECK(WIFEXITED(wait_for(start(folder, one))));
  const std::string first = folder.text("plan.yaml");
  REQUIRE(first.size() > 100);
  REQUIRE(second.size() > 100);
  REQUIRE(first != second);
  int killed = 0;
  int changed = 0;
  bool is_first = true;
  for (int i = 0; i < 200; ++i) {
    // From before it has begun until after it has ended.
    const auto wait = static_cast<useconds_t>(takes.count() * (i % 50) / 40);
    killed += kill_after(start(folder, is_first ? other : one), wait);
    const std::string text = folder.text("plan.yaml");
    CHECK((text == first || text == second));
    changed += (text == first) != is_first;
    is_first = text == first;
  }
  MESSAGE(killed << " of 200 killed while they ran, the plan replaced " << changed << " times");
  CHECK(killed >= 50);
  CHECK(WIFEXITED(wait_for(start(folder, one))));
  CHECK(folder.text("plan.yaml") == first);
}

std::vector<std::string> by_hand(const std::string& note) {
  return {"log",         "garden.yaml", "--date", "2027-07-12", "--zone",
          "terrace bed", "--by-hand",   "5 L",    "--note",     note};
}

}  // namespace

TEST_SUITE("log") {
  TEST_CASE("log - each kind of entry is one row more") {
    const Folder folder;
    name_log(folder);
    const Result first =
        folder.run("log garden.yaml --date 2027-07-12 --zone 'terrace bed' --ran '20 min'");
    CHECK(first.exit == 0);
    CHECK(first.err.empty());
    CHECK(first.out == "water-log.csv: 2027-07-12, terrace bed, ran, 20 min\n");
    CHECK(folder.run("log garden.yaml --date 2027-07-13 --zone 'valve 1' --did-not-run").exit == 0);
    CHECK(
        folder.run("log garden.yaml --date 2027-07-14 --rain '12 mm' --note '=hail, much'").exit ==
        0);
    CHECK(folder.run("log garden.yaml --date 2027-07-14 --zone 'terrace bed' --feel dry").exit ==
          0);
    CHECK(folder.run("log garden.yaml --date 2027-07-15 --zone 'terrace bed' --depletion '8 mm'")
              .exit == 0);
    CHECK(folder.run("log garden.yaml --date 2027-07-15 --meter '12345 L'").exit == 0);
    CHECK(folder.text("water-log.csv") == std::string(header) +
                                              "2027-07-12,terrace bed,ran,20 min,\n"
                                              "2027-07-13,valve 1,did not run,,\n"
                                              "2027-07-14,,rain,12 mm,\"'=hail, much\"\n"
                                              "2027-07-14,terrace bed,feel,dry,\n"
                                              "2027-07-15,terrace bed,depletion,8 mm,\n"
                                              "2027-07-15,,meter,12345 L,\n");
    const Result check = folder.run("check garden.yaml");
    CHECK(check.exit == 0);
    CHECK(has(check.out, "0 errors"));
  }

  TEST_CASE("log - wrong words are refused and nothing is written") {
    const Folder folder;
    name_log(folder);

    struct Wrong {
      const char* args;
      const char* says;
    };
    for (const auto& [args, says] :
         {Wrong{"--rain '1 mm'", "--date is missing: the program reads no clock (write the day"},
          {"--date 2027-07-12", "what happened is not said"},
          {"--date 2027-07-12 --rain '1 mm' --meter '5 L'", "--rain and --meter are two entries"},
          {"--date 12.7. --rain '1 mm'", "--date: \"12.7.\" is not a date"},
          {"--date 2027-07-12 --rain 1", "--rain: 1 has no unit"},
          {"--date 2027-07-12 --ran '5 min'", "--zone: the zone is missing"},
          {"--date 2027-07-12 --zone terace --ran '5 min'", "--zone: no zone is called"},
          {"--date 2027-07-12 --zone 'terrace bed' --feel soggy", "--feel: \"soggy\" is not how"},
          {"--date 2027-07-12 --rain '1 mm' --note 'two\nlines'", "--note: "}}) {
      CAPTURE(args);
      const Result result = folder.run("log garden.yaml " + std::string(args));
      CAPTURE(result.err);
      CHECK(result.exit == 2);
      CHECK(result.out.empty());
      CHECK(has(result.err, "runnel log: "));
      CHECK(has(result.err, says));
      CHECK(lines(result.err) == 1);
    }
    CHECK(folder.files() == 3);
    CHECK(has(folder.run("log --help").out, "Examples:"));
  }

  TEST_CASE("log - that a watering did not run is not written twice") {
    const Folder folder;
    name_log(folder);
    const std::string log = "log garden.yaml --date 2027-07-13 --did-not-run --zone ";
    REQUIRE(folder.run(log + "'valve 1'").exit == 0);
    const std::string text = folder.text("water-log.csv");
    for (const char* zone : {"'valve 1'", "'terrace bed'"}) {
      const Result again = folder.run(log + zone);
      CHECK(again.exit == 3);
      CHECK(again.out.empty());
      CHECK(again.err ==
            "water-log.csv:3:1: error: not written: that this watering did not run stands there "
            "already, on line 2 (keep one of the two; check the date and the zone)\n");
      CHECK(folder.text("water-log.csv") == text);
    }
    // Another zone, another day, and the whole garden, of which one zone is known.
    CHECK(folder.run(log + "'wall border'").exit == 0);
    CHECK(folder.run("log garden.yaml --date 2027-07-14 --did-not-run --zone 'valve 1'").exit == 0);
    CHECK(folder.run("log garden.yaml --date 2027-07-13 --did-not-run").exit == 0);
    // One typed by hand is doubted, and the log still read.
    folder.write("water-log.csv", text + "2027-07-13,terrace bed,did not run,,\n");
    const Result check = folder.run("check garden.yaml");
    CHECK(check.exit == 0);
    CHECK(has(unwrapped(check.out),
              "water-log.csv:3:1: doubt: that this watering did not run stands there"));
  }

  TEST_CASE("log - a log that is wrong stays as it is and check shows its faults") {
    const Folder folder;
    const Result none = folder.run("log garden.yaml --date 2027-07-12 --rain '1 mm'");
    CHECK(none.exit == 3);
    CHECK(has(none.err, "garden.yaml: error: this garden has no water log (add a line"));
    name_log(folder);
    const std::string text = std::string(header) + "2027-07-12,terrace bde,ran,5 min,\n";
    folder.write("water-log.csv", text);
    const Result refused = folder.run("log garden.yaml --date 2027-07-12 --rain '1 mm'");
    CHECK(refused.exit == 3);
    CHECK(
        has(refused.err, "water-log.csv:2:12: error: no zone is called \"terrace bde\" (did you"));
    CHECK(lines(refused.err) == 1);
    CHECK(folder.text("water-log.csv") == text);
    const Result check = folder.run("check garden.yaml");
    CHECK(check.exit == 3);
    CHECK(has(check.out, "water-log.csv:2:12: error: no zone"));
  }

  TEST_CASE("log - two at once lose no entry") {
    const Folder folder;
    name_log(folder);
    constexpr int each = 50;
    for (int i = 0; i < each; ++i) {
      const pid_t a = start(folder, by_hand("a" + std::to_string(i)));
      const pid_t b = start(folder, by_hand("b" + std::to_string(i)));
      CHECK(wait_for(a) == 0);
      CHECK(wait_for(b) == 0);
    }
    const std::string text = folder.text("water-log.csv");
    CHECK(lines(text) == 1 + 2 * each);
    for (int i = 0; i < each; ++i)
      for (const char* const who : {"a", "b"})
        CHECK(has(text, "5 L," + (who + std::to_string(i)) + "\n"));
    CHECK(folder.files() == 4);
  }

  TEST_CASE("log - eight at once lose no entry") {
    const Folder folder;
    name_log(folder);
    std::vector<pid_t> all;
    for (int i = 0; i < 8; ++i) all.push_back(start(folder, by_hand(std::to_string(i))));
    for (const pid_t one : all) CHECK(wait_for(one) == 0);
    CHECK(lines(folder.text("water-log.csv")) == 9);
  }
}

// By hand: cli_tests --no-skip -ts=slow; CTest runs it with the label slow.
TEST_SUITE("slow" * doctest::skip()) {
  TEST_CASE("killed - the log is whole after each of 200 kills and only grows by whole rows") {
    const Folder folder;
    name_log(folder);
    folder.write("water-log.csv", header);
    std::string before = header;
    int killed = 0;
    for (int i = 0; i < 200; ++i) {
      const std::string note = "n" + std::to_string(i);
      // 0 to 8 ms: from before it has begun until after it has ended.
      killed += kill_after(start(folder, by_hand(note)), static_cast<useconds_t>(i % 50) * 160U);
      const std::string after = folder.text("water-log.csv");
      const bool grown = after == before + "2027-07-12,terrace bed,by hand,5 L," + note + "\n";
      CHECK((grown || after == before));
      before = after;
    }
    MESSAGE(killed << " of 200 killed while they ran, " << lines(before) - 1 << " entries");
    CHECK(killed >= 50);
    // Nothing is locked, and what was left over goes with the next entry.
    CHECK(wait_for(start(folder, by_hand("last"))) == 0);
    CHECK(lines(folder.text("water-log.csv")) == lines(before) + 1);
    CHECK(folder.files() == 4);
  }

  TEST_CASE("killed - a plan file is the old or the new one after each of 200 kills") {
    const Folder folder;
    const std::vector<std::string> one{"plan",   "garden.yaml", "--from",   "2027-07-12",
                                       "--save", "plan.yaml",   "--replace"};
    std::vector<std::string> other = one;
    other[3] = "2027-07-13";
    check_whole_after_kills(folder, one, other);
    CHECK(folder.files() == 4);
  }

  TEST_CASE("killed - so is one that replan writes") {
    const Folder folder;
    REQUIRE(folder.run("plan garden.yaml --save before.yaml").exit == 0);
    const std::vector<std::string> one{"replan",     "garden.yaml", "--from",
                                       "2026-07-14", "--after",     "before.yaml",
                                       "--save",     "plan.yaml",   "--replace"};
    std::vector<std::string> other = one;
    other[3] = "2026-07-15";
    check_whole_after_kills(folder, one, other);
    CHECK(folder.files() == 5);
  }
}

}  // namespace runnel

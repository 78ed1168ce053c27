#include "runnel/garden/water_log.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "runnel/garden/files.hpp"
#include "support/near.hpp"
#include "support/temporary_folder.hpp"

namespace runnel {
namespace {

using std::chrono::July;

constexpr std::chrono::year year{2027};

Garden garden_of(const std::vector<std::pair<std::string, int>>& zones) {
  Garden garden;
  garden.file = "garden.yaml";
  for (const auto& [name, valve] : zones) {
    Zone zone{};
    zone.name = name;
    zone.valve = valve;
    garden.zones.push_back(zone);
  }
  return garden;
}

/// A bed, and two groups of pots on one valve.
Garden terrace() { return garden_of({{"terrace bed", 1}, {"pots", 2}, {"-shade", 2}}); }

std::string all_text(const std::vector<Finding>& findings) {
  std::string text;
  for (const Finding& finding : findings) text += to_text(finding) + "\n";
  return text;
}

WaterLog log_of(const std::string& csv) {
  Read<WaterLog> read = read_water_log(csv, "log.csv", terrace());
  if (!read.value) FAIL(all_text(read.findings));
  return *std::move(read.value);
}

std::string with_row(const std::string& csv, const LogRow& row) {
  Read<std::string> text = with_log_row(csv, "log.csv", row, terrace());
  if (!text.value) FAIL(all_text(text.findings));
  return *std::move(text.value);
}

constexpr const char* header = "date,zone,what,amount,note\n";

}  // namespace

TEST_SUITE("garden") {
  TEST_CASE("water log - every kind of entry with its amount in base units") {
    const WaterLog log = log_of(std::string(header) +
                                "2027-07-12,terrace bed,did not run,,tap was shut\n"
                                "2027-07-13,terrace bed,ran,20 min,\n"
                                "2027-07-14,pots,ran,40 L,\n"
                                "2027-07-15,Terrace Bed,By hand,0.5 in,\n"
                                "2027-07-16,,rain,12 mm,\n"
                                "2027-07-16,pots,rain,0 mm,under the eaves\n"
                                "2027-07-17,terrace bed,depletion,8 mm,\n"
                                "2027-07-18,terrace bed,feel,slightly moist,\n"
                                "2027-07-19,,meter,12.345 m3,\n"
                                "2027-07-20,,meter,3270 gal,\n"
                                "2027-07-21,valve 2,ran,1.5 h,\n"
                                "2027-07-22,,did not run,,power cut\n");
    REQUIRE(log.entries.size() == 12);
    const auto& e = log.entries;
    CHECK(e[0].date == std::chrono::local_days{year / July / 12});
    CHECK(e[0].what == LogWhat::did_not_run);
    CHECK(e[0].note == "tap was shut");
    CHECK(e[0].at.line == 2);
    CHECK(std::get<Duration>(e[1].amount).minutes() == 20.0);
    CHECK(std::get<Volume>(e[2].amount).litres() == 40.0);
    CHECK(e[3].zones == std::vector<std::size_t>{0});
    CHECK(std::get<Depth>(e[3].amount).mm() == near(12.7, 1e-9));  // an inch is 25.4 mm
    CHECK(e[4].zones.empty());
    CHECK(std::get<Depth>(e[4].amount).mm() == 12.0);
    CHECK(e[5].zones == std::vector<std::size_t>{1});
    CHECK(std::get<Depth>(e[6].amount).mm() == 8.0);
    CHECK(std::get<FeltMoisture>(e[7].amount).available == 0.375);  // NRCS 25-50 %, the middle
    CHECK(std::get<Volume>(e[8].amount).litres() == near(12345.0, 1e-6));
    CHECK(std::get<Volume>(e[9].amount).litres() == near(3270 * 3.785411784, 1e-6));
    CHECK(e[10].zones == std::vector<std::size_t>{1, 2});
    CHECK(std::get<Duration>(e[10].amount).minutes() == 90.0);
    CHECK(e[11].zones == std::vector<std::size_t>{0, 1, 2});
  }

  TEST_CASE("water log - columns and rows in any order - separators and marks of spreadsheets") {
    const WaterLog log = log_of(
        "\xEF\xBB\xBF"
        "Note;Amount;What;Zone;Date;who\r\n"
        "\"late; hot\";8,5 mm;ran;terrace bed;2027-07-14;A\r\n"
        ";;did not run;'-shade;2027-07-12;\r\n"
        ";;;;;\r\n");
    REQUIRE(log.entries.size() == 2);
    CHECK(log.entries[0].zones == std::vector<std::size_t>{2});
    CHECK(std::get<Depth>(log.entries[1].amount).mm() == 8.5);
    CHECK(log.entries[1].note == "late; hot");
    CHECK(log_of("date\tzone\twhat\tamount\n2027-07-12\tpots\tran\t5 min\n").entries.size() == 1);
    CHECK(log_of("").entries.empty());
    CHECK(log_of("\xEF\xBB\xBF\r\n").entries.empty());
    CHECK(log_of(header).entries.empty());
  }

  TEST_CASE("water log - bad ones - each with one error at its place and how to mend it") {
    struct Bad {
      std::string rows, place, says;
    };
    const std::vector<Bad> bad{
        {"12/07/2027,pots,ran,5 min,\n", "2:1", "\"12/07/2027\" is not a date (write it as 2027-"},
        {",pots,ran,5 min,\n", "2:1", "the date is missing"},
        {"2027-02-29,pots,ran,5 min,\n", "2:1", "\"2027-02-29\" is not a date"},
        {"2027-07-12,pot,ran,5 min,\n", "2:12", "no zone is called \"pot\" (did you mean \"pots\""},
        {"2027-07-12,valve 4,ran,5 min,\n", "2:12", "(did you mean \"valve 1\"?)"},
        {"2027-07-12,lawn,ran,5 min,\n", "2:12", "such as \"terrace bed\""},
        {"2027-07-12,,ran,5 min,\n", "2:12", "the zone is missing (name the zone, or the valve"},
        {"2027-07-12,,depletion,5 mm,\n", "2:12", "the zone is missing"},
        {"2027-07-12,pots,did not rn,,\n", "2:17", "did you mean \"did not run\"?"},
        {"2027-07-12,pots,slept,,\n", "2:17", "write did not run, ran, by hand, rain, depletion, "},
        {"2027-07-12,pots,,5 min,\n", "2:17", "what happened is missing"},
        {"2027-07-12,pots,ran,,\n", "2:21", "the amount is missing (write it with its unit: 20 m"},
        {"2027-07-12,pots,ran,20,\n", "2:21", "\"20\" has no unit (write it with its unit: 20 min"},
        {"2027-07-12,pots,ran,20 kg,\n", "2:21", "neither a time, a volume nor a depth"},
        {"2027-07-12,pots,ran,0 min,\n", "2:21", "not between 0.1 and 1440 min"},
        {"2027-07-12,pots,ran,-5 min,\n", "2:21", "not between 0.1 and 1440 min"},
        {"2027-07-12,pots,by hand,900 mm,\n", "2:25", "not between 0 and 500 mm"},
        {"2027-07-12,valve 2,by hand,9 L,\n", "2:28", "minutes, or a row for each zone"},
        {"2027-07-12,pots,did not run,5 min,\n", "2:29", "\"did not run\" has no amount"},
        {"2027-07-12,,rain,12,\n", "2:18", "12 has no unit"},
        {"2027-07-12,,rain,12 L,\n", "2:18", "L is a unit of volume"},
        {"2027-07-12,,rain,,\n", "2:18", "the amount is missing (write it with its unit, such as"},
        {"2027-07-12,pots,feel,mosit,\n", "2:22", "did you mean \"moist\"?"},
        {"2027-07-12,pots,feel,,\n", "2:22", "how the soil feels is missing (write dry, slightly"},
        {"2027-07-12,pots,depletion,wet,\n", "2:27", "wet"},
        {"2027-07-12,pots,meter,5 L,\n", "2:12", "a meter reading has no zone"},
        {"2027-07-12,,meter,5 mm,\n", "2:19", "mm is a unit of"},
        {"2027-07-12,pots,ran,5 min\n", "2:21", "this row has 4 fields, the header 5"},
        {"2027-07-12,pots,ran,\"5 min,\n", "2:21", "never closed"},
        {"2027-07-12,pots,ran,5 min,\n2027-07-12,pots,did not run,,\n", "3:1",
         "this watering ran all the same on line 2 (keep one of the two)"},
        {"2027-07-12,,did not run,,\n2027-07-12,pots,ran,5 min,\n", "3:1",
         "this watering did not run on line 2"},
        {"2027-07-12,,rain,1 mm,\n2027-07-12,,rain,2 mm,\n", "3:1",
         "rain stands there already, on line 2 (put all the gauge caught into one row)"},
        {"2027-07-12,pots,feel,dry,\n2027-07-12,pots,depletion,2 mm,\n", "3:1", "keep the last"},
        {"2027-07-12,,meter,1 L,\n2027-07-12,,meter,2 L,\n", "3:1", "the meter of this day"},
    };
    for (const Bad& log : bad) {
      const Read<WaterLog> read = read_water_log(header + log.rows, "log.csv", terrace());
      const std::string text = all_text(read.findings);
      CAPTURE(log.rows);
      CAPTURE(text);
      CHECK_FALSE(read.value.has_value());
      CHECK(read.findings.size() == 1);
      CHECK(text.starts_with("log.csv:" + log.place + ": error: "));
      CHECK(text.find(log.says) != std::string::npos);
    }
    const auto headers = [](const std::string& csv) {
      return all_text(read_water_log(csv, "log.csv", terrace()).findings);
    };
    CHECK(headers("date,zone,what,ammount\n")
              .find("1:1: error: there is no column \"amount\" (did "
                    "you mean it by \"ammount\"?)") != std::string::npos);
    CHECK(headers("date,Date,zone,what,amount\n").find("1:6: error: the column \"Date\"") !=
          std::string::npos);
    CHECK(headers("date;zone;what;amount\n2027-07-12;pots;ran;8.5 mm\n").find("decimal comma") !=
          std::string::npos);
    CHECK(headers(std::string("date,zone\0,what\n", 16)).find("not plain text") !=
          std::string::npos);
  }

  TEST_CASE("water log - a meter that counts back is doubted") {
    const Read<WaterLog> read =
        read_water_log(header + std::string("2027-07-19,,meter,5 L,\n2027-07-12,,meter,900 L,\n"),
                       "log.csv", terrace());
    REQUIRE(read.value.has_value());
    CHECK(all_text(read.findings)
              .starts_with("log.csv:2:1: doubt: the meter shows less than on 2027-07-12, line 3"));
  }

  TEST_CASE("water log - one row more as the file is written") {
    const LogRow row{.date = "2027-07-12",
                     .zone = "terrace bed",
                     .what = "ran",
                     .amount = "8.5 mm",
                     .note = "hot, dry"};
    CHECK(with_row("", row) ==
          std::string(header) + "2027-07-12,terrace bed,ran,8.5 mm,\"hot, dry\"\n");
    // No line end at the end: the last row must not be run into.
    CHECK(with_row("date,zone,what,amount,note\n2027-07-11,,rain,1 mm,", row) ==
          "date,zone,what,amount,note\n2027-07-11,,rain,1 mm,\n"
          "2027-07-12,terrace bed,ran,8.5 mm,\"hot, dry\"\n");
    CHECK(with_row("\xEF\xBB\xBFnote;who;amount;zone;what;date\r\n", row) ==
          "\xEF\xBB\xBFnote;who;amount;zone;what;date\r\n"
          "\"hot, dry\";;\"8,5 mm\";terrace bed;ran;2027-07-12\r\n");
    CHECK(
        with_row(
            "date\tzone\twhat\tamount\n",
            {.date = "2027-07-12", .zone = "pots", .what = "feel", .amount = "dry", .note = ""}) ==
        "date\tzone\twhat\tamount\n2027-07-12\tpots\tfeel\tdry\n");
  }

  TEST_CASE("water log - no cell that a spreadsheet would reckon with, and it is read back") {
    for (const std::string note : {"=1+2", "+44", "-", "-x", "@me", "#hash", "say \"no\"", "a,b"}) {
      CAPTURE(note);
      const std::string csv = with_row("note,date,zone,what,amount\n", {.date = "2027-07-12",
                                                                        .zone = "-shade",
                                                                        .what = "by hand",
                                                                        .amount = "2 L",
                                                                        .note = note});
      const WaterLog log = log_of(csv);
      REQUIRE(log.entries.size() == 1);
      CHECK(log.entries[0].note == note);
      CHECK(log.entries[0].zones == std::vector<std::size_t>{2});
      CHECK(csv.find("\"'-shade\"") != std::string::npos);
    }
  }

  TEST_CASE("water log - what must not be written") {
    const LogRow rain{
        .date = "2027-07-12", .zone = "", .what = "rain", .amount = "2 mm", .note = ""};
    const auto refusal = [&](const std::string& csv, const LogRow& row) {
      const Read<std::string> text = with_log_row(csv, "log.csv", row, terrace());
      CHECK_FALSE(text.value.has_value());
      return all_text(text.findings);
    };
    CHECK(refusal(std::string(header) + "2027-07-12,,rain,1 mm,\n", rain) ==
          "log.csv:3:1: error: not written: this day's rain stands there already, on line 2 (put "
          "all the gauge caught into one row)\n");
    CHECK(refusal(std::string(header) + "never,,rain,1 mm,\n", rain)
              .starts_with("log.csv:2:1: error: \"never\" is not a date"));
    LogRow noted = rain;
    noted.note = "x";
    CHECK(refusal("date,zone,what,amount\n", noted)
              .starts_with("log.csv:1:1: error: there is no column \"note\""));
    noted.note = "two\nlines";
    CHECK(all_text(read_log_row(noted, terrace()).findings).starts_with("error: note: "));
    noted.note = "\xFF";
    CHECK_FALSE(read_log_row(noted, terrace()).value.has_value());
    CHECK(read_log_row(rain, terrace()).value.has_value());
  }

  TEST_CASE("water log - the garden's own file") {
    const TemporaryFolder folder;
    Garden garden = terrace();
    garden.file = folder / "garden.yaml";
    std::vector<Finding> findings;
    CHECK(water_log_of(garden, findings).entries.empty());
    CHECK(findings.empty());
    CHECK_THROWS_AS((void)water_log_path(garden), InputError);
    garden.log = "log.csv";
    CHECK(water_log_of(garden, findings).entries.empty());
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].kind == Finding::Kind::remark);
    const LogRow row{
        .date = "2027-07-12", .zone = "pots", .what = "by hand", .amount = "2 L", .note = ""};
    CHECK(add_to_water_log(row, garden) == folder / "log.csv");
    (void)add_to_water_log(row, garden);
    CHECK(water_log_of(garden, findings).entries.size() == 2);
    CHECK(folder.entries() == 1);
  }
}

}  // namespace runnel

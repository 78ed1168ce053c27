// The same run in both systems of units and by both clocks.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <regex>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "folder.hpp"
#include "runnel/units/number.hpp"

namespace runnel {
namespace {

/// Units that stand for each other, and how many of the metric one the US one is: NIST SP 811
/// (2008) Appendix B.8.
struct Twin {
  const char *metric, *us;
  double factor, offset = 0.0;
};
constexpr std::array<Twin, 12> twins{{{"mm", "in", 25.4},
                                      {"cm", "in", 2.54},
                                      {"mm/h", "in/h", 25.4},
                                      {"mm/d", "in/d", 25.4},
                                      {"L", "gal", 3.785411784},
                                      {"m2", "sq ft", 0.09290304},
                                      {"L/h", "gph", 3.785411784},
                                      {"L/min", "gpm", 3.785411784},
                                      {"bar", "psi", 0.06894757},
                                      {"degC", "degF", 5.0 / 9.0, -160.0 / 9.0},
                                      {"m/s", "mph", 0.44704},
                                      {"m", "ft", 0.3048}}};

struct Figure {
  double value;       ///< metric
  double half_digit;  ///< of the last one printed, metric
};

double half_digit(const std::string& number) {
  const std::size_t dot = number.find('.');
  return 0.5 * std::pow(10.0, dot == std::string::npos
                                  ? 0.0
                                  : -static_cast<double>(number.size() - dot - 1));
}

/// Without line ends, and without what the signs of a bar stand for: round figures in both systems.
std::string on_one_line(const std::string& text) {
  const std::string line = std::regex_replace(text, std::regex("\\s+"), " ");
  return std::regex_replace(line, std::regex("a sign is (half a|[0-9.]+) (mm|in)|0.04 in a sign"),
                            "");
}

/// All numbers of a text that have that unit after them, by size.
std::vector<Figure> figures(const std::string& text, const std::string& unit, double factor,
                            double offset) {
  std::vector<Figure> found;
  const std::regex form("(-?[0-9]+(?:\\.[0-9]+)?) " + unit + "(?![A-Za-z0-9/])");
  for (std::sregex_iterator it(text.begin(), text.end(), form), end; it != end; ++it) {
    const std::string number = (*it)[1];
    found.push_back({.value = *parse_number(number) * factor + offset,
                     .half_digit = half_digit(number) * factor});
  }
  std::sort(found.begin(), found.end(),
            [](const Figure& a, const Figure& b) { return a.value < b.value; });
  return found;
}

/// Every measure of the one text stands in the other, within the rounding of both.
/// @return how many there are.
std::size_t check_measures(const std::string& metric, const std::string& us) {
  std::size_t measures = 0;
  for (const Twin& twin : twins) {
    CAPTURE(twin.metric);
    const auto of_metric = figures(metric, twin.metric, 1.0, 0.0);
    if (std::string(twin.us) == "in") continue;  // of mm and cm together, below
    const auto of_us = figures(us, twin.us, twin.factor, twin.offset);
    REQUIRE(of_metric.size() == of_us.size());
    measures += of_us.size();
    for (std::size_t i = 0; i < of_us.size(); ++i)
      CHECK(std::abs(of_metric[i].value - of_us[i].value) <=
            of_metric[i].half_digit + of_us[i].half_digit + 1e-9);
  }
  auto depths = figures(metric, "mm", 1.0, 0.0);
  for (const Figure& size : figures(metric, "cm", 10.0, 0.0)) depths.push_back(size);
  std::sort(depths.begin(), depths.end(),
            [](const Figure& a, const Figure& b) { return a.value < b.value; });
  const auto in_inches = figures(us, "in", 25.4, 0.0);
  REQUIRE(depths.size() == in_inches.size());
  for (std::size_t i = 0; i < depths.size(); ++i)
    CHECK(std::abs(depths[i].value - in_inches[i].value) <=
          depths[i].half_digit + in_inches[i].half_digit + 1e-9);
  return measures + depths.size();
}

/// Rows of the table under a heading, as cells.
std::vector<std::vector<std::string>> rows_under(const std::string& text,
                                                 const std::string& heading) {
  std::vector<std::vector<std::string>> rows;
  const std::size_t at = text.find(heading);
  REQUIRE_MESSAGE(at != std::string::npos, heading);
  std::istringstream shown(text.substr(text.find('\n', at) + 1));
  for (std::string line; std::getline(shown, line) && !line.empty();) {
    std::istringstream words(line);
    rows.emplace_back();
    for (std::string word; words >> word;) rows.back().push_back(word);
  }
  return rows;
}

/// The numbers of two tables, cell by cell: each is `factor` of the other or, as a count or a
/// factor, the same. @return how many are converted
int check_table(const std::string& metric, const std::string& us, const std::string& heading,
                const std::string& us_heading, double factor) {
  const auto before = rows_under(metric, heading), after = rows_under(us, us_heading);
  REQUIRE(before.size() == after.size());
  int converted = 0;
  for (std::size_t r = 0; r < before.size(); ++r) {
    REQUIRE(before[r].size() == after[r].size());
    for (std::size_t c = 0; c < before[r].size(); ++c) {
      if (before[r][c] == after[r][c]) continue;
      const auto a = parse_number(before[r][c]), b = parse_number(after[r][c]);
      if (before[r][c].find_first_not_of("#+-|.[]>") == std::string::npos) continue;  // a bar
      if (before[r][c] == "mm" && after[r][c] == "in") continue;
      REQUIRE_MESSAGE((a && b), before[r][c] << " and " << after[r][c]);
      CHECK(std::abs(*a - *b * factor) <=
            half_digit(before[r][c]) + half_digit(after[r][c]) * factor + 1e-9);
      ++converted;
    }
  }
  return converted;
}

const fs::path eight = fs::path(RUNNEL_TEST_DATA) / "pages/eight";
constexpr const char* us = " --units us";

/// Columns on a terminal: two for each character of East Asian scripts and each emoji, none for
/// marks that turn the direction of text (U+202A to U+202E).
std::size_t columns_of(const std::string& text) {
  const std::string utf8 = std::regex_replace(text, std::regex("\xE2\x80[\xAA-\xAE]"), "");
  std::size_t columns = 0;
  for (const char c : utf8) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte & 0xC0U) == 0x80U) continue;
    columns += byte >= 0xE3 ? 2 : 1;
  }
  return columns;
}

}  // namespace

TEST_SUITE("cli") {
  TEST_CASE("display - every measure is the same in both systems") {
    const Folder folder;
    REQUIRE(folder.run("plan garden.yaml --save plan.yaml").exit == 0);
    for (const std::string args :
         {"plan garden.yaml", "plan garden.yaml --until 2026-07-30", "compare garden.yaml",
          "replan garden.yaml --after plan.yaml --from 2026-07-14",
          "plan garden.yaml --explain 'terrace bed'", "plan garden.yaml --explain 'wall border'",
          "plan garden.yaml --explain 'pots by the door'",
          "compare garden.yaml --between 'wall border' 'terrace bed'"}) {
      CAPTURE(args);
      const Result metric = folder.run(args), american = folder.run(args + us);
      CHECK(metric.exit == american.exit);
      // The sources that --explain names keep the units they are published in.
      const auto told = [](const std::string& text) {
        const std::size_t sources_end = text.find("2. DAY BY DAY");
        return on_one_line(sources_end == std::string::npos ? text : text.substr(sources_end));
      };
      const std::size_t measures = check_measures(told(metric.out), told(american.out));
      CHECK((measures > 2 || has(args, "--between")));
    }
  }

  TEST_CASE("display - a plan that falls short and what would mend it in both systems") {
    const Folder folder;
    folder.replace("garden.yaml", "[\"04:30-08:00\", \"20:30-22:30\"]", "[\"06:00-06:45\"]");
    const Result metric = folder.run("plan garden.yaml"),
                 american = folder.run("plan garden.yaml --units us");
    CHECK(american.exit == 1);
    CHECK(has(american.out, " gph each instead of "));
    CHECK(has(american.err, " in on average"));
    CHECK(check_measures(on_one_line(metric.out + metric.err),
                         on_one_line(american.out + american.err)) > 20);
  }

  TEST_CASE("display - tables in both systems") {
    const Folder folder;
    const auto both = [&folder](const std::string& args) {
      return std::pair(folder.run(args).out, folder.run(args + us).out);
    };
    const auto [plan, us_plan] = both("plan garden.yaml");
    CHECK(has(us_plan, "MINUTES  US GAL\n"));
    const auto [compare, us_compare] = both("compare garden.yaml");
    CHECK(check_table(compare, us_compare, "DAY BY DAY, mm", "DAY BY DAY, in", 25.4) == 4 * 8);
    const auto [between, us_between] =
        both("compare garden.yaml --between 'wall border' 'terrace bed'");
    CHECK(check_table(between, us_between, "reference ET, mm", "reference ET, in", 25.4) == 2);
    CHECK(has(us_between, "gallons used"));
    CHECK(has(us_between, "area, sq ft"));
    const auto [explain, us_explain] = both("plan garden.yaml --explain 'terrace bed'");
    CHECK(check_table(explain, us_explain, "\nday ", "\nday ", 25.4) > 20);
    CHECK(has(us_explain, "converted for reading"));
  }

  TEST_CASE("display - no metric unit is left in a report in US units") {
    const Folder folder;
    REQUIRE(folder.run("plan garden.yaml --save plan.yaml").exit == 0);
    const std::regex metric("[0-9] (mm|cm|L|m2|L/h|L/min|degC|bar|mm/h|mm/d)\\b");
    for (const std::string args :
         {"plan garden.yaml", "compare garden.yaml", "plan garden.yaml --until 2026-07-30",
          "replan garden.yaml --after plan.yaml --from 2026-07-14", "check garden.yaml",
          "plan garden.yaml --format ics"}) {
      CAPTURE(args);
      const std::string out = unwrapped(folder.run(args + us).out);
      std::smatch found;
      CHECK_MESSAGE(!std::regex_search(out, found, metric), found.str());
    }
  }

  TEST_CASE("display - what programs read stays metric and has 24 hours") {
    const Folder folder;
    folder.replace("garden.yaml", "[\"04:30-08:00\", \"20:30-22:30\"]", "[\"06:00-06:45\"]");
    REQUIRE(folder.run("plan garden.yaml --save metric.yaml").exit == 1);
    for (const std::string args :
         {"plan garden.yaml --format csv", "plan garden.yaml --format json",
          "plan garden.yaml --doubts --format csv", "compare garden.yaml --format json",
          "compare garden.yaml --between 'wall border' 'terrace bed' --format csv",
          "plan garden.yaml --until 2026-07-22 --format json",
          "replan garden.yaml --after metric.yaml --from 2026-07-14 --format csv",
          "replan garden.yaml --after metric.yaml --from 2026-07-14 --format json"}) {
      CAPTURE(args);
      const std::string out = folder.run(args).out;
      CHECK_FALSE(out.empty());
      CHECK(out == folder.run(args + " --units us --clock 12").out);
    }
    REQUIRE(folder.run("plan garden.yaml --save us.yaml --units us --clock 12").exit == 1);
    CHECK(folder.text("metric.yaml") == folder.text("us.yaml"));
  }

  TEST_CASE("display - times of day by a clock of twelve hours") {
    const Folder folder;
    const std::string twelve = " --clock 12";
    const std::string plan = folder.run("plan garden.yaml" + twelve).out;
    CHECK(has(plan, " 4:30 am "));
    CHECK_FALSE(has(plan, "04:30"));
    CHECK(has(plan, ", 4:30 am, when the first valve opens."));
    CHECK(has(folder.run("plan garden.yaml --format ics" + twelve).out, "4:30 am"));
    folder.replace("garden.yaml", "[\"04:30-08:00\", \"20:30-22:30\"]",
                   "[\"00:00-02:00\", \"12:00-14:00\"]");
    const std::string odd = folder.run("plan garden.yaml" + twelve).out;
    CHECK(has(odd, "midnight"));
    CHECK_FALSE(has(odd, "12:00"));
    CHECK(has(odd, "the first valve opens at midnight."));
  }

  TEST_CASE("display - wide names and all figures fit in 80 columns") {
    const Folder folder;
    for (const char* name : {"garden.yaml", "weather.csv", "forecast.csv"})
      folder.write(name, read(eight / name));
    REQUIRE(folder.run("plan garden.yaml --save plan.yaml").exit <= 1);
    for (const std::string args :
         {"plan garden.yaml", "compare garden.yaml", "plan garden.yaml --doubts",
          "replan garden.yaml --after plan.yaml"})
      for (const char* display : {"", " --units us", " --units us --clock 12"}) {
        CAPTURE(args + display);
        std::istringstream shown(folder.run(args + display).out);
        for (std::string line; std::getline(shown, line);)
          CHECK_MESSAGE(columns_of(line) <= 80, line);
      }
  }

  TEST_CASE("display - what is no system and no clock is wrong usage") {
    const Folder folder;
    for (const char* args : {"plan garden.yaml --units imperial", "plan garden.yaml --clock 13"}) {
      const Result result = folder.run(args);
      CHECK(result.exit == 2);
      CHECK(result.out.empty());
    }
  }
}

}  // namespace runnel

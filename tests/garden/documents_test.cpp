// README, DEVELOPERS and the pages of data/docs and examples: links lead somewhere, garden entries
// in the text are read, and the method page has the equations that the headers cite.
#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "runnel/garden/files.hpp"
#include "runnel/garden/garden.hpp"
#include "runnel/weather/series.hpp"
#include "runnel/weather/weather_csv.hpp"

using namespace runnel;
namespace fs = std::filesystem;

namespace {

using Words = std::set<std::string>;

const fs::path root = RUNNEL_SOURCE_DIR;

std::string text_of(const fs::path& path) { return read_file(path.string()); }

std::vector<fs::path> pages() {
  std::vector<fs::path> found{root / "README.md", root / "DEVELOPERS.md",
                              root / "examples/README.md"};
  for (const auto& entry : fs::directory_iterator(root / "data/docs"))
    if (entry.path().extension() == ".md") found.push_back(entry.path());
  return found;
}

/// Without what stands between ``` lines, and without what is shown as an error.
std::string prose_of(const std::string& page) {
  std::string prose;
  std::istringstream lines(page);
  bool in_code = false;
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("```"))
      in_code = !in_code;
    else if (!in_code && line.find("| `error: ") == std::string::npos)
      prose += line + "\n";
  }
  return prose;
}

std::vector<std::string> matches(const std::string& text, const std::regex& pattern) {
  std::vector<std::string> found;
  for (std::sregex_iterator at(text.begin(), text.end(), pattern), end; at != end; ++at)
    found.push_back((*at)[1]);
  return found;
}

/// "zones: soil:" -> "zones-soil", as GitHub and most viewers make it.
std::string anchor_of(const std::string& heading) {
  std::string anchor;
  for (const char c : heading) {
    if (std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '_')
      anchor += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    else if (c == ' ')
      anchor += '-';
  }
  return anchor;
}

Words anchors_of(const fs::path& page) {
  Words anchors;
  for (const std::string& heading :
       matches(prose_of(text_of(page)), std::regex("(?:^|\n)#+ ([^\n]+)")))
    anchors.insert(anchor_of(heading));
  return anchors;
}

bool is_within(const fs::path& path, const fs::path& folder) {
  return !path.lexically_normal().lexically_relative(folder).string().starts_with("..");
}

/// What is wrong with a link of a page; empty when nothing is.
std::string fault_of(const fs::path& page, const std::string& link) {
  if (link.starts_with("http://") || link.starts_with("https://")) return {};
  const std::size_t hash = std::min(link.find('#'), link.size());
  const fs::path target = hash == 0 ? page : page.parent_path() / link.substr(0, hash);
  if (!fs::exists(target)) return "leads nowhere";
  const fs::path data = root / "data";  // its folders are installed alone
  if (is_within(page, data) && !is_within(target, data)) return "leads out of data";
  if (hash < link.size() && anchors_of(target).count(link.substr(hash + 1)) == 0)
    return "no such heading";
  return {};
}

/// Comment lines joined, so that a citation may go over two.
std::string joined_comments(const std::string& source) {
  return std::regex_replace(source, std::regex("\n\\s*///?<?"), "");
}

/// A standard and the number of one of its equations.
using Equation = std::pair<std::string, std::string>;
using Equations = std::set<Equation>;

std::string words_of(const Equation& one) { return one.first + " Eq. " + one.second; }

/// "62" of one equation, "77-79" of those from 77 to 79. A longer range names none of them, and an
/// annex's "7-3" or "3-11" is one equation: both stay as they are.
std::vector<std::string> numbers_of(const std::string& cited) {
  constexpr int longest = 3;
  const std::size_t dash = cited.find('-');
  if (dash == std::string::npos) return {cited};
  const int first = std::stoi(cited);
  const int last = std::stoi(cited.substr(dash + 1));
  if (last <= first || last - first >= longest) return {cited};
  std::vector<std::string> numbers;
  for (int number = first; number <= last; ++number) numbers.push_back(std::to_string(number));
  return numbers;
}

/// Equations cited in a text: "FAO-56 Eq. 62, 65". Where no standard stands beside it is the last
/// that was named, FAO-56 before any is.
Equations equations_of(const std::string& text) {
  static const std::regex named_or_cited(
      "(FAO-56|ASCE|Duffie and Beckman|Erbs, Klein and Duffie)"
      R"(|Eqs?\.\s+(\d+(?:\.\d+)*(?:-\d+)?(?:(?:, | and )\d+(?:-\d+)?)*))");
  static const std::regex one(R"((\d+(?:\.\d+)*(?:-\d+)?))");
  Equations equations;
  std::string standard = "FAO-56";
  for (std::sregex_iterator at(text.begin(), text.end(), named_or_cited), end; at != end; ++at) {
    if ((*at)[1].matched) standard = (*at)[1];
    for (const std::string& cited : matches((*at)[2], one))
      for (const std::string& number : numbers_of(cited)) equations.emplace(standard, number);
  }
  return equations;
}

Equations equations_below(const fs::path& folder) {
  Equations equations;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.path().extension() == ".hpp" || entry.path().extension() == ".cpp")
      equations.merge(equations_of(joined_comments(text_of(entry.path()))));
  return equations;
}

}  // namespace

TEST_SUITE("documents") {
  TEST_CASE("documents - every link leads somewhere") {
    int links = 0;
    for (const fs::path& page : pages()) {
      const std::string prose =
          std::regex_replace(prose_of(text_of(page)), std::regex("`[^`]*`"), "");
      for (const std::string& link : matches(prose, std::regex(R"(\]\(([^)\s]+)\))"))) {
        CHECK_MESSAGE(fault_of(page, link).empty(),
                      (page.filename().string() + ": " + link + " " + fault_of(page, link)));
        ++links;
      }
    }
    CHECK(links > 50);
    CHECK(fault_of(root / "README.md", "data/docs/none.md") == "leads nowhere");
    CHECK(fault_of(root / "README.md", "data/docs/method.md#none") == "no such heading");
    CHECK(fault_of(root / "README.md", "#take-care").empty());
    CHECK(fault_of(root / "data/docs/method.md", "../../README.md") == "leads out of data");
  }

  TEST_CASE("documents - every page is reached from the README") {
    const std::string readme = text_of(root / "README.md");
    for (const fs::path& page : pages())
      if (page.parent_path().filename() == "docs")
        CHECK_MESSAGE(readme.find("](data/docs/" + page.filename().string()) != std::string::npos,
                      page.filename().string());
  }

  TEST_CASE("documents - garden entries in the text are read") {
    const std::regex entry(
        "`((?:supply|timer|rules|weather|emitters|soil|plants|exposure|containers): [\\[{][^`]*)`");
    int entries = 0;
    for (const fs::path& page : pages())
      for (std::string written : matches(prose_of(text_of(page)), entry)) {
        std::replace(written.begin(), written.end(), '\n', ' ');
        const bool of_garden =
            std::regex_search(written, std::regex("^(supply|timer|rules|weather)"));
        const std::string garden = of_garden ? written : "zones: [{" + written + "}]";
        for (const Finding& finding : read_garden(garden + "\n", "garden.yaml").findings)
          CHECK_MESSAGE(
              (finding.kind != Finding::Kind::error || finding.says.ends_with(" is missing")),
              (written + ": " + to_text(finding)));
        ++entries;
      }
    CHECK(entries > 15);
  }

  TEST_CASE("documents - weather columns are read as their page says") {
    const std::string page = text_of(root / "data/docs/weather-files.md");
    const std::regex row(R"(\n\| (\w+) \| [^|]* \| (\S+) \|([^|]*)\|([^|]*)\|)");
    const std::regex quoted_word("`([^`]+)`");
    std::size_t columns = 0;
    for (std::sregex_iterator at(page.begin(), page.end(), row), end; at != end; ++at) {
      const std::string column = (*at)[1];
      if (column == "column") continue;
      CAPTURE(column);
      const auto variable = variable_named(column);
      REQUIRE(variable);
      ++columns;
      std::vector<std::string> headers = matches((*at)[4], quoted_word);
      CHECK(headers.size() >= 2);
      for (const std::string& unit : matches((*at)[3], quoted_word))
        headers.push_back(column + " [" + unit + "]");
      headers.push_back(column);
      // Beside it a column with something in it: a file without any value is refused.
      const std::string other = column == "rain" ? "tmax" : "rain";
      const auto read_headed = [&other](const std::string& header) {
        return parse_weather("date," + header + "," + other + "\n2027-06-01,,0\n", "weather.csv",
                             {});
      };
      for (const std::string& header : headers) {
        const Read<WeatherSeries> read = read_headed(header);
        CHECK_MESSAGE((read.value && read.value->has(*variable)), header);
      }
      const std::string unit = "\"" + column + "\" in " + (*at)[2].str();
      bool taken = false;
      for (const Finding& finding : read_headed(column).findings)
        taken = taken || finding.says.find(unit) != std::string::npos;
      CHECK(taken);
    }
    CHECK(columns == variable_count);
  }

  TEST_CASE("documents - the method page has the equations that the headers cite") {
    const Equations page = equations_of(text_of(root / "data/docs/method.md"));
    const Equations headers = equations_below(root / "lib/include");
    CHECK(headers.size() > 60);
    for (const Equation& one : headers) CHECK_MESSAGE(page.count(one) == 1, words_of(one));
    Equations cited = headers;
    for (const char* folder : {"lib/src", "cli"}) cited.merge(equations_below(root / folder));
    for (const Equation& one : page) CHECK_MESSAGE(cited.count(one) == 1, words_of(one));
  }

  TEST_CASE("documents - an equation is one of its standard") {
    CHECK(equations_of("Eq. 77-79. ASCE Eq. 56, FAO-56 Eq. 62 and 65") ==
          Equations{{"FAO-56", "77"},
                    {"FAO-56", "78"},
                    {"FAO-56", "79"},
                    {"ASCE", "56"},
                    {"FAO-56", "62"},
                    {"FAO-56", "65"}});
    CHECK(equations_of("FAO-56 Eq. 82-88, 3-11") ==
          Equations{{"FAO-56", "82-88"}, {"FAO-56", "3-11"}});
  }
}

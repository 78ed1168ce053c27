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

/// What is wrong with a link of a page; empty when nothing is.
std::string fault_of(const fs::path& page, const std::string& link) {
  if (link.starts_with("http://") || link.starts_with("https://")) return {};
  const std::size_t hash = std::min(link.find('#'), link.size());
  const fs::path target = hash == 0 ? page : page.parent_path() / link.substr(0, hash);
  if (!fs::exists(target)) return "leads nowhere";
  if (hash < link.size() && anchors_of(target).count(link.substr(hash + 1)) == 0)
    return "no such heading";
  return {};
}

/// Comment lines joined, so that a citation may go over two.
std::string joined_comments(const std::string& source) {
  return std::regex_replace(source, std::regex("\n\\s*///?<?"), "");
}

/// Numbers of equations: "Eq. 62, 65" -> 62 and 65; "82-88" and "7-3" stay as they are.
Words equations_of(const std::string& text) {
  Words equations;
  const std::regex cited(R"(Eqs?\.\s+((?:\d+(?:\.\d+)*(?:-\d+)?)(?:(?:, | and )\d+(?:-\d+)?)*))");
  for (const std::string& list : matches(text, cited))
    for (const std::string& one : matches(list, std::regex(R"((\d+(?:\.\d+)*(?:-\d+)?))")))
      equations.insert(one);
  return equations;
}

Words equations_below(const fs::path& folder) {
  Words equations;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.path().extension() == ".hpp" || entry.path().extension() == ".cpp")
      equations.merge(equations_of(joined_comments(text_of(entry.path()))));
  return equations;
}

/// "82-88" names 82 to 88, too; "7-3" is one equation of an annex.
Words spread(const Words& equations) {
  Words all = equations;
  for (const std::string& one : equations) {
    const std::size_t dash = one.find('-');
    if (dash == std::string::npos) continue;
    const int first = std::stoi(one);
    const int last = std::stoi(one.substr(dash + 1));
    for (int number = first; number <= last; ++number) all.insert(std::to_string(number));
  }
  return all;
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
    const Words page = equations_of(text_of(root / "data/docs/method.md"));
    const Words headers = equations_below(root / "lib/include");
    CHECK(headers.size() > 60);
    for (const std::string& equation : headers) {
      if (page.count(equation) == 0) {  // of a range its two ends will do
        CAPTURE(equation);
        const std::size_t dash = equation.find('-');
        REQUIRE(dash != std::string::npos);
        CHECK(page.count(equation.substr(0, dash)) == 1);
        CHECK(page.count(equation.substr(dash + 1)) == 1);
      }
    }
    Words cited = headers;
    for (const char* folder : {"lib/src", "cli"}) cited.merge(equations_below(root / folder));
    cited = spread(cited);
    for (const std::string& equation : page) CHECK_MESSAGE(cited.count(equation) == 1, equation);
  }
}

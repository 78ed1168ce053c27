#include <map>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "folder.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

std::string explained(const std::string& garden, const std::string& zone) {
  const Folder folder;
  const Result result =
      folder.run("plan '" RUNNEL_SOURCE_DIR "/examples/" + garden + "' --explain '" + zone + "'");
  CAPTURE(result.err);
  CHECK(result.exit <= 1);
  return result.out;
}

/// The figures of each table of days, by the heading they stand under. [days]
std::vector<std::map<std::string, double>> days_of(const std::string& text) {
  std::vector<std::map<std::string, double>> days;
  std::istringstream lines(text);
  std::vector<std::string> headings;
  std::size_t day = 0;
  for (std::string line; std::getline(lines, line);) {
    std::istringstream cells(line);
    if (line.starts_with("day  ")) {
      headings.clear();
      for (std::string cell; cells >> cell;) headings.push_back(cell);
      day = 0;
    } else if (line.empty()) {
      headings.clear();
    } else if (!headings.empty()) {
      for (int word = 0; word < 3; ++word) cells >> line;  // "Mon 12 Jul"
      if (days.size() <= day) days.emplace_back();
      for (std::size_t c = 1; c < headings.size(); ++c) cells >> days[day][headings[c]];
      ++day;
    }
  }
  return days;
}

// FAO-56 Eq. 69: ETc = Kcb ETo + E, here with the exposure, less what plants go without.
void check_rows(const std::string& text) {
  const auto days = days_of(text);
  REQUIRE(days.size() == 7);
  for (const std::map<std::string, double>& day : days) {
    const auto at = [&day](const std::string& heading) {
      const auto found = day.find(heading);
      return found == day.end() ? 0.0 : found->second;
    };
    const double product = at("ETo") * at("expos.") * at("coeff.");
    // Half the last digit of what is multiplied, and of what is added.
    const double rounded = 0.005 * (at("expos.") * at("coeff.") + at("ETo") * at("coeff.") +
                                    at("ETo") * at("expos.")) +
                           0.016;
    CHECK(product == near(at("ETc") + at("unmet") - at("E"), rounded));
  }
}

}  // namespace

TEST_SUITE("cli") {
  TEST_CASE("explain - each row multiplies out in one future and in the first of many") {
    for (const auto& [garden, zone] : {std::pair{"orchard/garden.yaml", "plums"},
                                       {"orchard/garden.yaml", "vines on the wall"},
                                       {"terrace/away.yaml", "wall border"},
                                       {"terrace/away.yaml", "pots by the door"},
                                       {"kitchen/garden.yaml", "new hedge"}}) {
      CAPTURE(garden);
      CAPTURE(zone);
      check_rows(explained(garden, zone));
    }
  }

  TEST_CASE("explain - what plants go without is shown, so that rows multiply out") {
    const Folder folder;
    folder.replace("garden.yaml", "[\"04:30-08:00\", \"20:30-22:30\"]", "[\"06:00-06:15\"]");
    const Result result = folder.run("plan garden.yaml --explain 'pots by the door'");
    CHECK(result.exit == 1);
    CHECK(has(result.out, "day         unmet\n"));
    check_rows(result.out);
  }

  TEST_CASE("explain - of many futures it is said which one is shown and in how many it holds") {
    const std::string many = explained("orchard/garden.yaml", "plums");
    CHECK(has(many, "the first of 64 futures"));
    CHECK(has(many, "in 53 of 64 futures, as the risk allows"));
    CHECK(has(many, "start or the limit"));
    const std::string one = explained("kitchen/garden.yaml", "new hedge");
    CHECK_FALSE(has(one, "futures"));
    CHECK(has(one, "start or half the limit"));
  }

  TEST_CASE("explain - a valve that is not needed stays shut") {
    const std::string vines = explained("orchard/garden.yaml", "vines on the wall");
    CHECK(has(vines, "set:       stays shut\nWithout water depletion stays within the limit"));
    CHECK_FALSE(has(vines, "minutes each"));
    CHECK_FALSE(has(vines, "0 min"));
  }
}

}  // namespace runnel

// What a plan file holds comes back bit for bit, and nothing else is taken for a plan.
#include "runnel/garden/plan_file.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <bit>
#include <cstdint>
#include <filesystem>
#include <limits>
#include <string>
#include <vector>

#include "runnel/garden/digest.hpp"
#include "runnel/garden/files.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

Garden garden_at(const std::string& path) {
  std::vector<Finding> findings;
  return value_or_throw(read_garden(read_file(path), path), findings);
}

SavedPlan read_back(const std::string& text) {
  std::vector<Finding> findings;
  return value_or_throw(read_plan_file(text, "plan.yaml"), findings);
}

/// All numbers of a plan, as their bits.
std::vector<std::uint64_t> bits_of(const SavedPlan& plan) {
  std::vector<std::uint64_t> bits;
  const auto add = [&bits](double value) { bits.push_back(std::bit_cast<std::uint64_t>(value)); };
  for (const SavedZone& zone : plan.zones) {
    add(zone.litres);
    add(zone.demand_mm);
    for (const double depletion_mm : zone.expected_mm) add(depletion_mm);
    for (const SoilState& state : {zone.start, zone.end})
      for (const double value :
           {state.depletion_mm, state.dry_mm, state.surface_mm, state.surface_fw})
        add(value);
  }
  for (const SavedDay& day : plan.weather) {
    add(day.eto_mm);
    add(day.rain_mm);
  }
  return bits;
}

void check_alike(const SavedPlan& read, const SavedPlan& written) {
  CHECK(read.garden == written.garden);
  CHECK(read.from == written.from);
  CHECK(read.until == written.until);
  CHECK(read.percentage == written.percentage);
  CHECK(read.pause_minutes == written.pause_minutes);
  CHECK(read.garden_digest == written.garden_digest);
  CHECK(read.observed_digest == written.observed_digest);
  CHECK(bits_of(read) == bits_of(written));
  REQUIRE(read.programmes.size() == written.programmes.size());
  for (std::size_t p = 0; p < read.programmes.size(); ++p) {
    CHECK(read.programmes[p].days == written.programmes[p].days);
    CHECK(read.programmes[p].starts == written.programmes[p].starts);
    CHECK(read.programmes[p].runs == written.programmes[p].runs);
  }
  REQUIRE(read.by_hand.size() == written.by_hand.size());
  for (std::size_t i = 0; i < read.by_hand.size(); ++i) {
    CHECK(read.by_hand[i].date == written.by_hand[i].date);
    CHECK(read.by_hand[i].valve == written.by_hand[i].valve);
    CHECK(read.by_hand[i].minutes == written.by_hand[i].minutes);
  }
  REQUIRE(read.zones.size() == written.zones.size());
  for (std::size_t z = 0; z < read.zones.size(); ++z) {
    CHECK(read.zones[z].name == written.zones[z].name);
    CHECK(read.zones[z].valve == written.zones[z].valve);
  }
  for (std::size_t day = 0; day < read.weather.size(); ++day)
    CHECK(read.weather[day].source == written.weather[day].source);
  CHECK(plan_file_text(read) == plan_file_text(written));
}

/// Every way to choose days, every kind of text and number.
SavedPlan odd_plan() {
  const Date from{std::chrono::year{2027} / 7 / 12};
  SavedPlan plan{.file = {},
                 .garden = "Nook: \"#1\" \\ caf\xC3\xA9 \x01\n\x7F",
                 .garden_at = {},
                 .from_at = {},
                 .from = from,
                 .until = from + std::chrono::days{6},
                 .programmes = {},
                 .percentage = 85,
                 .pause_minutes = 2,
                 .by_hand = {{.date = from, .valve = 2, .minutes = 15}},
                 .zones = {},
                 .weather = {},
                 .garden_digest = "0",
                 .observed_digest = "yes"};
  const WallTime early{4 * 60 + 5};
  plan.programmes = {
      {.days = Weekdays{0b0001001}, .starts = {early}, .runs = {{.valve = 1, .typed_min = {38}}}},
      {.days = EveryN{.n = 3, .first = from},
       .starts = {early, early * 2},
       .runs = {{.valve = 2, .typed_min = {38, 12}}, {.valve = 3, .typed_min = {7}}}},
      {.days = EveryN{.n = 1, .first = from},
       .starts = {},
       .runs = {{.valve = 4, .typed_min = {}}}},
      {.days = DateParity{true}, .starts = {early}, .runs = {}},
      {.days = DateParity{false}, .starts = {}, .runs = {}},
      {.days = Weekdays{0}, .starts = {}, .runs = {}}};
  const double least = std::numeric_limits<double>::denorm_min();
  plan.zones = {
      {.name = "null",
       .valve = 1,
       .litres = 1e11,
       .demand_mm = 0.1 + 0.2,
       .start = {.depletion_mm = least, .dry_mm = 1.0 / 3.0, .surface_mm = 1e-7, .surface_fw = 0.3},
       .end =
           {.depletion_mm = 0.0, .dry_mm = 123456.789, .surface_mm = 5e-324, .surface_fw = 0.001},
       .expected_mm = {0.0, least, 1.0 / 3.0, 12.5, 1e-7, 123456.789, 0.1 + 0.2}}};
  for (const DaySource source :
       {DaySource::observed, DaySource::forecast, DaySource::record, DaySource::recent_mean})
    plan.weather.push_back({.eto_mm = 2.0 / 3.0, .rain_mm = 1e-20, .source = source});
  return plan;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE_MESSAGE(at != std::string::npos, from);
  return text.replace(at, from.size(), to);
}

Finding only_error(const std::string& text) {
  const Read<SavedPlan> read = read_plan_file(text, "plan.yaml");
  std::string all;
  for (const Finding& finding : read.findings) all += to_text(finding) + "\n";
  CAPTURE(all);
  CHECK_FALSE(read.value);
  REQUIRE(read.findings.size() == 1);
  CHECK(read.findings[0].kind == Finding::Kind::error);
  CHECK(read.findings[0].at.file == "plan.yaml");
  return read.findings[0];
}

std::string place_and_words(const Finding& finding) {
  return std::to_string(finding.at.line) + ":" + std::to_string(finding.at.column) + " " +
         finding.says;
}

}  // namespace

TEST_SUITE("plan file") {
  // Test vectors of the hash's authors, Fowler, Noll and Vo (from memory).
  TEST_CASE("plan file - digests are FNV-1a") {
    CHECK(digest("") == "cbf29ce484222325");
    CHECK(digest("a") == "af63dc4c8601ec8c");
    CHECK(digest("foobar") == "85944171f73967e8");
    CHECK(digest("foo\r\nbar\n") == digest("foo\nbar\n"));
  }

  TEST_CASE("plan file - what every example's plan holds comes back bit for bit") {
    int gardens = 0;
    for (const auto& folder :
         std::filesystem::directory_iterator(std::string(RUNNEL_SOURCE_DIR) + "/examples")) {
      const std::filesystem::path file = folder.path() / "garden.yaml";
      if (!std::filesystem::exists(file)) continue;
      CAPTURE(file.string());
      ++gardens;
      const Garden garden = garden_at(file.string());
      const GardenPlan planned = plan_garden(garden, {});
      const SavedPlan saved = saved_plan(garden, planned);
      CHECK(saved.weather.size() == static_cast<std::size_t>(horizon_days));
      CHECK(saved.zones.size() == garden.zones.size());
      CHECK(saved.zones[0].start.depletion_mm == planned.plan.zones[0].start_depletion_mm);
      CHECK(saved.zones[0].end.depletion_mm == planned.plan.zones[0].end_depletion_mm);
      CHECK(saved.zones[0].expected_mm.size() == 7);
      CHECK(saved.zones[0].expected_mm.back() == near(saved.zones[0].end.depletion_mm, 1e-9));
      check_alike(read_back(plan_file_text(garden, planned)), saved);
    }
    CHECK(gardens >= 2);
  }

  TEST_CASE("plan file - so do all patterns of days and the strangest texts and numbers") {
    check_alike(read_back(plan_file_text(odd_plan())), odd_plan());
  }

  TEST_CASE("plan file - whatever was edited is refused at the line that tells it") {
    const std::string text = plan_file_text(odd_plan());
    for (const auto& [from, to] :
         std::vector<std::pair<std::string, std::string>>{{"minutes: 15", "minutes: 16"},
                                                          {"0.30000000000000004 mm", "0.3 mm"},
                                                          {"# otherwise", "# Otherwise"},
                                                          {"digests:", "\ndigests:"},
                                                          {"text above: \"", "text above: \"0"}}) {
      CAPTURE(to);
      const std::string edited = replaced(text, from, to);
      const Finding finding = only_error(edited);
      CHECK(finding.says == "this plan was edited after it was written");
      CHECK(finding.mend.find("plan anew") != std::string::npos);
      CHECK(finding.mend.find("water log") != std::string::npos);
      CHECK(finding.at.line == std::count(edited.begin(), edited.end(), '\n'));
    }
    CHECK(only_error(text + "# more\n").says == "this plan was edited after it was written");
  }

  TEST_CASE("plan file - other line ends are no edit") {
    std::string crlf;
    for (const char c : plan_file_text(odd_plan())) crlf += c == '\n' ? "\r\n" : std::string(1, c);
    check_alike(read_back(crlf), odd_plan());
  }

  TEST_CASE("plan file - one fault in a file gives one error at its place") {
    constexpr std::string_view start = "# expected: ";
    int files = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(RUNNEL_SOURCE_DIR "/tests/garden/bad_plans")) {
      CAPTURE(entry.path().filename().string());
      const std::string text = read_file(entry.path().string());
      const std::string first = text.substr(0, text.find('\n'));
      REQUIRE(first.starts_with(start));
      const Finding finding = only_error(text);
      CHECK(place_and_words(finding).starts_with(first.substr(start.size())));
      CHECK_FALSE(finding.mend.empty());
      ++files;
    }
    CHECK(files >= 40);
  }
}

}  // namespace runnel

// data/docs/garden-file.md says what the reader knows, no more and no less: keys, limits, defaults,
// words and errors are compared with what the reader answers.
#include <doctest/doctest.h>
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <numbers>
#include <set>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/delivery/emitters.hpp"
#include "runnel/demand/containers.hpp"
#include "runnel/demand/exposure_words.hpp"
#include "runnel/demand/surroundings.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/garden/garden.hpp"
#include "runnel/soil/curve_numbers.hpp"
#include "runnel/soil/mulch.hpp"
#include "runnel/soil/texture.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/published_table.hpp"

using namespace runnel;

namespace {

using Words = std::set<std::string>;

/// A row of a table in Markdown.
using Cells = std::vector<std::string>;
struct Section {
  std::string heading;
  std::vector<Cells> rows;
};

Cells cells_of(const std::string& line) {
  Cells cells;
  std::istringstream parts(line.substr(1));
  for (std::string part; std::getline(parts, part, '|');) cells.emplace_back(trimmed(part));
  return cells;
}

/// Sections with their tables, heads and rules of the tables left out.
std::vector<Section> sections_of(const std::string& document) {
  std::vector<Section> sections;
  std::istringstream lines(document);
  bool in_rows = false;
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("#"))
      sections.push_back(
          {.heading = std::string(trimmed(line.substr(line.find(' ')))), .rows = {}});
    if (!line.starts_with("|")) {
      in_rows = false;
    } else if (line.starts_with("| ---")) {
      in_rows = true;
    } else if (in_rows) {
      sections.back().rows.push_back(cells_of(line));
    }
  }
  return sections;
}

const std::string& document() {
  static const std::string text = read_file(RUNNEL_SOURCE_DIR "/data/docs/garden-file.md");
  return text;
}

/// All rows of another page.
std::vector<Cells> rows_of_page(const std::string& name) {
  std::vector<Cells> rows;
  for (const Section& one : sections_of(read_file(RUNNEL_SOURCE_DIR "/data/docs/" + name)))
    rows.insert(rows.end(), one.rows.begin(), one.rows.end());
  return rows;
}

const Section& section(const std::string& heading) {
  static const std::vector<Section> sections = sections_of(document());
  const auto found = std::find_if(sections.begin(), sections.end(),
                                  [&](const Section& one) { return one.heading == heading; });
  REQUIRE_MESSAGE(found != sections.end(), heading);
  return *found;
}

/// A key as the document has it.
struct Entry {
  std::string key, write, left_out, within;
};
/// "zones.soil" -> its keys; "" is the file itself.
using Places = std::map<std::string, std::vector<Entry>>;

const Places& places() {
  static const Places all = [] {
    Places found;
    for (const Section& one : sections_of(document())) {
      std::string place = one.heading;
      if (place == "The file") place = ":";
      if (!place.ends_with(":")) continue;
      place.pop_back();
      for (std::size_t at = 0; (at = place.find(": ", at)) != std::string::npos;)
        place.replace(at, 2, ".");
      for (const Cells& row : one.rows) {
        REQUIRE_MESSAGE(row.size() == 5, (one.heading + ": " + row[0]));
        REQUIRE_MESSAGE(row[2].starts_with("`"), row[0]);
        found[place].push_back({.key = row[0],
                                .write = row[2].substr(1, row[2].size() - 2),
                                .left_out = row[3],
                                .within = row[4]});
      }
    }
    return found;
  }();
  return all;
}

/// A garden that has these entries at that place, and little else.
std::string garden_with(const std::string& place, const std::string& entries) {
  if (place.empty()) return entries.empty() ? "{}\n" : entries + "\n";
  // What must stand beside a place for the reader to look at it.
  static const std::map<std::string, std::string> beside{
      {"zones.emitters.line", "flow: 2 L/h, count: 9, "},
      {"zones.exposure.also", "direct sun: none, "}};
  static const Words lists{"zones", "rules", "obstructions", "layers", "heads"};
  std::string head;
  std::string tail;
  std::string path;
  std::istringstream steps(place);
  for (std::string step; std::getline(steps, step, '.');) {
    path += (path.empty() ? "" : ".") + step;
    const bool list = lists.count(step) == 1;
    const auto before = beside.find(path);
    if (before != beside.end()) head += before->second;
    head += step + (list ? ": [{" : ": {");
    tail.insert(0, list ? "}]" : "}");
  }
  if (entries.starts_with("flow: 2 L/h, per container"))
    head.insert(head.find("emitters"), "containers: {count: 9}, ");
  const std::string zone = place == "rules" ? "zones: [{name: lawn}]\n" : "";
  return zone + head + entries + tail + "\n";
}

std::vector<Finding> findings_of(const std::string& garden) {
  return read_garden(garden, "garden.yaml").findings;
}

/// "zones.1.soil" -> "zones.soil".
std::string without_numbers(const std::string& path) {
  std::string plain;
  std::istringstream steps(path);
  for (std::string step; std::getline(steps, step, '.');)
    if (step.find_first_not_of("0123456789") != std::string::npos)
      plain += (plain.empty() ? "" : ".") + step;
  return plain;
}

std::string path_of(const std::string& place, const std::string& key) {
  return place.empty() ? key : place + "." + key;
}

/// The same entries with another value for one key.
std::string with_value(const Entry& entry, const YAML::Node& value) {
  YAML::Node map = YAML::Load("{" + entry.write + "}");
  map[entry.key] = value;
  YAML::Emitter out;
  out << YAML::Flow << map;
  const std::string text = out.c_str();
  return text.substr(1, text.size() - 2);
}

constexpr const char* probe = "zzzz";

/// Places at which the reader meets the unknown key.
Words places_of_probe(const std::string& garden) {
  Words found;
  for (const Finding& finding : findings_of(garden))
    if (finding.says == "unknown key \"zzzz\"") found.insert(without_numbers(finding.at.key));
  return found;
}

/// "flow 987654321 L/h is outside 0.1 to 10000 L/h" -> "0.1 to 10000 L/h"; empty when nothing is.
std::string limits_of(const std::string& place, const Entry& entry) {
  const std::string written = YAML::Load("{" + entry.write + "}")[entry.key].IsScalar()
                                  ? YAML::Load("{" + entry.write + "}")[entry.key].Scalar()
                                  : "";
  const std::size_t unit = std::min(written.find_first_not_of("0123456789.-"), written.size());
  if (unit == 0) return {};
  const std::string far = "987654321" + written.substr(unit);
  for (const Finding& finding : findings_of(garden_with(place, with_value(entry, YAML::Node(far)))))
    if (const std::size_t at = finding.says.find(" is outside ");
        at != std::string::npos && without_numbers(finding.at.key) == path_of(place, entry.key))
      return finding.says.substr(at + 12);
  return {};
}

std::string percent(double share) { return shortest(std::stod(fixed(100.0 * share, 1))) + " %"; }

/// The rows of a section, each as one text.
Words rows_of(const std::string& heading) {
  Words rows;
  for (const Cells& cells : section(heading).rows) {
    std::string row;
    for (const std::string& cell : cells) row += (row.empty() ? "" : " | ") + cell;
    rows.insert(row);
  }
  return rows;
}

/// "07:30" of solar time.
std::string solar_clock(double angle_rad) {
  const int minutes = static_cast<int>(std::lround((angle_rad / std::numbers::pi + 1.0) * 720.0));
  const auto two = [](int number) {
    return std::string(number < 10 ? "0" : "") + shortest(number);
  };
  return two(minutes / 60) + ":" + two(minutes % 60);
}

std::string direct_sun(const Exposure& exposure) {
  if (!exposure.sun_hours) return "all day";
  if (exposure.sun_hours->empty()) return "none";
  const SunHours& only = exposure.sun_hours->at(0);
  return solar_clock(only.from_rad) + "-" + solar_clock(only.to_rad);
}

std::string exposure_row(const ExposureWords& row) {
  const Exposure& place = row.exposure;
  return row.words + " | " + direct_sun(place) + " | " + percent(sky_share(place)) + " | " +
         percent(place.canopy_share) + " | " + percent(place.wind_share) + " | " +
         percent(place.albedo) + " | " +
         (place.longwave_share ? percent(*place.longwave_share) : "by the sky seen") + " | " +
         shortest(row.factor);
}

template <class Table, class Row>
Words rows_from(const Table& table, Row row) {
  Words rows;
  for (const auto& one : table) rows.insert(row(one));
  return rows;
}

}  // namespace

TEST_SUITE("garden") {
  TEST_CASE("garden file document - its keys are those that the reader knows") {
    CHECK(places().size() >= 20);
    for (const auto& [place, entries] : places()) {
      if (place == "weather.columns") continue;  // standard names, below
      CAPTURE(place);
      Words documented;
      for (const Entry& entry : entries) documented.insert(entry.key);
      CHECK(documented.size() == entries.size());
      Words known;
      for (const Finding& finding : findings_of(garden_with(place, "zzzz: 1"))) {
        if (finding.says != "unknown key \"zzzz\"" || without_numbers(finding.at.key) != place)
          continue;
        REQUIRE(finding.mend.starts_with("known here: "));
        std::string list = finding.mend.substr(12);
        for (std::size_t at = 0; (at = list.find(", ", at)) != std::string::npos;)
          list.replace(at, 2, "\n");
        std::istringstream keys(list);
        for (std::string key; std::getline(keys, key);) known.insert(key);
      }
      CHECK(documented == known);
    }
  }

  // Whatever takes entries of its own is found by giving every key some.
  TEST_CASE("garden file document - every place with keys of its own has its table") {
    Words met{""};
    YAML::Node unknown;
    unknown[probe] = 1;
    YAML::Node list;
    list.push_back(unknown);
    for (const auto& [place, entries] : places())
      for (const Entry& entry : entries)
        for (const YAML::Node& value : {unknown, list})
          met.merge(places_of_probe(garden_with(place, with_value(entry, value))));
    Words documented;
    for (const auto& [place, entries] : places())
      if (place != "weather.columns") documented.insert(place);
    CHECK(met == documented);
  }

  TEST_CASE("garden file document - what it writes is read") {
    for (const auto& [place, entries] : places())
      for (const Entry& entry : entries)
        for (const Finding& finding : findings_of(garden_with(place, entry.write))) {
          const std::string at = without_numbers(finding.at.key);
          const bool here = (at + ".").starts_with(path_of(place, entry.key) + ".");
          CHECK_MESSAGE(!(here && finding.kind == Finding::Kind::error),
                        (entry.write + ": " + to_text(finding)));
        }
    const std::size_t begin = document().find("```yaml\n") + 8;
    const std::string whole = document().substr(begin, document().find("```\n", begin) - begin);
    for (const Finding& finding : findings_of(whole))
      CHECK_MESSAGE(finding.kind == Finding::Kind::remark, to_text(finding));
  }

  TEST_CASE("garden file document - limits and defaults are the reader's") {
    for (const auto& [place, entries] : places()) {
      const std::vector<Finding> of_nothing = findings_of(garden_with(place, ""));
      for (const Entry& entry : entries) {
        CAPTURE(path_of(place, entry.key));
        const std::string limits = limits_of(place, entry);
        CHECK_MESSAGE(entry.within.starts_with(limits), limits);
        CHECK(entry.within.empty() == limits.empty());
        bool needed = false;
        for (const Finding& finding : of_nothing) {
          if (without_numbers(finding.at.key) != path_of(place, entry.key)) continue;
          if (finding.says.ends_with(" is missing")) needed = true;
          if (finding.says.starts_with("not stated: "))
            CHECK_MESSAGE(entry.left_out.find(finding.says.substr(12)) != std::string::npos,
                          finding.says);
        }
        if (needed) CHECK(entry.left_out.starts_with("needed"));
        if (entry.left_out == "needed") CHECK(needed);
      }
    }
  }

  TEST_CASE("garden file document - words are those of the tables with their figures") {
    Words exposure;  // without the last cell, an instance in words
    for (const std::string& row : rows_of("Exposure words"))
      exposure.insert(row.substr(0, row.rfind(" | ")));
    CHECK(exposure == rows_from(exposure_table(), exposure_row));
    CHECK(rows_of("Surroundings") == rows_from(surroundings_table(), [](const Surroundings& row) {
            return row.name + " | " + percent(row.albedo);
          }));
    CHECK(rows_of("Textures") == rows_from(soil_table(), [](const SoilTexture& row) {
            return row.name + " | " + percent(row.field_capacity) + " | " +
                   percent(row.wilting_point);
          }));
    CHECK(rows_of("Mulches") == rows_from(mulch_table(), [](const Mulch& row) {
            return row.name + " | " + percent(row.saves);
          }));
    CHECK(rows_of("Media") == rows_from(media_table(), [](const Medium& row) {
            return row.name + " | " + percent(row.easily_available);
          }));
    CHECK(rows_of("Places of pots") == rows_from(pot_place_table(), [](const PotPlace& row) {
            return row.name + " | " + shortest(row.factor) + " times";
          }));
    CHECK(rows_of("Emitter types") ==
          rows_from(emitter_types(published_table("emitters")), [](const EmitterType& row) {
            return row.name + " | " + percent(row.du) + " | " + shortest(row.rate_low_mm_h) +
                   " to " + shortest(row.rate_high_mm_h) + " mm/h | " + (row.drip ? "no" : "yes");
          }));
    CHECK(rows_of("Covers") == rows_from(curve_number_table(), [](const CurveNumberRow& row) {
            std::string numbers;
            for (const double number : row.by_group)
              numbers += (numbers.empty() ? "" : ", ") + shortest(number);
            return row.cover + " | " + numbers;
          }));
  }

  TEST_CASE("garden file document - errors are answered as it says") {
    const std::vector<Cells>& rows = section("When something is wrong").rows;
    CHECK(rows.size() >= 8);
    for (const Cells& row : rows) {
      const std::string written = row[0].substr(1, row[0].size() - 2);
      const std::string answer = row[1].substr(1, row[1].size() - 2);
      bool answered = false;
      for (const Finding& finding : findings_of(written + "\n"))
        answered = answered || to_text(finding).ends_with(answer);
      CHECK_MESSAGE(answered, written);
    }
  }

  TEST_CASE("garden file document - what its page of errors says is said of some bad file") {
    Words said;
    for (const auto& entry : std::filesystem::directory_iterator(RUNNEL_TEST_DATA "/garden/bad"))
      for (const Finding& finding : findings_of(read_file(entry.path().string()))) {
        std::string place = without_numbers(finding.at.key);
        for (std::size_t at = 0; (at = place.find('.', at)) != std::string::npos;)
          place.replace(at, 1, ": ");
        said.insert((place.empty() ? "the file" : place) + " | " + finding.says + " | " +
                    finding.mend);
      }
    const std::vector<Cells> rows = rows_of_page("garden-errors.md");
    CHECK(rows.size() > 90);
    for (const Cells& row : rows) {
      REQUIRE(row.size() == 3);
      CHECK_MESSAGE(said.count(row[0] + " | " + row[1] + " | " + row[2]) == 1, row[1]);
    }
  }
}

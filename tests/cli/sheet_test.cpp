// The HTML sheet: one file that needs nothing else, every figure the JSON's, names as text.
#include <cmath>
#include <set>

#include "page.hpp"

using namespace runnel;

namespace {

const fs::path eight = fs::path(RUNNEL_TEST_DATA) / "pages/eight";

/// The invented garden of eight valves with names made to break pages.
Page eight_valves() {
  const Folder folder;
  for (const char* name : {"garden.yaml", "weather.csv", "forecast.csv"})
    folder.write(name, read(eight / name));
  return page_of(folder, "plan garden.yaml", 0);
}

Page plain(const std::string& args = "plan garden.yaml", int exit = 0) {
  return page_of(Folder(), args, exit);
}

double percent_of(const MarkupElement& element, const std::string& key) {
  const std::string text = element.attribute(key);
  REQUIRE(text.ends_with('%'));
  return *parse_number(text.substr(0, text.size() - 1));
}

std::vector<std::pair<double, double>> points_of(const MarkupElement& line) {
  std::vector<std::pair<double, double>> points;
  std::istringstream text(line.attribute("points"));
  for (std::string point; text >> point;) {
    const std::size_t comma = point.find(',');
    points.emplace_back(*parse_number(point.substr(0, comma)),
                        *parse_number(point.substr(comma + 1)));
  }
  return points;
}

}  // namespace

TEST_SUITE("cli/sheet") {
  TEST_CASE("sheet - nothing is fetched and nothing runs") {
    const Page page = eight_valves();
    const std::set<std::string> may{
        "html",     "head",    "meta",   "link",       "title",   "style",   "body",  "header",
        "main",     "section", "div",    "h1",         "h2",      "h3",      "p",     "a",
        "ul",       "ol",      "li",     "strong",     "b",       "small",   "span",  "bdi",
        "data",     "time",    "table",  "caption",    "thead",   "tbody",   "tfoot", "tr",
        "th",       "td",      "figure", "figcaption", "details", "summary", "svg",   "defs",
        "pattern",  "path",    "line",   "rect",       "g",       "text",    "use",   "polygon",
        "polyline", "desc"};
    for (const MarkupElement& element : page.elements) {
      CHECK_MESSAGE(may.contains(element.name), element.name);
      for (const auto& [key, value] : element.attributes) {
        CHECK_FALSE(key.starts_with("on"));
        CHECK(key != "src");
        if (key == "href") CHECK((value.starts_with('#') || value == "data:,"));
      }
    }
    const std::string style = page.all("style").at(0).text;
    CHECK_FALSE(has(style, "@import"));
    for (std::size_t at = style.find("url("); at != std::string::npos;
         at = style.find("url(", at + 1))
      CHECK(style.substr(at, 5) == "url(#");
  }

  TEST_CASE("sheet - headings in order, tables with captions and scopes, pictures with titles") {
    const Page page = eight_valves();
    CHECK(page.elements.at(0).attribute("lang") == "en");
    CHECK(page.all("h1").size() == 1);
    char before = '0';
    std::set<std::string> ids;
    for (const MarkupElement& element : page.elements) {
      if (element.name.size() == 2 && element.name[0] == 'h' && element.name[1] <= '6') {
        CHECK(element.name[1] <= before + 1);
        before = element.name[1];
      }
      if (const std::string id = element.attribute("id"); !id.empty()) CHECK(ids.insert(id).second);
      if (element.name == "th") CHECK_FALSE(element.attribute("scope").empty());
    }
    CHECK(page.all("table").size() == page.all("caption").size());
    CHECK(page.all("table").size() == 2 + 8);  // settings, weather, each zone's days
    int pictures = 0;
    for (const MarkupElement& svg : page.all("svg")) {
      if (svg.attribute("role") != "img") continue;
      ++pictures;
      std::istringstream named(svg.attribute("aria-labelledby"));
      for (std::string id; named >> id;) CHECK(ids.contains(id));
    }
    CHECK(pictures == 1 + 8);
  }

  TEST_CASE("sheet - every figure is the JSON's") {
    CHECK(check_figures(eight_valves()) > 400);
    CHECK(check_figures(plain()) > 100);
  }

  TEST_CASE("sheet - in US units and by a clock of twelve hours") {
    const Folder folder;
    const std::string us = "--units us --clock 12";
    const Page page = page_of(folder, "plan garden.yaml", 0, us);
    CHECK(check_figures(page) > 100);
    CHECK_FALSE(has(page.html, " mm"));
    CHECK_FALSE(has(page.html, " L<"));
    CHECK(has(page.html, "4:30 am"));
    CHECK_FALSE(has(page.html, "04:30"));
    CHECK(has(page.html, " gal</td>"));
    CHECK(check_figures(page_of(folder, "compare garden.yaml", 0, us)) > 60);
    folder.replace("garden.yaml", "[\"04:30-08:00\", \"20:30-22:30\"]", "[\"06:00-06:45\"]");
    const Page falls_short = page_of(folder, "plan garden.yaml", 1, us);
    check_figures(falls_short);
    CHECK(has(falls_short.html, "8:00 pm-8:30 pm instead of 6:00 am-6:45 am"));
    CHECK_FALSE(has(falls_short.html, "L/h"));
  }

  TEST_CASE("sheet - what zones use, side by side") {
    const Folder folder;
    CHECK(check_figures(page_of(folder, "compare garden.yaml", 0)) > 60);
    const Result between =
        folder.run("compare garden.yaml --between 'terrace bed' 'wall border' --format html");
    CHECK(between.exit == 2);
    CHECK(between.out.empty());
    CHECK(has(between.err, "--between has no html form"));
  }

  TEST_CASE("sheet - what has no html form is refused") {
    const Folder folder;
    for (const char* args :
         {"garden.yaml --doubts", "garden.yaml --until 2026-07-30", "garden.yaml garden.yaml"}) {
      const Result result = folder.run(std::string("plan ") + args + " --format html");
      CHECK(result.exit == 2);
      CHECK(result.out.empty());
      CHECK(has(result.err, "no html form"));
    }
  }

  TEST_CASE("sheet - the figures of a plan that falls short") {
    const Folder folder;
    folder.replace("garden.yaml", "[\"04:30-08:00\", \"20:30-22:30\"]", "[\"06:00-06:45\"]");
    const Page page = page_of(folder, "plan garden.yaml", 1);
    check_figures(page);
    CHECK(page.json["shortfalls"].size() > 0);
    CHECK(has(page.html, "href=\"#short-heading\""));
    CHECK(has(page.html, "id=\"short-heading\""));
  }

  TEST_CASE("sheet - timers that share programmes, stand at a percentage or have intervals") {
    for (const char* timer :
         {"{valves: 6, programmes: 2}", "{valves: 6, percentage: 150 %}",
          "{valves: 6, repeats: [12 h]}", "{valves: 6, minutes: {choices: [20, 40, 120]}}"}) {
      CAPTURE(timer);
      const Folder folder;
      std::string garden = folder.text("garden.yaml");
      const std::size_t from = garden.find("timer:"), to = garden.find("watering hours:");
      REQUIRE(to != std::string::npos);
      folder.write("garden.yaml",
                   garden.replace(from, to - from, std::string("timer: ") + timer + "\n"));
      const int exit = folder.run("plan garden.yaml --format csv").exit;
      check_figures(page_of(folder, "plan garden.yaml", exit));
    }
  }

  TEST_CASE("sheet - names are text, whatever they hold") {
    const Page page = eight_valves();
    const YAML::Node garden = YAML::LoadFile((eight / "garden.yaml").string());
    std::set<std::string> shown;
    for (const MarkupElement& element : page.all("bdi")) shown.insert(element.text);
    CHECK(shown.contains(garden["garden"].as<std::string>()));
    CHECK(garden["zones"].size() == 8);
    for (const YAML::Node& zone : garden["zones"]) {
      CAPTURE(zone["name"].as<std::string>());
      CHECK(shown.contains(zone["name"].as<std::string>()));
    }
    CHECK_FALSE(has(page.html, "<script"));
    CHECK_FALSE(has(page.html, "<img"));
  }

  TEST_CASE("sheet - runs are drawn on their days and as long as they are") {
    const Page page = eight_valves();
    std::size_t drawn = 0;
    double percent_a_minute = 0.0;
    for (std::size_t i = 0; i < page.elements.size(); ++i) {
      const MarkupElement& group = page.elements[i];
      if (!group.attribute("data-json").starts_with("/runs/") || group.name != "g") continue;
      const YAML::Node run = at_pointer(page.json, group.attribute("data-json"));
      const MarkupElement& block = page.elements.at(i + 2);
      REQUIRE(block.attribute("class") == "run");
      ++drawn;
      const auto day = (*parse_date(run["date"].as<std::string>()) -
                        *parse_date(page.json["from"].as<std::string>()))
                           .count();
      const double from = percent_of(block, "x"), width = percent_of(block, "width");
      CHECK(std::floor(from * 7.0 / 100.0) == static_cast<double>(day));
      CHECK(std::floor((from + width) * 7.0 / 100.0) == static_cast<double>(day));
      const double slope = width / run["run_min"].as<double>();
      if (drawn == 1) percent_a_minute = slope;
      CHECK(std::abs(slope - percent_a_minute) < 0.02 / run["run_min"].as<double>());
    }
    CHECK(drawn == page.json["runs"].size());
    CHECK(drawn > 8);
  }

  TEST_CASE("sheet - the water's line ends and is judged where the JSON says") {
    const Page page = eight_valves();
    std::size_t zone = 0;
    for (const MarkupElement& line : page.all("polyline")) {
      const YAML::Node figures = page.json["zones"][zone];
      CAPTURE(figures["zone"].as<std::string>());
      const auto points = points_of(line);
      CHECK(points.back().first == 700.0);
      CHECK(points.front().first == 0.0);
      // Pixels for a millimetre, from the start of the line, hold at its end (rounded to 0.01 px).
      const double px_a_mm = points.front().second / figures["start_depletion_mm"].as<double>();
      CHECK(std::abs(points.back().second - px_a_mm * figures["end_depletion_mm"].as<double>()) <
            0.03);
      if (has(figures["why"].as<std::string>(), "Uses")) {  // a bed: judged each morning
        const std::string dots = page.all("path").at(2 + zone).attribute("d");
        CHECK(std::count(dots.begin(), dots.end(), 'M') == 7);
        const double last =
            *parse_number(dots.substr(dots.rfind(',') + 1, dots.rfind('h') - dots.rfind(',') - 1));
        CHECK(std::abs(last - px_a_mm * figures["by_day"][6]["morning_depletion_mm"].as<double>()) <
              0.03);
      }
      ++zone;
    }
    CHECK(zone == 8);
  }

  TEST_CASE("sheet - days in the JSON close the water balance - FAO-56 Eq. 85") {
    const Page page = eight_valves();
    for (const YAML::Node& zone : page.json["zones"]) {
      CAPTURE(zone["zone"].as<std::string>());
      const double share = zone["wetted_share"].as<double>();
      double before_mm = zone["start_depletion_mm"].as<double>();
      double use_mm = 0.0, rain_mm = 0.0, drained_mm = 0.0;
      for (const YAML::Node& day : zone["by_day"]) {
        const auto mm = [&day](const char* key) { return day[key].as<double>(); };
        use_mm += mm("use_mm");
        rain_mm += mm("rain_mm");
        drained_mm += mm("drained_mm");
        if (share == 1.0)
          CHECK(std::abs(before_mm + mm("use_mm") + mm("drained_mm") - mm("rain_mm") -
                         mm("water_mm") - mm("end_depletion_mm")) < 1e-9);
        before_mm = mm("end_depletion_mm");
      }
      CHECK(std::abs(before_mm - zone["end_depletion_mm"].as<double>()) < 1e-9);
      CHECK(std::abs(use_mm - zone["demand_mm"].as<double>()) < 1e-9);
      CHECK(std::abs(rain_mm - zone["rain_mm"].as<double>()) < 1e-9);
      CHECK(std::abs(drained_mm - zone["drained_mm"].as<double>()) < 1e-9);
    }
  }
}

// The HTML sheet: one file that needs nothing else, every figure the JSON's, names as text.
#include <cmath>
#include <regex>
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

/// The same garden after three days much hotter than its plan took them, looked at again.
Page eight_valves_again(const std::string& display = "") {
  const Folder folder;
  for (const char* name : {"garden.yaml", "weather.csv", "forecast.csv"})
    folder.write(name, read(eight / name));
  REQUIRE(folder.run("plan garden.yaml --save monday.yaml").exit == 0);
  const std::string happened = read(eight / "happened.csv");
  folder.write("weather.csv",
               folder.text("weather.csv") + happened.substr(happened.find("\n2027") + 1));
  folder.write("forecast.csv", read(eight / "expected.csv"));
  return page_of(folder, "replan garden.yaml --after monday.yaml", 0, display);
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

template <class Test>
std::size_t count_of(const Page& page, Test test) {
  return static_cast<std::size_t>(std::count_if(page.elements.begin(), page.elements.end(), test));
}

void check_markup(const Page& page, std::size_t tables, int pictures) {
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
  CHECK(page.all("table").size() == tables);
  int found = 0;
  for (const MarkupElement& svg : page.all("svg")) {
    if (svg.attribute("role") != "img") continue;
    ++found;
    std::istringstream named(svg.attribute("aria-labelledby"));
    for (std::string id; named >> id;) CHECK(ids.contains(id));
  }
  CHECK(found == pictures);
}

bool is_changed_valve(const MarkupElement& element) {
  return element.name == "th" && element.attribute("scope") == "rowgroup";
}

/// As many valves are to be changed, run by hand and left as the JSON says; each has one zone.
void check_what_to_do(const Page& page) {
  std::size_t changed = 0, by_hand = 0, left = 0;
  for (const YAML::Node& valve : page.json["valves"]) {
    const bool settings = valve["settings_changed"].as<int>() > 0;
    const bool runs = valve["by_hand_min"].as<int>() > 0;
    if (settings) ++changed;
    if (runs) ++by_hand;
    if (!settings && !runs) ++left;
  }
  CHECK(count_of(page, is_changed_valve) == changed);
  CHECK(page.json["by_hand"].size() == by_hand);
  CHECK(count_of(page, [&page](const MarkupElement& one) {
          return one.name == "li" && page.within(one, [](const MarkupElement& around) {
            return around.attribute("class") == "leave";
          });
        }) == left);
}

/// Bars are filled, and their strokes stand, as far from 0 to the limit as the JSON says.
/// @return how many there are.
std::size_t check_dry_bars(const Page& page) {
  std::size_t zone = 0;
  for (std::size_t i = 0; i < page.elements.size(); ++i) {
    if (page.elements[i].attribute("aria-labelledby") !=
        "dry-" + std::to_string(zone) + "-title dry-" + std::to_string(zone) + "-desc")
      continue;
    const YAML::Node figures = page.json["looked_at"][zone];
    CAPTURE(figures["zone"].as<std::string>());
    const auto part = [&](const std::string& kind, const char* key) {
      std::size_t at = i;
      while (page.elements.at(at).attribute("class") != kind) ++at;
      return percent_of(page.elements.at(at), key);
    };
    const double limit = part("limit", "x1");
    const double percent_a_mm = limit / figures["limit_mm"].as<double>();
    const double now = percent_a_mm * figures["depletion_mm"].as<double>();
    CHECK(std::abs(part("run", "width") - std::min(now, limit)) < 0.01);
    if (now > limit) CHECK(std::abs(part("dry", "width") - (now - limit)) < 0.02);
    CHECK(std::abs(part("expected", "x1") - percent_a_mm * figures["expected_mm"].as<double>()) <
          0.01);
    ++zone;
  }
  return zone;
}

}  // namespace

TEST_SUITE("cli/sheet") {
  TEST_CASE("sheet - nothing is fetched and nothing runs") {
    const std::set<std::string> may{
        "html",     "head",    "meta",   "link",       "title",   "style",   "body",  "header",
        "main",     "section", "div",    "h1",         "h2",      "h3",      "p",     "a",
        "ul",       "ol",      "li",     "strong",     "b",       "small",   "span",  "bdi",
        "data",     "time",    "table",  "caption",    "thead",   "tbody",   "tfoot", "tr",
        "th",       "td",      "figure", "figcaption", "details", "summary", "svg",   "defs",
        "pattern",  "path",    "line",   "rect",       "g",       "text",    "use",   "polygon",
        "polyline", "desc"};
    for (const Page& page : {eight_valves(), eight_valves_again()}) {
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
  }

  TEST_CASE("sheet - headings in order, tables with captions and scopes, pictures with titles") {
    check_markup(eight_valves(), 2 + 8, 1 + 8);  // settings, weather, each zone's days
    // Changes, weather, dryness and programme; the weather and each zone.
    check_markup(eight_valves_again(), 4, 1 + 8);
  }

  TEST_CASE("sheet - every figure is the JSON's") {
    CHECK(check_figures(eight_valves()) > 400);
    CHECK(check_figures(eight_valves_again()) > 150);
    CHECK(check_figures(plain()) > 100);
  }

  TEST_CASE("sheet - a plan looked at again says what to change, run by hand and leave") {
    const Page page = eight_valves_again();
    check_what_to_do(page);
    CHECK(count_of(page, is_changed_valve) > 0);
    CHECK(check_dry_bars(page) == 8);
  }

  TEST_CASE("sheet - a run by hand that the plan before decided is shown once more") {
    const Folder folder;
    folder.replace("garden.yaml", "supply:", "log: water-log.csv\nsupply:");
    REQUIRE(folder.run("plan garden.yaml --save w1.yaml").exit == 0);
    const std::string forecast = folder.text("forecast.csv");
    std::size_t end = forecast.find("\n2026") + 1;
    const std::size_t begin = end;
    for (int day = 0; day < 3; ++day) end = forecast.find('\n', end) + 1;
    folder.write("weather.csv", folder.text("weather.csv") + forecast.substr(begin, end - begin));
    folder.write("water-log.csv",
                 "date,zone,what,amount,note\n2026-07-15,terrace bed,ran,50 min,\n");
    REQUIRE(folder.run("replan garden.yaml --after w1.yaml --save mid.yaml").exit == 0);
    const Page again = page_of(folder, "replan garden.yaml --after w1.yaml", 0);
    check_figures(again);
    CHECK(has(again.html, "id=\"by-hand-heading\""));
    CHECK_FALSE(has(again.html, "not once more"));
    check_what_to_do(again);
    check_markup(again, 5, 1 + 3);
    CHECK(again.json["by_hand"].size() == 1);
    const Page later = page_of(folder, "replan garden.yaml --after mid.yaml --from 2026-07-16", 0);
    check_figures(later);
    CHECK(has(later.html, "not once more"));
    const Page plan = page_of(folder, "plan garden.yaml --after mid.yaml --from 2026-07-16", 0);
    check_figures(plan);
    CHECK(has(plan.html, "As the plan before said; counted as given"));
    CHECK(plan.json["by_hand"].size() == 1);
    CHECK_FALSE(has(plain().html, "by-hand-heading"));
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

  TEST_CASE("sheet - changes and an absence in US units and by a clock of twelve hours") {
    const std::string us = "--units us --clock 12";
    const Page again = eight_valves_again(us);
    CHECK(check_figures(again) > 100);
    const Folder folder;
    for (const char* name : {"away.yaml", "weather.csv", "forecast.csv", "past-summers.csv"})
      folder.write(name, read(fs::path(RUNNEL_SOURCE_DIR) / "examples/terrace" / name));
    const Page away = page_of(folder, "plan away.yaml --until 2027-08-08", 1, us);
    CHECK(check_figures(away) > 100);
    const std::regex metric("[0-9](</data>)? (mm|L)\\b|>mm |[Ll]itres<|>[0-9]{2}:[0-9]{2}");
    for (const Page* page : {&again, &away}) {
      std::smatch found;
      CHECK_MESSAGE(!std::regex_search(page->html, found, metric), found.str());
    }
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

  TEST_CASE("sheet - what of the weather was not measured is said") {
    const Folder folder;
    fs::copy_file(fs::path(RUNNEL_TEST_DATA) / "garden/temperature-alone.csv",
                  folder.path("alone.csv"));
    folder.replace("garden.yaml", "observed: weather.csv", "observed: alone.csv");
    folder.replace("garden.yaml", "  forecast: forecast.csv      # what is expected\n", "");
    folder.replace("garden.yaml", "air: humid", "air: dry");
    const std::string dry_air =
        "humidity (dew point below the day's lowest temperature, as in dry air)";
    const Page page = page_of(folder, "plan garden.yaml", 0);
    const YAML::Node guessed = page.json["not_measured"];
    REQUIRE(guessed.size() == 3);
    CHECK(guessed[0].as<std::string>() == "wind (2.0 m/s taken)");
    CHECK(guessed[1].as<std::string>() == dry_air);
    CHECK(guessed[2].as<std::string>() == "radiation (from the temperature range)");
    CHECK(check_figures(page) > 50);
    CHECK(has(page.html, "Not measured: <"));
    CHECK(has(folder.run("plan garden.yaml").out,
              "  Not measured: wind (2.0 m/s taken), humidity (dew point below the day's\n  lowest "
              "temperature, as in dry air), radiation (from the temperature range).\n"));
    CHECK(has(folder.run("plan garden.yaml --units us").out, "wind (4.5 mph taken)"));

    const Page measured = plain();
    CHECK(measured.json["not_measured"].size() == 0);
    CHECK_FALSE(has(measured.html, "Not measured"));
    // A week's forecast of everything, after days of temperature alone.
    const Folder mixed;
    mixed.write("alone.csv", folder.text("alone.csv"));
    mixed.replace("garden.yaml", "observed: weather.csv", "observed: alone.csv");
    const std::string fortnight = mixed.text("forecast.csv");
    mixed.write("forecast.csv", fortnight.substr(0, fortnight.find("2026-07-20")));
    CHECK(has(mixed.run("plan garden.yaml").out, "Not measured: wind on some days (2.0 m/s"));
  }

  TEST_CASE("sheet - what has no html form is refused") {
    const Folder folder;
    for (const char* args : {"garden.yaml --doubts", "garden.yaml garden.yaml"}) {
      const Result result = folder.run(std::string("plan ") + args + " --format html");
      CHECK(result.exit == 2);
      CHECK(result.out.empty());
      CHECK(has(result.err, "no html form"));
    }
  }

  TEST_CASE("sheet - an absence with a chance and without one") {
    const Folder folder;
    for (const char* name : {"away.yaml", "weather.csv", "forecast.csv", "past-summers.csv"})
      folder.write(name, read(fs::path(RUNNEL_SOURCE_DIR) / "examples/terrace" / name));
    const Page away = page_of(folder, "plan away.yaml --until 2027-08-08", 1);
    CHECK(check_figures(away) > 100);
    check_markup(away, 2 + 3, 3);  // settings, chances, each zone's days; too long for the runs
    CHECK(has(away.html, "id=\"mend-heading\""));
    CHECK(has(away.html, "look at the pots once a week"));
    const Page week = plain("plan garden.yaml --until 2026-07-22");
    CHECK(check_figures(week) > 100);
    CHECK(has(week.html, "No chance can be given"));
    double litres = 0.0;
    for (const YAML::Node& zone : away.json["away"]["zones"]) litres += zone["litres"].as<double>();
    CHECK(std::abs(litres - away.json["litres"].as<double>()) < 1e-6);
    const YAML::Node pots = away.json["zones"][2];
    CHECK(std::abs(pots["use_l_a_day"].as<double>() * 7.0 / pots["demand_mm"].as<double>() -
                   pots["spare_l"].as<double>() / pots["spare_mm"].as<double>()) < 1e-9);
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

// What would mend a plan that falls short: each remedy against a plan of the garden it makes.
#include "runnel/garden/remedies.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

namespace runnel {
namespace {

Garden read(const std::string& yaml) {
  Read<Garden> garden = read_garden(yaml, "short.yaml");
  for (const Finding& finding : garden.findings)
    if (finding.kind == Finding::Kind::error) FAIL(to_text(finding));
  return *garden.value;
}

/// Days of 7 mm each.
std::string yaml(const std::string& hours, const std::string& more, const std::string& zones) {
  return "garden: short\nsite: {latitude: 38.72, longitude: -9.14, elevation: 95 m, timezone: "
         "Europe/Lisbon}\nweather: {observed: " +
         std::string(RUNNEL_TEST_DATA) + "/garden/seven-mm-a-day.csv}\nwatering hours: [" + hours +
         "]\n" + more + "zones:\n" + zones;
}

/// 65 mm to hold, 32.5 of them to spare, half gone at the start; 30 mm/h and a use of 7 mm a day.
std::string bed(const std::string& name, int valve, const std::string& more = "") {
  return "  - {name: " + name + ", valve: " + std::to_string(valve) +
         ", area: 20 m2, plants: {kind: mixed shrubs, coefficient: 1.0, root depth: 50 cm, "
         "allowable depletion: 50 %}, exposure: {factor: 1.0}, soil: {texture: loam},\n"
         "     emitters: {type: spray, rate: 30 mm/h, uniformity: 100 %}" +
         more + "}\n";
}

struct Planned {
  Garden garden;
  GardenPlan plan;
  std::vector<Remedy> remedies;
};

Planned planned(const std::string& text) {
  Garden garden = read(text);
  GardenPlan plan = plan_garden(garden, {});
  std::vector<Remedy> mend = remedies(garden, plan, {});
  return {std::move(garden), std::move(plan), std::move(mend)};
}

double harm_mm(const Plan& plan) {
  double sum_mm = 0.0;
  for (const ZonePlan& zone : plan.zones) sum_mm += zone.beyond_mm + zone.unmet_mm;
  return sum_mm;
}

/// Every remedy: it changes something, is what its garden planned from the start would be, and
/// stands in its place.
void check(const Planned& planned) {
  std::vector<std::string> seen;
  bool all_fit = true;
  double last_mm = 0.0;
  for (const Remedy& remedy : planned.remedies) {
    CAPTURE(remedy.does);
    CHECK(std::find(seen.begin(), seen.end(), remedy.does) == seen.end());
    seen.push_back(remedy.does);
    const Plan anew = plan_garden(remedy.garden, {}).plan;
    CHECK(anew.cost == remedy.plan.cost);
    CHECK(harm_mm(anew) == doctest::Approx(remedy.harm_mm));
    CHECK(anew.unharmed() == (remedy.zones_short == 0));
    CHECK(remedy.harm_mm < harm_mm(planned.plan.plan));
    CHECK((all_fit || remedy.zones_short > 0));
    all_fit = remedy.zones_short == 0;
    CHECK(remedy.harm_mm >= last_mm);
    last_mm = remedy.harm_mm;
  }
}

const Remedy* find(const Planned& planned, const std::string& word) {
  for (const Remedy& remedy : planned.remedies)
    if (remedy.does.find(word) != std::string::npos) return &remedy;
  return nullptr;
}

std::string list(const Planned& planned) {
  std::string text;
  for (const Remedy& remedy : planned.remedies)
    text += remedy.does + ": " + std::to_string(remedy.harm_mm) + "\n";
  return text;
}

}  // namespace

TEST_SUITE("remedies") {
  TEST_CASE("remedies - a plan without harm has none") {
    const Planned fits = planned(yaml("\"05:00-08:00\"", "", bed("bed", 1)));
    CHECK(fits.plan.plan.unharmed());
    CHECK(fits.remedies.empty());
  }

  TEST_CASE("remedies - two beds that do not fit a short morning") {
    // 14 minutes a day each bring their 7 mm; the hours have 20 for both.
    const std::string beds = bed("front", 1) + bed("back", 2);
    const Planned short_morning = planned(yaml("\"05:00-05:20\"", "", beds));
    INFO(list(short_morning));
    CHECK_FALSE(short_morning.plan.plan.unharmed());
    CHECK(short_morning.remedies.size() >= 3);
    check(short_morning);
    const Remedy& first = short_morning.remedies.front();
    CHECK(first.zones_short == 0);

    // As its words say, written into the file by hand.
    const std::string words = "watering hours ";
    REQUIRE(first.does.find(words) == 0);
    std::string hours = first.does.substr(words.size());
    hours = "\"" + hours.substr(0, hours.find(" instead")) + "\"";
    if (const std::size_t gap = hours.find(" and "); gap != std::string::npos)
      hours.replace(gap, 5, "\", \"");
    CHECK(plan_garden(read(yaml(hours, "", beds)), {}).plan.unharmed());
    // A quarter of an hour less than that is not enough: the hours are the shortest.
    std::vector<Window> shorter = first.garden.watering_hours;
    shorter.back().closes -= std::chrono::minutes{15};
    Garden less = first.garden;
    less.watering_hours = shorter;
    if (shorter.back().closes == shorter.back().opens) less.watering_hours.pop_back();
    CHECK_FALSE(plan_garden(less, {}).plan.unharmed());

    const Remedy* together = find(short_morning, "two valves open at once");
    REQUIRE(together != nullptr);
    CHECK(together->zones_short == 0);
    CHECK(together->garden.timer.together == 2);
  }

  // 5 minutes bring 2.5 mm. Depletion on the morning of day n with s starts a day is 16.25 +
  // 7 (n - 1) - 2.5 s n mm: with one it passes 32.5 mm on day 6; with two it is 37.25 mm on day 14;
  // with three it falls.
  TEST_CASE("remedies - the fewest starts that are enough, worked by hand") {
    const Planned few = planned(yaml(
        "\"05:00-08:00\"", "timer: {starts per valve: 1, minutes: {most: 5}}\n", bed("bed", 1)));
    INFO(list(few));
    check(few);
    CHECK(few.plan.plan.zones[0].first_beyond == few.plan.plan.from + std::chrono::days{5});
    CHECK(few.plan.plan.zones[0].days_beyond == 9);
    const Remedy* starts = find(few, "a timer with 3 starts a day for each valve instead of 1");
    REQUIRE(starts != nullptr);
    CHECK(starts->zones_short == 0);
    CHECK(find(few, "a timer that runs a valve for up to 20 minutes instead of 5") != nullptr);
    CHECK(few.remedies.size() >= 3);
  }

  TEST_CASE("remedies - a clay slope that takes water in slowly wants slower emitters") {
    const Planned slope = planned(
        yaml("\"05:00-06:30\"", "timer: {starts per valve: 2}\n",
             "  - {name: slope, valve: 1, area: 20 m2, plants: {kind: cool-season lawn}, exposure: "
             "{factor: 1.0}, soil: {texture: clay, slope: 14 %}, emitters: {type: spray, rate: 40 "
             "mm/h}}\n"));
    INFO(list(slope));
    CHECK_FALSE(slope.plan.plan.unharmed());
    check(slope);
    CHECK(slope.remedies.size() >= 3);
    const Remedy* slower = find(slope, "slope: emitters that bring ");
    REQUIRE(slower != nullptr);
    CHECK(zone_flow(slower->garden.zones[0].emitters.spec, Area::m2(20.0)) <
          zone_flow(slope.garden.zones[0].emitters.spec, Area::m2(20.0)));
  }

  TEST_CASE("remedies - pots that cannot be kept moist have some that help in part") {
    const auto of_pots = [](const std::string& coefficient) {
      return planned(yaml("\"05:00-07:00\"", "",
                          "  - {name: pots, valve: 1, plants: {kind: annual flowers" + coefficient +
                              "}, containers: {count: 10, volume: 0.2 L, diameter: 10 cm, canopy: "
                              "40 cm, medium: peat mix, placed: apart}, emitters: {type: dripper, "
                              "flow: 2 L/h, per container: 1}}\n"));
    };
    const Planned pots = of_pots("");
    INFO(list(pots));
    CHECK_FALSE(pots.plan.plan.unharmed());
    check(pots);
    CHECK(pots.remedies.size() >= 3);
    CHECK(pots.remedies.front().zones_short == 1);
    CHECK(pots.remedies.front().harm_mm > 0.0);
    CHECK(find(pots, "; together with ") != nullptr);
    CHECK(find(pots, "pots placed in a group") != nullptr);
    // A stated coefficient holds how they stand: what it would be in a group nobody knows.
    CHECK(find(of_pots(", coefficient: 1.5"), "pots placed in a group") == nullptr);
  }

  TEST_CASE("remedies - the least larger pot that is enough") {
    const auto with_volume = [](const std::string& volume, const std::string& mouth) {
      return yaml("\"05:00-07:00\"", "",
                  "  - {name: pots, valve: 1, plants: {kind: annual flowers}, containers: {count: "
                  "10, volume: " +
                      volume + ", diameter: " + mouth +
                      ", canopy: 25 cm, medium: peat mix}, emitters: {type: dripper, flow: 2 L/h, "
                      "per container: 1}}\n");
    };
    const Planned pots = planned(with_volume("2 L", "16 cm"));
    INFO(list(pots));
    CHECK_FALSE(pots.plan.plan.unharmed());
    check(pots);
    const Remedy* larger = find(pots, " L instead of 2.0 (");
    REQUIRE(larger != nullptr);
    REQUIRE(larger->zones_short == 0);
    const ContainersEntry& pot = *larger->garden.zones[0].containers;
    CHECK(plan_garden(read(with_volume(std::to_string(pot.volume_l) + " L",
                                       std::to_string(100.0 * pot.mouth_diameter_m) + " cm")),
                      {})
              .plan.unharmed());
  }

  TEST_CASE("remedies - a zone that shares a valve gets one of its own") {
    // The slope takes a few minutes before water runs off, so that the bed beside it gets too
    // little.
    const std::string more = ", shared valve: yes";
    const Planned shared = planned(yaml(
        "\"05:00-06:00\"", "timer: {starts per valve: 2, valves: 2}\n",
        bed("bed", 1, more) + "  - {name: slope, valve: 1" + more +
            ", area: 20 m2, plants: {kind: mixed shrubs}, exposure: {factor: 0.5}, soil: {texture: "
            "clay, slope: 14 %}, emitters: {type: spray, rate: 30 mm/h}}\n"));
    INFO(list(shared));
    CHECK_FALSE(shared.plan.plan.unharmed());
    check(shared);
    const Remedy* own = find(shared, "a valve of its own (valve 2)");
    REQUIRE(own != nullptr);
    CHECK(own->plan.valves.size() == 2);
  }

  TEST_CASE("remedies - a wish is proposed to be given up and a rule is only named") {
    const auto with_limit = [](const std::string& rules, const std::string& wish) {
      return planned(yaml("\"05:00-06:00\"", rules, bed("bed", 1, wish)));
    };
    const Planned wish = with_limit("", ", finish by: \"05:03\"");
    INFO(list(wish));
    CHECK_FALSE(wish.plan.plan.unharmed());
    check(wish);
    const Remedy* without = find(wish, "bed: without the wish to finish by 05:03");
    REQUIRE(without != nullptr);
    CHECK(without->zones_short == 0);
    CHECK(binding_rules(wish.garden, wish.plan, {}).empty());

    const Planned rule = with_limit("rules:\n  - {hours: [\"05:00-05:03\"]}\n", "");
    INFO(list(rule));
    CHECK_FALSE(rule.plan.plan.unharmed());
    check(rule);
    for (const Remedy& remedy : rule.remedies) CHECK(remedy.garden.rules.size() == 1);
    const std::vector<Finding> binding = binding_rules(rule.garden, rule.plan, {});
    REQUIRE(binding.size() == 1);
    CHECK(binding[0].at.line == 6);
    CHECK(binding[0].says.find("the rule \"only 05:00-05:03\" binds") == 0);
  }

  // 20 m2 at 30 mm/h: 10 L/min each.
  TEST_CASE("remedies - two valves at once only where the supply feeds them") {
    const auto fed = [](const std::string& supply) {
      const Planned beds = planned(yaml("\"05:00-05:20\"", "supply: {flow: " + supply + "}\n",
                                        bed("front", 1) + bed("back", 2)));
      check(beds);
      return find(beds, "two valves open at once") != nullptr;
    };
    CHECK(fed("20 L/min"));
    CHECK_FALSE(fed("19 L/min"));
  }

  TEST_CASE("remedies - found in the same order each time") {
    const std::string text =
        yaml("\"05:00-05:20\"", "", bed("front", 1) + bed("back", 2) + bed("side", 3));
    CHECK(list(planned(text)) == list(planned(text)));
  }
}

}  // namespace runnel

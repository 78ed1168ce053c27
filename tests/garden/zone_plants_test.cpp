// What grows in a zone, from the garden file's words to coefficients by day.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/plan_garden.hpp"
#include "runnel/units/finding.hpp"
#include "support/near.hpp"
#include "zone_parts.hpp"

namespace runnel {
namespace {

struct Grown {
  ZonePlants plants;
  std::vector<Fact> facts;
  std::vector<Finding> findings;

  [[nodiscard]] const Fact* fact(std::string_view what) const {
    const auto found =
        std::find_if(facts.begin(), facts.end(), [&](const Fact& f) { return f.what == what; });
    return found == facts.end() ? nullptr : &*found;
  }
};

struct Conditions {
  std::string latitude = "38.7";
  double eto_mm = 5.0, u2_m_s = 2.0, rh_min_pct = 45.0;
};

constexpr const char* in_a_bed = "area: 10 m2, soil: {texture: loam}";
constexpr const char* in_pots =
    "containers: {count: 3, volume: 20 L, diameter: 32 cm, canopy: 45 cm, medium: peat mix}";

constexpr const char* drippers = "type: dripper, flow: 2 L/h, count: 20";
constexpr const char* sprays = "type: spray, rate: 30 mm/h";
constexpr const char* dripline = "type: dripline, flow: 2 L/h, spacing: 30 cm, rows: 30 cm";

/// A zone of those plants over ten days.
Grown grow(const std::string& plants, const std::string& first_day, const Conditions& site = {},
           const std::string& ground = in_a_bed, const std::string& emitters = drippers) {
  const bool potted = ground == in_pots;
  const std::string yaml = "garden: g\nsite: {latitude: " + site.latitude +
                           ", longitude: -9.1, elevation: 95 m, timezone: Europe/Lisbon}\n"
                           "weather: {observed: w.csv}\nwatering hours: [\"04:30-08:00\"]\nzones:\n"
                           "  - {name: z, valve: 1, " +
                           ground + ", plants: " + plants + ", emitters: {" +
                           (potted ? "type: dripper, flow: 2 L/h, per container: 1" : emitters) +
                           "}}\n";
  Read<Garden> read = read_garden(yaml, "g.yaml");
  for (const Finding& finding : read.findings)
    if (finding.kind == Finding::Kind::error) FAIL(to_text(finding));
  const Garden& garden = *read.value;
  AssumedWeather weather;
  weather.first_day = *parse_date(first_day);
  weather.eto_mm = Column::Constant(10, site.eto_mm);
  weather.rain_mm = Column::Constant(10, 0.0);
  weather.u2_m_s = site.u2_m_s;
  weather.rh_min_pct = site.rh_min_pct;
  Grown grown;
  grown.plants =
      zone_plants(ZoneContext{garden, garden.zones.front(), weather, grown.findings, grown.facts});
  return grown;
}

bool dual(const Grown& grown) {
  CHECK(grown.plants.kc_max.size() == grown.plants.cover.size());
  return grown.plants.kc_max.size() == grown.plants.kc.size();
}

}  // namespace

TEST_SUITE("garden/plants") {
  TEST_CASE("established plantings and lawns and pots are single - crops and the young are dual") {
    CHECK_FALSE(dual(grow("{kind: shrubs}", "2027-07-01")));
    CHECK_FALSE(dual(grow("{kind: cool-season lawn}", "2027-07-01")));
    CHECK_FALSE(dual(grow("{crop: tomato, planted: 2027-04-20}", "2027-07-01", {}, in_pots)));
    CHECK_FALSE(dual(grow("{crop: tomato, planted: 2027-04-20, method: single}", "2027-07-01")));
    CHECK_FALSE(dual(grow("{crop: tomato, coefficient: 0.8, root depth: 50 cm}", "2027-07-01")));
    CHECK(dual(grow("{crop: tomato, planted: 2027-04-20}", "2027-07-01")));
    CHECK(dual(grow("{crop: olive}", "2027-07-01")));
    CHECK(dual(grow("{kind: shrubs, planted: 2027-04-20}", "2027-07-01")));
    CHECK(dual(grow("{kind: shrubs, method: dual}", "2027-07-01")));
    // Planted long ago: established, and single again.
    CHECK_FALSE(dual(grow("{kind: shrubs, planted: 2020-04-20}", "2027-07-01")));
  }

  // FAO-56 Tables 17 and 12: tomato Kcb mid 1.10, 0.6 m high. Eq. 72 in the standard climate: Kc
  // max = the larger of 1.20 and Kcb + 0.05; Eq. 76: ((1.10 - 0.15) / (1.20 - 0.15))^1.3 = 0.878.
  TEST_CASE("the dual form's columns - mid-season of a tomato") {
    const Grown grown = grow("{crop: tomato, planted: 2027-04-20}", "2027-07-05");
    REQUIRE(dual(grown));
    CHECK(grown.plants.kc[0] == near(1.10, 1e-12));
    CHECK(grown.plants.kc_max[0] == near(1.20, 1e-12));
    CHECK(grown.plants.cover[0] == near(0.878, 0.0005));
    CHECK(grown.plants.adjust_p);
    CHECK(grown.fact("basal coefficient Kcb") != nullptr);
    CHECK(grown.fact("coefficient") == nullptr);
    REQUIRE(grown.fact("growth stages, days") != nullptr);
    CHECK(grown.fact("growth stages, days")->source ==
          "FAO-56 Table 11 (April/May; Mediterranean)");
  }

  TEST_CASE("a dry and windy site raises Kc max and Kcb - FAO-56 Eq. 70 and 72") {
    // 1.10 + (0.04 (4 - 2) - 0.004 (25 - 45)) (0.6 / 3)^0.3 = 1.10 + 0.16 x 0.6170 = 1.1987.
    const Grown grown = grow("{crop: tomato, planted: 2027-04-20}", "2027-07-05",
                             {.u2_m_s = 4.0, .rh_min_pct = 25.0});
    CHECK(grown.plants.kc[0] == near(1.1987, 0.0001));
    CHECK(grown.plants.kc_max[0] == near(1.2987, 0.0001));
  }

  TEST_CASE("a young planting - shallow roots and little cover") {
    const Grown grown = grow("{kind: shrubs, planted: 2027-07-01}", "2027-07-01");
    REQUIRE(dual(grown));
    CHECK(grown.plants.root_depth_m[0] == near(0.20, 1e-12));
    CHECK(grown.plants.root_depth_m[9] == near(0.20 + 9.0 / 730.0 * 0.30, 1e-12));
    CHECK(grown.plants.kc[0] == near(0.40, 1e-12));
    CHECK(grown.plants.cover[0] < 0.25);
    CHECK_FALSE(grown.plants.adjust_p);
    CHECK(grown.fact("root depth")->source.find("common practice, no source") != std::string::npos);
    const Grown small = grow("{kind: shrubs, planted: 2027-07-01, root ball: 12 cm}", "2027-07-01");
    CHECK(small.plants.root_depth_m[0] == near(0.12, 1e-12));
    // The gardener's own full depth is where they grow to.
    const Grown deep = grow("{kind: shrubs, planted: 2027-07-01, root depth: 93 cm}", "2027-07-01");
    CHECK(deep.plants.root_depth_m[9] == near(0.20 + 9.0 / 730.0 * 0.73, 1e-12));
  }

  TEST_CASE("shallow roots are watered more often") {
    const std::string zone =
        "area: 18 m2, soil: {texture: loam}, emitters: {type: dripline, flow: 2.1 L/h, spacing: 30 "
        "cm, rows: 40 cm}, depletion: 0 mm}\n";
    const std::string yaml =
        "garden: two\nsite: {latitude: 47.45, longitude: -122.31, elevation: 137 m, timezone: "
        "America/Los_Angeles}\nweather: {observed: " +
        std::string(RUNNEL_REFERENCE_DIR) +
        "/seattle-weather.csv}\nwatering hours: [\"04:30-08:00\"]\nzones:\n"
        "  - {name: old, valve: 1, plants: {kind: shrubs, method: single}, " +
        zone +
        "  - {name: young, valve: 2, plants: {kind: shrubs, planted: 2014-07-01, root ball: 8 cm, "
        "method: single}, " +
        zone;
    Read<Garden> read = read_garden(yaml, "two.yaml");
    REQUIRE(read.value);
    const GardenPlan planned = plan_garden(*read.value, {.from = parse_date("2014-07-07")});
    CHECK(planned.plan.zones[1].watering_days > planned.plan.zones[0].watering_days);
    CHECK(planned.plan.unharmed());
  }

  TEST_CASE("own stages and coefficients hold as they are stated") {
    const Conditions dry{.u2_m_s = 4.0, .rh_min_pct = 25.0};
    const std::string garlic =
        "{crop: garlic, planted: 2027-03-01, stages: [20, 30, 40, 25], coefficients: {initial: "
        "0.5, middle: 1.05, end: 0.8}";
    const Grown single = grow(garlic + "}", "2027-04-25", dry);
    CHECK_FALSE(dual(single));
    CHECK(single.plants.kc[0] == near(1.05, 1e-12));  // day 56: not adjusted to the climate
    CHECK(single.fact("coefficient")->source == "garden file");
    CHECK(single.fact("growth stages, days")->source == "garden file");
    const Grown basal = grow(garlic + ", method: dual}", "2027-04-25", dry);
    REQUIRE(dual(basal));
    CHECK(basal.plants.kc[0] == near(1.05, 1e-12));  // stated as Kcb then
    CHECK(grow(garlic + "}", "2027-03-02").plants.kc[0] == 0.5);
    CHECK(grow(garlic + "}", "2027-08-01").plants.kc[0] == 0.8);
  }

  TEST_CASE("a stated cover is the dual form's cover and lowers Kcb") {
    const Grown grown = grow("{crop: tomato, planted: 2027-04-20, cover: 40 %}", "2027-07-05");
    CHECK((grown.plants.cover == 0.4).all());
    CHECK(grown.plants.kc[0] < 1.0);
    // Eq. 98: at most twice the cover: 0.15 + 0.8 (Kcb full - 0.15), Kcb full = 1.06 for 0.6 m.
    CHECK(grown.plants.kc[0] <= 0.15 + 0.8 * (1.06 - 0.15) + 1e-9);
    CHECK(grown.fact("ground under plants")->source == "garden file");
    const Grown shrubs = grow("{kind: shrubs, cover: 40 %}", "2027-07-05");
    CHECK(shrubs.plants.kc[0] <= 0.4 + 1e-12);
    CHECK(shrubs.plants.kc[0] > 0.3);
    // In the polar night there is no sun to see the cover from the side.
    CHECK(grow("{kind: shrubs, cover: 40 %}", "2027-12-21", {.latitude = "70"}).plants.kc[0] ==
          near(0.4, 1e-12));
  }

  // FAO-56 Example 24: ETo 4 mm/d, light wettings every 2 days: Kc ini 0.85 read from Figure 29.
  TEST_CASE("wetted every so often - the initial coefficient from Annex 7") {
    const std::string tomato =
        "{crop: tomato, planted: 2027-04-20, wetted every: 2 days, wetting: 10 mm}";
    const Grown grown = grow(tomato, "2027-04-21", {.eto_mm = 4.0}, in_a_bed, sprays);
    CHECK_FALSE(dual(grown));
    CHECK(grown.plants.kc[0] == near(0.85, 0.05));
    CHECK(grown.fact("initial coefficient") != nullptr);
    // A pot's medium is wetted as a whole.
    CHECK(grow(tomato, "2027-04-21", {.eto_mm = 4.0}, in_pots).plants.kc[0] == grown.plants.kc[0]);
    const Grown table =
        grow("{crop: tomato, planted: 2027-04-20, method: single}", "2027-04-21", {.eto_mm = 4.0});
    CHECK(table.plants.kc[0] == 0.6);
    // Mid-season is what it was.
    CHECK(grow(tomato, "2027-07-05").plants.kc[0] == near(1.15, 1e-12));
  }

  // By hand, ETo 5 mm/d, loam, dripline (fw 0.35, the middle of FAO-56 Table 20): 15 mm / 0.35
  // = 42.9 mm on what is wetted (Eq. 61), more than 40 mm, so that Figure 30b holds alone. Annex 7:
  // TEW = min(28, 13 sqrt 5) = 28, REW = 9; t1 = 9 / 5.75 = 1.565 days; Eq. 7-3: (28 - 19 exp(-(3
  // - 1.565) 5.75 (1 + 9 / 19) / 28)) / (3 x 5) = 1.046; x 0.35 (Eq. 60) = 0.366.
  TEST_CASE("wetted in part - lettuce on dripline, 15 mm every 3 days") {
    const std::string lettuce =
        "{crop: lettuce, planted: 2027-04-20, method: single, wetted every: 3 days, wetting: 15 "
        "mm}";
    const Grown line = grow(lettuce, "2027-04-21", {}, in_a_bed, dripline);
    CHECK(line.plants.kc[0] == near(0.366, 0.0005));
    REQUIRE(line.fact("initial coefficient") != nullptr);
    CHECK(line.fact("initial coefficient")->source.find("35 % of the ground") != std::string::npos);
    // All of the ground wetted: a sixth of the way (Eq. 59) from light wettings (TEW 10, REW 2.68),
    // 0.600, to heavy ones, 1.046.
    CHECK(grow(lettuce, "2027-04-21", {}, in_a_bed, sprays).plants.kc[0] == near(0.6744, 0.0005));
    // No more than is reached of the root zone.
    const Grown few =
        grow(lettuce, "2027-04-21", {}, in_a_bed, std::string(dripline) + ", wetted: 20 %");
    CHECK(few.plants.kc[0] == near(0.2 * 1.046, 0.0005));
  }

  TEST_CASE("perennials need no date and turn round in the south") {
    const Grown north = grow("{crop: apple, method: single}", "2027-07-05");
    CHECK(north.plants.kc[0] == near(0.95, 1e-12));
    CHECK((north.plants.root_depth_m == 1.0).all());
    CHECK(grow("{crop: apple, method: single}", "2027-12-28").plants.kc[0] == 0.2);
    CHECK(grow("{crop: apple, method: single}", "2027-12-28", {.latitude = "-34.9"}).plants.kc[0] ==
          near(0.95, 1e-12));
    CHECK(grow("{crop: apple, method: single}", "2027-07-05", {.latitude = "-34.9"}).plants.kc[0] ==
          0.2);
    CHECK(grow("{crop: apple, green-up: 2027-07-01, method: single}", "2027-07-05").plants.kc[0] ==
          0.45);
  }

  TEST_CASE("an annual crop without its planting date is an error at its place") {
    CHECK_THROWS_AS((void)grow("{crop: tomato}", "2027-07-01"), InputError);
    CHECK_THROWS_AS((void)grow("{crop: tomato, coefficient: 0.8}", "2027-07-01"), InputError);
  }

  // FAO-56 Table 11, tomato in the Mediterranean: 30 + 40 + 45 + 30 = 145 days.
  TEST_CASE("an annual crop out of its season is doubted") {
    const auto doubts = [](const std::string& first_day) {
      const Grown grown = grow("{crop: tomato, planted: 2027-04-20}", first_day);
      return std::count_if(grown.findings.begin(), grown.findings.end(),
                           [](const Finding& f) { return f.kind == Finding::Kind::doubt; });
    };
    CHECK(doubts("2027-04-19") == 1);
    CHECK(doubts("2027-04-20") == 0);
    CHECK(doubts("2027-09-11") == 0);  // its day 145
    CHECK(doubts("2027-09-12") == 1);
    CHECK(grow("{crop: tomato, planted: 2027-04-20, coefficient: 0.8}", "2028-01-01")
              .findings.empty());
  }

  TEST_CASE("water need - stated it counts and not stated it is remarked") {
    const Grown low = grow("{kind: shrubs, water need: low, density: sparse}", "2027-07-01");
    CHECK(low.plants.kc[0] == near(0.1, 1e-12));
    CHECK(low.findings.empty());
    const Grown usual = grow("{kind: shrubs}", "2027-07-01");
    REQUIRE(usual.findings.size() == 1);
    CHECK(usual.findings[0].kind == Finding::Kind::remark);
    CHECK(grow("{kind: annual flowers}", "2027-07-01").findings.empty());
    CHECK(grow("{kind: shrubs}", "2027-07-01", {}, in_pots).findings.empty());
    CHECK(grow("{kind: shrubs, coefficient: 0.3}", "2027-07-01").findings.empty());
  }

  // ANSI/ASABE S623: desert-adapted plants 0.3, annual flowers 0.8. In pots the first keep theirs:
  // three times as much water would rot them.
  TEST_CASE("desert plants and succulents use in pots what they use in a bed") {
    for (const char* kind : {"desert plants", "succulents", "cacti"}) {
      CAPTURE(kind);
      const std::string entry = "{kind: " + std::string(kind);
      const Grown pots = grow(entry + "}", "2027-07-01", {}, in_pots);
      CHECK(pots.plants.kc[0] == grow(entry + "}", "2027-07-01").plants.kc[0]);
      CHECK(pots.plants.kc[0] == 0.3);
      REQUIRE(pots.findings.size() == 1);
      CHECK(pots.findings[0].kind == Finding::Kind::remark);
      CHECK(pots.findings[0].says.find("taken as in a bed") != std::string::npos);
      const Grown own = grow(entry + ", coefficient: 0.2}", "2027-07-01", {}, in_pots);
      CHECK(own.plants.kc[0] == 0.2);
      CHECK(own.findings.empty());
    }
    const Grown flowers = grow("{kind: annual flowers}", "2027-07-01", {}, in_pots);
    CHECK(flowers.plants.kc[0] == 1.0);
    CHECK(flowers.findings.empty());
  }
}

}  // namespace runnel

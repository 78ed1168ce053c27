// What a zone's valve delivers, from the ways of saying it in a garden file to flow, uniformity and
// doubts.
#include "runnel/delivery/delivery.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <variant>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/zone_task.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

Garden garden_with(const std::string& emitters, const std::string& supply,
                   const std::string& ground) {
  const std::string yaml =
      "garden: g\nsite: {latitude: 40, longitude: 0, elevation: 10 m, timezone: Europe/London}\n"
      "weather: {observed: w.csv}\nwatering hours: [\"04:30-08:00\"]\nsupply: " +
      supply + "\nzones:\n  - name: z\n    valve: 1\n    plants: {kind: mixed shrubs}\n    " +
      ground + "\n    emitters: " + emitters + "\n";
  Read<Garden> read = read_garden(yaml, "g.yaml");
  for (const Finding& finding : read.findings)
    if (finding.kind == Finding::Kind::error) FAIL(to_text(finding));
  return *std::move(read.value);
}

struct Delivered {
  Delivery delivery;
  std::vector<Finding> findings;
  std::string facts;

  /// Doubts with these words.
  [[nodiscard]] int doubts(const std::string& words) const {
    int count = 0;
    for (const Finding& finding : findings)
      if (finding.kind == Finding::Kind::doubt && to_text(finding).find(words) != std::string::npos)
        ++count;
    return count;
  }
  [[nodiscard]] bool has_fact(const std::string& words) const {
    return facts.find(words) != std::string::npos;
  }
};

constexpr const char* bed = "area: 12 m2\n    soil: {texture: loam}";
constexpr const char* three_pots =
    "containers: {count: 3, volume: 20 L, diameter: 32 cm, medium: peat mix}";
constexpr const char* no_pressure = "{flow: 60 L/min}";

/// Four weeks of 5 mm a day: what the valve delivers does not hang on the weather.
Delivered outcome(const std::string& emitters, const std::string& supply = no_pressure,
                  const std::string& ground = bed) {
  const Garden garden = garden_with(emitters, supply, ground);
  AssumedWeather weather;
  weather.first_day = *parse_date("2027-06-01");
  weather.eto_mm = Column::Constant(28, 5.0);
  weather.rain_mm = Column::Constant(28, 0.0);
  weather.source.resize(28);
  Delivered result{};
  PreparedZone zone = prepare_zone(garden, garden.zones.at(0), weather, result.findings);
  result.delivery = zone.task.delivery;
  for (const Fact& fact : zone.facts)
    result.facts += fact.what + ": " + fact.value + " (" + fact.source + ")\n";
  return result;
}

double l_h(const Delivered& of) { return of.delivery.flow.litres_per_hour(); }

}  // namespace

TEST_SUITE("zone delivery") {
  TEST_CASE("zone delivery - every way of saying it") {
    CHECK(l_h(outcome("{type: dripper, flow: 2 L/h, count: 24}")) == near(48.0, 1e-9));
    CHECK(l_h(outcome("{type: dripper, flow: 2 L/h, per plant: 2, plants: 9}")) ==
          near(36.0, 1e-9));
    CHECK(l_h(outcome("{type: dripper, flow: 2 L/h, per container: 2}", no_pressure, three_pots)) ==
          near(12.0, 1e-9));
    CHECK(l_h(outcome("{type: dripline, flow: 2 L/h, spacing: 50 cm, rows: 40 cm}")) ==
          near(120.0, 1e-9));
    CHECK(l_h(outcome("{type: soaker hose, flow per metre: 4 L/h, length: 20 m}")) ==
          near(80.0, 1e-9));
    CHECK(l_h(outcome("{type: soaker hose, flow per foot: 4 L/h, length: 20 ft}")) ==
          near(80.0, 1e-9));
    CHECK(l_h(outcome("{type: microspray, flow: 40 L/h, count: 6}")) == near(240.0, 1e-9));
    CHECK(l_h(outcome("{type: spray, total flow: 9 L/min}")) == near(540.0, 1e-9));
    CHECK(l_h(outcome("{type: spray, meter reading: {volume: 90 L, time: 10 min}}")) ==
          near(540.0, 1e-9));
    CHECK(l_h(outcome("{type: rotor, rate: 15 mm/h}")) == near(180.0, 1e-9));
    CHECK(l_h(outcome("{type: spray, heads: [{arc: 90, flow: 1 L/min, count: 4}, {arc: 180, flow: "
                      "2 L/min, count: 2}]}")) == near(480.0, 1e-9));
  }

  // Irrigation Association: flows must go with the arc; one flow on all arcs gives a quarter circle
  // four times a full circle's depth.
  TEST_CASE("zone delivery - heads that do not match are reported with their rates") {
    const Delivered matched =
        outcome("{type: spray, heads: [{arc: 90, flow: 1 L/min}, {arc: 360, flow: 4 L/min}]}");
    CHECK(matched.doubts("times as much") == 0);
    CHECK(matched.has_fact("rates of its heads: 25.0 to 25.0 mm/h"));
    const Delivered alike =
        outcome("{type: spray, heads: [{arc: 90, flow: 2 L/min}, {arc: 360, flow: 2 L/min}]}");
    // 240 L/h on 12 m2 are 20 mm/h; by share of the circle, 50 and 12.5.
    CHECK(alike.doubts("heads of 90 degrees bring 4.0 times as much as those of 360 (50.0 and 12.5 "
                       "mm/h)") == 1);
  }

  TEST_CASE("zone delivery - heads that do not reach the whole zone are reported") {
    const std::string heads = "{type: spray, heads: [{arc: 90, flow: 1 L/min, count: 4, radius: ";
    CHECK(outcome(heads + "1.5 m}]}").doubts("reach at most 7 of its 12 m2") == 1);
    CHECK(outcome(heads + "3 m}]}").doubts("reach at most") == 0);
  }

  // q = k P^x: x 0.5 turbulent, 1 laminar, 0 compensating (Keller & Karmeli 1974, from memory).
  TEST_CASE("zone delivery - flow follows the pressure unless compensating") {
    const std::string drip = "{type: dripper, flow: 2 L/h, count: 10, rated at: 1 bar";
    const std::string supply = "{pressure: 2 bar}";
    CHECK(l_h(outcome(drip + "}", supply)) == near(20.0 * std::sqrt(2.0), 1e-6));
    CHECK(l_h(outcome(drip + ", pressure: 1.5 bar}", supply)) == near(20.0 * std::sqrt(1.5), 1e-6));
    CHECK(l_h(outcome(drip + ", pressure compensating: yes}", supply)) == near(20.0, 1e-9));
    CHECK(l_h(outcome(drip + "}")) == near(20.0, 1e-9));
    CHECK(l_h(outcome("{type: soaker hose, flow per metre: 4 L/h, length: 10 m, rated at: 1 bar}",
                      supply)) == near(80.0, 1e-6));
  }

  // Drip systems work at 10-30 psi (Utah State University Extension): 30 psi are 2.07 bar.
  TEST_CASE("zone delivery - too much pressure for drip and too little for heads is said") {
    const std::string drip = "{type: dripper, flow: 2 L/h, count: 10";
    const std::string words = "2.8 bar is more than the 0.7 bar to 2.1 bar drip works at";
    const Delivered stated = outcome(drip + ", rated at: 1 bar}", "{pressure: 2.8 bar}");
    CHECK(stated.doubts(words) == 1);
    CHECK(stated.doubts("shut off and bleed a line") == 1);
    CHECK(stated.doubts("backflow preventer") == 1);
    CHECK(outcome(drip + ", rated at: 1 bar}", "{pressure: 2 bar}").doubts("drip works at") == 0);
    CHECK(outcome(drip + ", pressure: 1.5 bar}", "{pressure: 2.8 bar}").doubts("drip works") == 0);
    CHECK(outcome(drip + ", pressure compensating: yes}", "{pressure: 2.8 bar}")
              .doubts("drip works") == 0);
    // Nothing said about pressure at the zone: a remark, since a reducer may well be there.
    CHECK(outcome(drip + "}", "{pressure: 2.8 bar}").doubts("drip works") == 0);
    const std::string spray = "{type: spray, flow: 2 L/min, count: 4, rated at: 2 bar}";
    CHECK(outcome(spray, "{pressure: 1.2 bar}").doubts("rated at 2.0 bar and get 1.2 bar") == 1);
    CHECK(outcome(spray, "{pressure: 2 bar}").doubts("rated at") == 0);
  }

  // Sprays bring 1.25-1.7 in/h (City of College Station; California State University Fresno).
  TEST_CASE("zone delivery - a rate far from the usual is doubted") {
    CHECK(outcome("{type: spray, rate: 38 mm/h}").doubts("is usual for spray") == 0);
    CHECK(outcome("{type: spray, rate: 16 mm/h}").doubts("is usual for spray") == 0);
    CHECK(outcome("{type: spray, rate: 3.8 mm/h}")
              .doubts("brings 3.8 mm/h, where 31.8 to 43.2 is usual for spray") == 1);
    CHECK(outcome("{type: spray, rate: 380 mm/h}").doubts("is usual for spray") == 1);
  }

  TEST_CASE("zone delivery - a line too long is said with three ways to mend it") {
    const std::string drip =
        "{type: dripline, flow: 2 L/h, spacing: 30 cm, rows: 40 cm, rated at: 1 bar, pressure: 1 "
        "bar, line: {inside diameter: 13.6 mm, length: ";
    const Delivered longer = outcome(drip + "90 m}}");
    CHECK(longer.doubts("along the line the emitters give") == 1);
    CHECK(longer.doubts("lines of at most") == 1);
    CHECK(longer.doubts("feed this one from its middle") == 1);
    CHECK(longer.doubts("mm inside") == 1);
    CHECK(longer.doubts("shut off and bleed") == 1);
    CHECK(l_h(longer) < 200.0);  // 12 m2 at 2 L/h on 0.12 m2, less for the pressure lost
    CHECK(outcome(drip + "90 m, within: 40 %}}").doubts("along the line") == 0);
    const Delivered shorter = outcome(drip + "20 m}}");
    CHECK(shorter.doubts("line") == 0);
    CHECK(shorter.has_fact("line: pressure: 1.0 bar in, 1.0 bar at its end"));
    CHECK(l_h(shorter) == near(200.0, 2.0));
  }

  TEST_CASE("zone delivery - the run it advises keeps the limit") {
    const auto of_length = [](const std::string& length) {
      return outcome(
          "{type: dripline, flow: 2 L/h, spacing: 30 cm, rows: 40 cm, rated at: 1 bar, pressure: 1 "
          "bar, line: {inside diameter: 13.6 mm, length: " +
          length + "}}");
    };
    const Delivered longer = of_length("90 m");
    std::string advised;
    for (const Finding& finding : longer.findings) {
      const std::size_t at = finding.mend.find("lines of at most ");
      if (at != std::string::npos) advised = finding.mend.substr(at + 17, 6);
    }
    REQUIRE_FALSE(advised.empty());
    const double metres = std::stod(advised);
    CHECK(metres > 30.0);
    CHECK(metres < 90.0);
    CHECK(of_length(std::to_string(metres) + " m").doubts("along the line") == 0);
    CHECK(of_length(std::to_string(metres + 0.3) + " m").doubts("along the line") == 1);
  }

  TEST_CASE("zone delivery - a line without pressure or that runs dry is said") {
    const std::string drip =
        "{type: dripper, flow: 2 L/h, count: 10, line: {length: 30 m, inside "
        "diameter: 13.6 mm";
    CHECK(outcome(drip + "}}").doubts("no pressure is stated") == 1);
    CHECK(outcome(drip + ", rise: 15 m}}", "{pressure: 1 bar}").doubts("runs dry before its end") ==
          1);
    CHECK(
        outcome("{type: dripper, flow: 8 L/h, count: 200, pressure compensating: yes, pressure: 1 "
                "bar, line: {length: 60 m, inside diameter: 16 mm}}")
                .doubts("too little for compensating emitters") +
            outcome("{type: dripper, flow: 8 L/h, count: 200, pressure compensating: yes, "
                    "pressure: 1 bar, line: {length: 60 m, inside diameter: 16 mm}}")
                .doubts("runs dry") ==
        1);
  }

  // EU = (1 - 1.27 Cv / sqrt(n)) q_min / q_mean: Cv 0.07, n 4 and no loss of pressure give 95.56 %.
  TEST_CASE("zone delivery - uniformity by design and the part it must be enough for") {
    const std::string four = "{type: dripper, flow: 2 L/h, per plant: 4, plants: 5";
    const double eu = 1.0 - 1.27 * 0.07 / 2.0;
    CHECK(outcome(four + ", variation: 7 %}").delivery.multiplier ==
          near(1.0 / (0.4 + 0.6 * eu), 1e-9));
    CHECK(outcome(four + ", variation: 7 %, uniformity: 80 %}").delivery.multiplier ==
          near(1.1364, 0.00005));  // DU 0.80, Irrigation Association 2005
    CHECK(outcome(four + ", uniformity: 80 %, enough for: driest quarter}").delivery.multiplier ==
          near(1.25, 1e-9));  // old practice 1 / DU
    CHECK(outcome(four + ", uniformity: 80 %, enough for: driest half}").delivery.multiplier ==
          near(1.1364, 0.00005));
  }
}

}  // namespace runnel

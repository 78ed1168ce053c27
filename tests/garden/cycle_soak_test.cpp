// Cycles and soaks of small garden files, against the runs and pauses worked by hand from the
// published intake rates and surface storages.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "runnel/garden/plan_garden.hpp"

namespace runnel {
namespace {

constexpr double mm_per_inch = 25.4;
constexpr double eto_week_mm = 49.0;
// ANSI/ASABE S623 (from memory), mid of 0.5-0.7, and Costello et al. 1991.
constexpr double perennials = 0.6, shrubs = 0.5;

/// Ground and what is put on it.
struct Case {
  double intake_mm_h, storage_mm, rate_mm_h, du, coefficient;
  /// 60 S / (R - I) in whole minutes, without end where the ground takes the rate. Irrigation
  /// Association, Landscape Irrigation Scheduling and Water Management (2005).
  [[nodiscard]] double longest_min() const {
    if (rate_mm_h <= intake_mm_h) return std::numeric_limits<double>::infinity();
    return std::floor(60.0 * storage_mm / (rate_mm_h - intake_mm_h));
  }
  /// Until what a run of that length left standing is gone.
  [[nodiscard]] double soak_min(double run_min) const {
    return run_min * std::max(0.0, rate_mm_h - intake_mm_h) / intake_mm_h;
  }
  /// Minutes a day that bring the week's need on so many days: over the uneven watering too.
  [[nodiscard]] double minutes_a_day(int days) const {
    return coefficient * eto_week_mm / days / (0.4 + 0.6 * du) / rate_mm_h * 60.0;
  }
};

GardenPlan planned(const std::string& soil, const std::string& plants,
                   const std::string& emitters) {
  const std::string yaml =
      "garden: slope\nsite: {latitude: 38.72, longitude: -9.14, elevation: 95 m, timezone: "
      "Europe/Lisbon}\nweather: {observed: " +
      std::string(RUNNEL_TEST_DATA) +
      "/garden/seven-mm-a-day.csv}\nwatering hours: [\"04:00-10:00\"]\n"
      "zones:\n  - {name: bed, valve: 1, area: 20 m2, plants: {kind: " +
      plants + "}, soil: " + soil + ",\n     emitters: " + emitters + "}\n";
  Read<Garden> garden = read_garden(yaml, "slope.yaml");
  for (const Finding& finding : garden.findings)
    if (finding.kind == Finding::Kind::error) FAIL(to_text(finding));
  return plan_garden(*garden.value, {});
}

/// As many starts a day as the day's minutes need, no run over the longest, no pause below the
/// soak, and enough in the week.
void check(const GardenPlan& plan, const Case& of) {
  REQUIRE(plan.plan.programmes.size() == 1);
  const auto& starts = plan.plan.programmes[0].starts;
  const auto run_min = static_cast<double>(plan.plan.valves.at(0).openings.at(0).length.count());
  const int days = plan.plan.zones[0].watering_days;
  CAPTURE(days);
  CAPTURE(run_min);
  REQUIRE(days > 0);
  const double wanted = std::ceil(of.minutes_a_day(days) / of.longest_min());
  CHECK(static_cast<double>(starts.size()) == std::max(1.0, wanted));
  CHECK(run_min <= of.longest_min());
  CHECK(run_min * static_cast<double>(starts.size()) >= of.minutes_a_day(days));
  for (std::size_t i = 1; i < starts.size(); ++i)
    CHECK(static_cast<double>((starts[i] - starts[i - 1]).count()) >=
          run_min + of.soak_min(run_min));
  CHECK(plan.plan.unharmed());
}

std::size_t starts_a_day(const GardenPlan& plan) { return plan.plan.programmes[0].starts.size(); }

constexpr const char* spray = "{type: spray, rate: 20 mm/h, uniformity: 0.65}";
constexpr const char* dripline =
    "{type: dripline, flow: 2.1 L/h, spacing: 30 cm, rows: 40 cm, uniformity: 0.85}";
constexpr double dripline_mm_h = 2.1 / (0.3 * 0.4);

}  // namespace

TEST_SUITE("cycles and soaks of gardens") {
  // Irrigation Association (2005), slopes of 7-12 %: clay 0.1 in/h and 0.1 in, sand 0.6 in/h and
  // 0.3 in. Clay: 60 x 2.54 / 17.46 = 8.7 min, sand 60 x 7.62 / 4.76 = 96 min.
  TEST_CASE("a slope under sprays: several starts a day on clay and one on sand") {
    const Case clay{.intake_mm_h = 0.1 * mm_per_inch,
                    .storage_mm = 0.1 * mm_per_inch,
                    .rate_mm_h = 20.0,
                    .du = 0.65,
                    .coefficient = perennials};
    const GardenPlan on_clay = planned("{texture: clay, slope: 8 %}", "perennials", spray);
    CHECK(clay.longest_min() == 8.0);
    CHECK(starts_a_day(on_clay) > 1);
    check(on_clay, clay);

    const Case sand{.intake_mm_h = 0.6 * mm_per_inch,
                    .storage_mm = 0.3 * mm_per_inch,
                    .rate_mm_h = 20.0,
                    .du = 0.65,
                    .coefficient = perennials};
    const GardenPlan on_sand = planned("{texture: sand, slope: 8 %}", "perennials", spray);
    CHECK(sand.longest_min() == 96.0);
    CHECK(starts_a_day(on_sand) == 1);
    check(on_sand, sand);
  }

  // FAO Irrigation Water Management Training Manual 5 (1988), Annex 2: sandy loam 20-30 mm/h, clay
  // 1-5 mm/h; storage on the flat, Irrigation Association (2005): clay 0.2 in. Under drops from
  // above sandy loam takes 0.4 in/h and stores 0.33 in: no more than 68 minutes at 17.5 mm/h.
  TEST_CASE("a dripline: one long run on sandy loam and cycles on clay") {
    const Case sandy{.intake_mm_h = 25.0,
                     .storage_mm = 0.33 * mm_per_inch,
                     .rate_mm_h = dripline_mm_h,
                     .du = 0.85,
                     .coefficient = shrubs};
    const GardenPlan on_sandy = planned("{texture: sandy loam}", "mixed shrubs", dripline);
    CHECK(starts_a_day(on_sandy) == 1);
    check(on_sandy, sandy);
    Case from_above = sandy;
    from_above.intake_mm_h = 0.4 * mm_per_inch;
    CHECK(from_above.longest_min() == 68.0);
    CHECK(static_cast<double>(on_sandy.plan.valves.at(0).openings.at(0).length.count()) >
          from_above.longest_min());

    const Case clay{.intake_mm_h = 3.0,
                    .storage_mm = 0.2 * mm_per_inch,
                    .rate_mm_h = dripline_mm_h,
                    .du = 0.85,
                    .coefficient = shrubs};
    const GardenPlan on_clay = planned("{texture: clay}", "mixed shrubs", dripline);
    CHECK(clay.longest_min() == 21.0);
    CHECK(starts_a_day(on_clay) > 1);
    check(on_clay, clay);
  }
}

}  // namespace runnel

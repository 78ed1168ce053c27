// From the garden file to what a bed's ground holds where it is wetted, and what evaporates from
// it.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "support/near.hpp"
#include "zone_parts.hpp"

namespace runnel {
namespace {

/// A bed with this soil and these emitters.
Garden garden_of(const std::string& soil, const std::string& emitters) {
  const std::string yaml =
      "garden: g\nsite: {latitude: 38.72, longitude: -9.14, elevation: 95 m, timezone: "
      "Europe/Lisbon}\nweather: {observed: w.csv}\nwatering hours: [\"04:30-08:00\"]\nzones:\n"
      "  - name: bed\n    valve: 1\n    area: 18 m2\n    plants: {kind: mixed shrubs}\n    soil: " +
      soil + "\n    emitters: " + emitters + "\n";
  Read<Garden> garden = read_garden(yaml, "g.yaml");
  for (const Finding& finding : garden.findings)
    if (finding.kind == Finding::Kind::error) FAIL(to_text(finding));
  return *garden.value;
}

constexpr Eigen::Index days = horizon_days;

AssumedWeather weather(std::vector<double> rain_before_mm = {}) {
  const auto before = static_cast<Eigen::Index>(rain_before_mm.size());
  return {.first_day = std::chrono::local_days{std::chrono::year{2027} / 7 / 12},
          .eto_mm = Column::Constant(days, 5.0),
          .rain_mm = Column::Zero(days),
          .source = {},
          .eto_before_mm = Column::Constant(before, 5.0),
          .rain_before_mm = Eigen::Map<Column>(rain_before_mm.data(), before)};
}

ZonePlants single() {
  return {.kc = Column::Constant(days, 0.5),
          .root_depth_m = Column::Constant(days, 0.5),
          .p = 0.5,
          .adjust_p = false};
}
ZonePlants dual(double cover) {
  ZonePlants plants = single();
  plants.kc = Column::Constant(days, 0.15);
  plants.kc_max = Column::Constant(days, 1.2);
  plants.cover = Column::Constant(days, cover);
  return plants;
}

struct Made {
  ZoneSurface zone;
  std::vector<Finding> findings;
  std::vector<Fact> facts;
};
Made surface_of(const Garden& garden, const ZonePlants& plants) {
  Made made;
  const AssumedWeather assumed = weather();
  made.zone = zone_surface({garden, garden.zones[0], assumed, made.findings, made.facts}, plants);
  return made;
}

double share_of(const std::string& texture, const std::string& emitters) {
  return surface_of(garden_of("{texture: " + texture + "}", emitters), single()).zone.wetted_share;
}

constexpr const char* usual_dripline =
    "{type: dripline, flow: 2.1 L/h, spacing: 30 cm, rows: 40 cm}";

SoilState start_of(const Garden& garden, const ZonePlants& plants,
                   const std::vector<double>& rain_before_mm) {
  std::vector<Finding> findings;
  std::vector<Fact> facts;
  const AssumedWeather assumed = weather(rain_before_mm);
  const ZoneContext context{garden, garden.zones[0], assumed, findings, facts};
  const ZoneSurface zone = zone_surface(context, plants);
  ZoneTask task;
  task.root_zone = {.p = 0.5,
                    .adjust_p = false,
                    .aim_ks = 1.0,
                    .surplus = Surplus::end_of_day,
                    .wetted_share = zone.wetted_share,
                    .surface = zone.surface};
  task.model = {.kc = plants.kc,
                .taw_mm = Column::Constant(days, 60.0),
                .kc_max = plants.kc_max,
                .cover = plants.cover};
  return rain_fed_start(context, bed(context, plants), task, 1.0);
}

}  // namespace

TEST_SUITE("garden/zone surface") {
  TEST_CASE("the root-zone share goes by soil and spacing") {
    for (const char* const texture : {"sandy loam", "loam", "clay"})
      CHECK(share_of(texture, usual_dripline) == 1.0);
    // 0.75 m across on loam: lines 1.5 m apart wet half, drippers one to the square metre 44 %.
    CHECK(share_of("loam", "{type: dripline, flow: 2.1 L/h, spacing: 30 cm, rows: 150 cm}") ==
          near(0.5, 1e-12));
    CHECK(share_of("loam", "{type: dripper, flow: 2 L/h, count: 18}") == near(0.4418, 1e-4));
    CHECK(share_of("sand", "{type: dripper, flow: 2 L/h, count: 18}") == near(0.0707, 1e-4));
    CHECK(share_of("loam", "{type: spray, rate: 30 mm/h}") == 1.0);
    CHECK(share_of("loam", "{type: rotor, total flow: 12 L/min}") == 1.0);
  }

  TEST_CASE("a root zone wetted by less than half is doubted") {
    // Utah State University Extension, Drip Irrigation for Trees: at least 50 %.
    const Made made = surface_of(
        garden_of("{texture: loam}", "{type: dripper, flow: 2 L/h, count: 18}"), single());
    REQUIRE(made.findings.size() == 1);
    CHECK(made.findings[0].kind == Finding::Kind::doubt);
    CHECK(made.findings[0].says.find("44 %") != std::string::npos);
    CHECK(surface_of(garden_of("{texture: loam}", usual_dripline), single()).findings.empty());
    CHECK(surface_of(
              garden_of("{texture: loam}", "{type: dripper, flow: 2 L/h, count: 18, wetted: 40 %}"),
              single())
              .findings.empty());
  }

  TEST_CASE("never FAO-56 Table 20's share, which is the surface's") {
    const Made made = surface_of(garden_of("{texture: loam}", usual_dripline), dual(0.0));
    REQUIRE(made.zone.surface);
    CHECK(made.zone.surface->fw == near(0.35, 1e-12));  // trickle 0.3-0.4
    CHECK(made.zone.wetted_share == 1.0);
    // Drippers far apart on sand: no more of the surface than of what lies below.
    const Made far_apart = surface_of(
        garden_of("{texture: sand}", "{type: dripper, flow: 2 L/h, count: 18}"), dual(0.0));
    CHECK(far_apart.zone.surface->fw == far_apart.zone.wetted_share);
  }

  TEST_CASE("a spacing not known counts as all, said so, unless a share is stated") {
    const Made unknown =
        surface_of(garden_of("{texture: loam}", "{type: dripline, total flow: 5 L/min}"), single());
    CHECK(unknown.zone.wetted_share == 1.0);
    REQUIRE(unknown.findings.size() == 1);
    CHECK(unknown.findings[0].mend.find("wetted: 60 %") != std::string::npos);
    const Made stated = surface_of(
        garden_of("{texture: loam}", "{type: dripline, total flow: 5 L/min, wetted: 60 %}"),
        single());
    CHECK(stated.zone.wetted_share == 0.6);
    CHECK(stated.findings.empty());
  }

  TEST_CASE("the surface of a dual coefficient - FAO-56 Tables 19 and 20") {
    CHECK_FALSE(surface_of(garden_of("{texture: loam}", usual_dripline), single())
                    .zone.surface.has_value());
    const SoilSurface loam =
        *surface_of(garden_of("{texture: loam}", usual_dripline), dual(0.6)).zone.surface;
    CHECK(loam.rew_mm == near(9.0, 1e-12));     // 8-10 mm
    CHECK(loam.tew_mm == near(19.0, 1e-12));    // 16-22 mm
    CHECK(loam.fw == near(0.35 * 0.6, 1e-12));  // chapter 7: 1 - 2/3 of the cover
    CHECK(loam.evaporation_share == 1.0);
    const SoilSurface sprayed =
        *surface_of(garden_of("{texture: loam}", "{type: spray, rate: 30 mm/h}"), dual(0.6))
             .zone.surface;
    CHECK(sprayed.fw == 1.0);
    // Measured water contents: Eq. 73, 1000 (0.28 - 0.5 x 0.12) 0.10.
    const SoilSurface measured =
        *surface_of(garden_of("{texture: loam, field capacity: 28 %, wilting point: 12 %}",
                              usual_dripline),
                    dual(0.6))
             .zone.surface;
    CHECK(measured.tew_mm == near(22.0, 1e-9));
    CHECK(measured.rew_mm == near(9.0 / 19.0 * 22.0, 1e-9));
  }

  TEST_CASE("mulch - FAO-56 chapter 10, and without a dual coefficient a remark") {
    const Garden bark =
        garden_of("{texture: loam, mulch: {kind: bark, cover: 50 %}}", usual_dripline);
    const Made made = surface_of(bark, dual(0.2));
    CHECK(made.zone.surface->evaporation_share == near(0.75, 1e-12));
    CHECK(made.zone.kcb_share == 1.0);
    const Made plastic =
        surface_of(garden_of("{texture: loam, mulch: plastic}", usual_dripline), dual(0.2));
    CHECK(plastic.zone.surface->evaporation_share == near(0.35, 1e-12));
    CHECK(plastic.zone.kcb_share == near(0.9, 1e-12));
    const Made not_reckoned = surface_of(bark, single());
    CHECK(not_reckoned.zone.kcb_share == 1.0);
    REQUIRE(not_reckoned.findings.size() == 1);
    CHECK(not_reckoned.findings[0].says.find("bark") != std::string::npos);
  }

  TEST_CASE("what rain alone has left of water") {
    const Garden far_apart =
        garden_of("{texture: loam}", "{type: dripper, flow: 2 L/h, count: 18}");
    const Garden close = garden_of("{texture: loam}", usual_dripline);
    // Nothing is asked for where nothing needs it.
    CHECK(start_of(close, single(), {0.0, 0.0}).dry_mm == 0.0);
    // No observed days: half of TAW 60; a day of 2.5 mm more; sixty dry days: nearly all of it.
    CHECK(start_of(far_apart, single(), {}).dry_mm == near(30.0, 1e-12));
    CHECK(start_of(far_apart, single(), {0.0}).dry_mm == near(32.5, 1e-12));
    CHECK(start_of(far_apart, single(), std::vector<double>(60, 0.0)).dry_mm > 58.0);
    CHECK(start_of(far_apart, single(), {200.0, 0.0}).dry_mm == near(2.5, 1e-12));
    // The surface: REW when no rain says otherwise, wetted by the emitters; after rain what is
    // left.
    const SoilState dry = start_of(close, dual(0.0), std::vector<double>(10, 0.0));
    CHECK(dry.surface_mm == near(9.0, 1e-12));
    CHECK(dry.surface_fw == near(0.35, 1e-12));
    const SoilState rained = start_of(close, dual(0.0), {0.0, 0.0, 30.0});
    CHECK(rained.surface_mm == near(1.05 * 5.0, 1e-12));  // Ke = 1.2 - 0.15, FAO-56 Eq. 71
    CHECK(rained.surface_fw == 1.0);
  }
}

}  // namespace runnel

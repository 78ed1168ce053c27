// Exposures as a gardener writes them, and what they become over a garden's weather.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "runnel/demand/exposure_words.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/garden/plan_garden.hpp"
#include "runnel/reference_et/penman_monteith.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

constexpr double degrees = std::numbers::pi / 180.0;

const std::string folder = std::string(RUNNEL_TEST_DATA) + "/garden/exposure";

/// One bed of that exposure, on the week worked by hand.
std::string garden_text(const std::string& exposure, const std::string& weather) {
  return "garden: Trial\n"
         "site: {latitude: 38.72, longitude: -9.14, elevation: 95 m, timezone: Europe/Lisbon}\n"
         "weather: " +
         weather +
         "\nwatering hours: [\"04:30-08:00\"]\n"
         "zones:\n"
         "  - name: bed\n"
         "    valve: 1\n"
         "    area: 10 m2\n"
         "    plants: {kind: mixed shrubs}\n"
         "    exposure: " +
         exposure +
         "\n    soil: {texture: sandy loam}\n"
         "    emitters: {type: dripline, flow: 2.1 L/h, spacing: 30 cm, rows: 40 cm}\n";
}

const std::string hand_week =
    "{observed: " + std::string(RUNNEL_TEST_DATA) +
    "/garden/sanity-week/weather.csv, forecast: " + std::string(RUNNEL_TEST_DATA) +
    "/garden/sanity-week/forecast.csv}";

Garden read(const std::string& yaml) {
  Read<Garden> garden = read_garden(yaml, "trial.yaml");
  for (const Finding& finding : garden.findings)
    if (finding.kind == Finding::Kind::error) FAIL(to_text(finding));
  return *std::move(garden.value);
}

ExposureEntry entry_of(const std::string& exposure) {
  return read(garden_text(exposure, hand_week)).zones[0].exposure;
}

struct Prepared {
  PreparedZone zone;
  AssumedWeather weather;
  std::vector<Finding> findings;

  /// Of the week as a whole.
  [[nodiscard]] double week_factor() const {
    const auto factors = zone.chain.mean_factors(7);
    return factors[0] * factors[1];
  }
  [[nodiscard]] bool says(Finding::Kind kind, const std::string& text) const {
    return std::any_of(findings.begin(), findings.end(), [&](const Finding& finding) {
      return finding.kind == kind && finding.says.find(text) != std::string::npos;
    });
  }
  [[nodiscard]] const Fact* fact(const std::string& what) const {
    const auto found = std::find_if(zone.facts.begin(), zone.facts.end(),
                                    [&](const Fact& fact) { return fact.what == what; });
    return found == zone.facts.end() ? nullptr : &*found;
  }
};

Prepared prepared(const std::string& exposure, const std::string& weather = hand_week,
                  const std::string& site = {}) {
  std::string yaml = garden_text(exposure, weather);
  if (!site.empty()) {
    const std::size_t at = yaml.find("site: ");
    yaml.replace(at, yaml.find('\n', at) - at, "site: " + site);
  }
  const Garden garden = read(yaml);
  Prepared result;
  GardenPlan planned = plan_garden(garden, {});
  result.zone = std::move(planned.zones[0]);
  result.weather = std::move(planned.weather);
  result.findings = std::move(planned.findings);
  return result;
}

/// The one error with which preparing such a garden ends.
Finding refused(const std::string& exposure, const std::string& weather = hand_week,
                const std::string& site = {}) {
  try {
    static_cast<void>(prepared(exposure, weather, site));
  } catch (const InputError& error) {
    REQUIRE(error.findings().size() == 1);
    return error.findings()[0];
  }
  FAIL("not refused");
  return {};
}

}  // namespace

TEST_SUITE("exposure") {
  TEST_CASE("garden exposure - hours of sun are read with their days") {
    const ExposureEntry entry = entry_of(
        "{direct sun: [\"07:00-09:30\", 16:00-18:00], observed: 2027-06-15, sky: 70 %, "
        "wind: 80 %, also: [{direct sun: none, observed: 2027-12-20}]}");
    CHECK_FALSE(entry.factor);
    CHECK(entry.words.empty());
    REQUIRE(entry.sun.size() == 2);
    REQUIRE(entry.sun[0].hours.size() == 2);
    CHECK(entry.sun[0].hours[1].opens == WallTime{16 * 60});
    CHECK(entry.sun[0].on == parse_date("2027-06-15"));
    CHECK(entry.sun[1].hours.empty());
    CHECK(entry.sun[1].on == parse_date("2027-12-20"));
    CHECK(entry.geometry.sky_share.value_or(0.0) == near(0.7, 1e-12));
    CHECK(entry.geometry.wind_share == near(0.8, 1e-12));
    CHECK(entry.geometry.albedo == 0.2);
    CHECK(entry_of("{direct sun: all day}").sun[0].hours.size() == 1);
    CHECK(entry_of("{direct sun: none, also: {direct sun: 12:00-13:00, observed: 2027-12-20}}")
              .sun.size() == 2);
  }

  TEST_CASE("garden exposure - what stands around becomes a skyline") {
    const Skyline skyline =
        entry_of(
            "{obstructions: [{from: 200 deg, to: 290 deg, height: 35 deg}, {from: east, to: "
            "south-east, wall: 3 m, distance: 2 m}, {from: north-west, to: 10 deg, height: 5 "
            "deg}]}")
            .geometry.skyline;
    CHECK(skyline.height_at_rad(250.5 * degrees) == near(35.0 * degrees, 1e-12));
    CHECK(skyline.height_at_rad(112.6 * degrees) == near(std::atan(1.5), 1e-3));
    CHECK(skyline.height_at_rad(90.5 * degrees) ==
          near(std::atan(1.5 * std::cos(22.0 * degrees)), 1e-12));
    CHECK(skyline.height_at_rad(0.5 * degrees) == near(5.0 * degrees, 1e-12));
    CHECK(skyline.height_at_rad(180.0 * degrees) == 0.0);
    const Skyline round =
        entry_of("{obstructions: [{from: 0 deg, to: 360 deg, height: 12 deg}]}").geometry.skyline;
    for (const double height : round.height_rad) CHECK(height == near(12.0 * degrees, 1e-12));
  }

  TEST_CASE("garden exposure - canopy surroundings and slope") {
    const Exposure canopy = entry_of("{canopy: 40 %, surroundings: white wall}").geometry;
    CHECK(canopy.canopy_share == near(0.4, 1e-12));
    CHECK(canopy.albedo == 0.7);
    CHECK(entry_of("{albedo: 30 %, sky: 0.5}").geometry.albedo == near(0.3, 1e-12));
    const Exposure bank = entry_of("{slope: 100 %, facing: south-west}").geometry;
    CHECK(bank.slope_rad == near(45.0 * degrees, 1e-12));
    CHECK(bank.facing_rad == near(225.0 * degrees, 1e-12));
    const Exposure gentle = entry_of("{slope: 8 deg, facing: 190 deg}").geometry;
    CHECK(gentle.slope_rad == near(8.0 * degrees, 1e-12));
    CHECK(gentle.facing_rad == near(190.0 * degrees, 1e-12));
  }

  // The shade border of the week worked by hand: "sun 07-10 h, sky seen 0.5, walls of albedo 0.2,
  // wind share 0.6 -> exposure 0.45-0.48".
  TEST_CASE("garden exposure - the shade border of the week worked by hand") {
    const Prepared border =
        prepared("{direct sun: \"07:00-10:00\", observed: 2026-07-15, sky: 50 %, wind: 60 %}");
    CHECK(border.week_factor() >= 0.45);
    CHECK(border.week_factor() <= 0.48);
    REQUIRE(border.zone.chain.exposure().size() == border.weather.eto_mm.size());
    // Shelter and shade each take their part: neither alone makes the factor.
    const auto factors = border.zone.chain.mean_factors(7);
    CHECK(factors[0] < 0.75);
    CHECK(factors[1] < 0.9);
    REQUIRE(border.fact("sky seen") != nullptr);
    CHECK(border.fact("sky seen")->value == "50 %");
    CHECK(border.fact("direct sun")->value == "07:00-10:00");
    CHECK(border.fact("direct sun")->source == "seen on 2026-07-15");
    CHECK(border.fact("skyline")->source.find("assumed") == 0);
    CHECK(border.fact("wind")->value == "60 %");
    CHECK(border.fact("direct light let in") != nullptr);
    CHECK_FALSE(border.says(Finding::Kind::doubt, "exposure factor"));
    CHECK_FALSE(border.says(Finding::Kind::remark, "midsummer"));
  }

  TEST_CASE("garden exposure - open ground is 1 exactly") {
    for (const char* exposure :
         {"full sun", "{sky: 100 %}", "{wind: 100 %, albedo: 0.7}", "{factor: 1}"}) {
      const Prepared open = prepared(exposure);
      CAPTURE(exposure);
      CHECK((open.zone.chain.exposure() == 1.0).all());
      CHECK(open.week_factor() == 1.0);
    }
    // Computed, not taken as open: sun seen all day.
    const Prepared sunny = prepared("{direct sun: all day, observed: 2026-06-21}");
    CHECK((sunny.zone.chain.exposure() == 1.0).all());
    CHECK(sunny.fact("skyline")->value == "0 to 0 deg");
  }

  TEST_CASE("garden exposure - words are computed and differ from day to day") {
    const Prepared shade = prepared("part shade");
    CHECK(shade.week_factor() > 0.5);
    CHECK(shade.week_factor() < 0.75);
    CHECK(shade.zone.chain.exposure().head(7).minCoeff() <
          shade.zone.chain.exposure().head(7).maxCoeff());
    CHECK(shade.fact("place")->value == "part shade");
    const Prepared deep = prepared("full shade");
    CHECK(deep.week_factor() < 0.45);
    CHECK(deep.week_factor() < shade.week_factor() - 0.15);
    CHECK(prepared("windy").week_factor() > 1.0);
  }

  TEST_CASE("garden exposure - factors beyond the published ones are doubted") {
    const Prepared dark = prepared("{direct sun: none, sky: 30 %, wind: 50 %, albedo: 0.1}");
    CHECK(dark.week_factor() < 0.4);
    CHECK(dark.says(Finding::Kind::doubt, "outside the 0.5 to 1.4"));
    const Prepared gale = prepared("{wind: 300 %}");
    CHECK(gale.week_factor() > 1.4);
    CHECK(gale.says(Finding::Kind::doubt, "outside the 0.5 to 1.4"));
    CHECK_FALSE(prepared("{wind: 150 %}").says(Finding::Kind::doubt, "outside the 0.5 to 1.4"));
  }

  TEST_CASE("garden exposure - a sun higher than on the day seen is doubted") {
    const Prepared spring = prepared("{direct sun: 07:00-11:30, observed: 2026-04-15}");
    CHECK(spring.says(Finding::Kind::doubt, "deg higher than on the day on which it was seen"));
    // Known from a second day.
    CHECK_FALSE(prepared("{direct sun: 07:00-11:30, observed: 2026-04-15, also: {direct sun: "
                         "07:00-12:30, observed: 2026-06-21}}")
                    .says(Finding::Kind::doubt, "higher than on the day"));
    CHECK_FALSE(prepared("{direct sun: all day, observed: 2026-04-15}")
                    .says(Finding::Kind::doubt, "higher than on the day"));
    CHECK_FALSE(prepared("{direct sun: 07:00-11:30, observed: 2026-06-15}")
                    .says(Finding::Kind::doubt, "higher than on the day"));
  }

  TEST_CASE("garden exposure - a day not stated is midsummer of the hemisphere") {
    const Prepared north = prepared("{direct sun: 07:00-11:30, sky: 70 %}");
    CHECK(north.says(Finding::Kind::remark, "midsummer, 2026-06-21"));
    const Prepared south = prepared(
        "{direct sun: 10:00-14:30, sky: 70 %}", "{observed: " + folder + "/temperatures.csv}",
        "{latitude: -34.9, longitude: 138.6, elevation: 50 m, timezone: Australia/Adelaide}");
    CHECK(south.says(Finding::Kind::remark, "midsummer, 2026-12-21"));
  }

  TEST_CASE("garden exposure - hours in which the sun is down are refused at their place") {
    const Finding night = refused("{direct sun: \"23:00-23:30\", observed: 2026-06-15}");
    CHECK(night.says.find("the sun is down between 23:00-23:30 on 2026-06-15") !=
          std::string::npos);
    CHECK(night.at.line == 10);
    CHECK(night.at.column == 28);
    const Finding polar =
        refused("{direct sun: none, observed: 2026-12-21}", hand_week,
                "{latitude: 70, longitude: 19, elevation: 5 m, timezone: Europe/Oslo}");
    CHECK(polar.says.find("the sun does not rise on 2026-12-21") != std::string::npos);
    CHECK(polar.at.line == 10);
  }

  TEST_CASE("garden exposure - reference ET alone carries words and factors but no geometry") {
    const std::string alone = "{observed: " + folder + "/reference-et.csv}";
    const Finding geometry =
        refused("{obstructions: [{from: 90 deg, to: 270 deg, height: 30 deg}]}", alone);
    CHECK(geometry.says.find("reference ET alone") != std::string::npos);
    CHECK(geometry.at.line == 10);
    CHECK(geometry.at.column == 15);
    CHECK_FALSE(geometry.mend.empty());

    const Prepared words = prepared("part shade", alone);
    const ExposureTable table = exposure_table();
    CHECK(words.week_factor() == near(find_exposure(table, "part shade")->factor, 1e-12));
    CHECK(words.says(Finding::Kind::doubt, "the published factor 0.8 is taken") !=
          words.says(Finding::Kind::doubt, "the published factor 0.80 is taken"));
    CHECK(prepared("{factor: 0.7}", alone).week_factor() == near(0.7, 1e-12));
    CHECK(prepared("full sun", alone).week_factor() == 1.0);
    CHECK_FALSE(prepared("full sun", alone).says(Finding::Kind::doubt, "published factor"));
  }

  TEST_CASE("garden exposure - temperatures alone are enough") {
    const std::string alone = "{observed: " + folder + "/temperatures.csv}";
    const Prepared shade = prepared("full shade", alone);
    CHECK(shade.week_factor() > 0.2);
    CHECK(shade.week_factor() < 0.7);
  }

  TEST_CASE("garden exposure - days without a forecast go by the recent ones") {
    const std::string alone = "{observed: " + folder + "/temperatures.csv}";
    const Prepared shade = prepared("{sky: 60 %, wind: 70 %}", alone);
    REQUIRE(shade.weather.recent_days == 7);
    const auto& recent_inputs = shade.weather.stretches.at(0).inputs;
    REQUIRE(recent_inputs);
    CHECK(recent_inputs->t_max_c.size() == 7);
    CHECK((shade.zone.chain.exposure() == shade.zone.chain.exposure()[0]).all());
    // Mean over the same seven days, worked here from the library's own steps.
    Exposure exposure;
    exposure.sky_share = 0.6;
    exposure.wind_share = 0.7;
    const Site site{.latitude_deg = 38.72, .longitude_deg = -9.14, .elevation_m = 95.0};
    const ExposureSteps steps = zone_et_steps(*recent_inputs, site, exposure, fao56_daily());
    CHECK(shade.zone.chain.exposure()[0] ==
          near(steps.et_mm_d.mean() / steps.open_et_mm_d.mean(), 1e-12));
    CHECK(steps.open_et_mm_d.mean() == near(shade.weather.eto_mm[0], 1e-12));
  }

  TEST_CASE("garden exposure - each forecast day goes by its own weather") {
    const Prepared shade = prepared("{sky: 60 %, wind: 70 %}");
    REQUIRE(shade.weather.forecast() != nullptr);
    REQUIRE(shade.weather.forecast()->inputs);
    const EtInputs& inputs = *shade.weather.forecast()->inputs;
    CHECK(inputs.first_day == shade.weather.first_day);
    Exposure exposure;
    exposure.sky_share = 0.6;
    exposure.wind_share = 0.7;
    const Site site{.latitude_deg = 38.72, .longitude_deg = -9.14, .elevation_m = 95.0};
    const ExposureSteps steps = zone_et_steps(inputs, site, exposure, fao56_daily());
    for (Eigen::Index day = 0; day < inputs.t_max_c.size(); ++day) {
      CHECK(shade.weather.eto_mm[day] * shade.zone.chain.exposure()[day] ==
            near(steps.et_mm_d[day], 1e-12));
    }
  }

  TEST_CASE("garden exposure - the ends of the ranges can be computed") {
    for (const char* exposure :
         {"{slope: 100 %, facing: north}", "{slope: 45 deg, facing: 360 deg}",
          "{slope: 0 %, facing: 0 deg, sky: 0 %, canopy: 0 %, wind: 0 %, albedo: 0}",
          "{obstructions: [{from: 0 deg, to: 360 deg, height: 90 deg}], albedo: 1, wind: 300 %}",
          "{obstructions: [{from: west, to: east, wall: 300 m, distance: 5 cm}]}"}) {
      CAPTURE(exposure);
      const Prepared zone = prepared(exposure);
      CHECK(zone.zone.chain.exposure().isFinite().all());
      CHECK((zone.zone.chain.exposure() >= 0.0).all());
    }
  }

  TEST_CASE("garden exposure - a polar site plans plans without a fault in winter") {
    const Prepared dark = prepared(
        "full shade", "{observed: " + std::string(RUNNEL_REFERENCE_DIR) + "/seattle-weather.csv}",
        "{latitude: 75, longitude: 19, elevation: 5 m, timezone: Europe/Oslo}");
    CHECK(dark.zone.chain.exposure().isFinite().all());
    CHECK(dark.zone.chain.demand_mm().isFinite().all());
  }
}

}  // namespace runnel

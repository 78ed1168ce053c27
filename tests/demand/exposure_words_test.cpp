#include "runnel/demand/exposure_words.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>
#include <numbers>
#include <string>
#include <vector>

#include "runnel/demand/surroundings.hpp"
#include "runnel/reference_et/penman_monteith.hpp"
#include "runnel/sky/radiation.hpp"
#include "runnel/units/number.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

/// The weather for which data/docs/exposure.md states its factors, one day after another being
/// alike.
Column summer_factors(const ExposureWords& words, double latitude_deg) {
  const Site site{.latitude_deg = latitude_deg, .longitude_deg = 0.0, .elevation_m = 0.0};
  const Date midsummer = std::chrono::local_days{std::chrono::year{2027} / std::chrono::June / 21};
  const double ra =
      extraterrestrial_radiation_mj_m2_d(latitude_deg * std::numbers::pi / 180.0, 172);
  Column factors(2);
  for (Eigen::Index i = 0; i < 2; ++i) {
    const EtInputs day{.first_day = midsummer,
                       .t_max_c = Column::Constant(1, 31.0),
                       .t_min_c = Column::Constant(1, 18.0),
                       .ea_kpa = Column::Constant(1, 1.5),
                       .u2_m_s = Column::Constant(1, 2.5),
                       .rs_mj_m2_d = Column::Constant(1, (i == 0 ? 0.75 : 0.25) * ra),
                       .estimated = {}};
    factors[i] = exposure_factor(zone_et_mm_d(day, site, words.exposure, fao56_daily()),
                                 eto_mm_d(day, site, fao56_daily()))[0];
  }
  return factors;
}

/// As data/docs/exposure.md has it: words, clear and dull at four latitudes, published range.
std::string table_row(const ExposureWords& words) {
  std::string row = "| " + words.words + " |";
  for (const double latitude_deg : {0.0, 25.0, 40.0, 55.0}) {
    const Column factors = summer_factors(words, latitude_deg);
    row += " " + fixed(factors[0], 2) + " / " + fixed(factors[1], 2) + " |";
  }
  return row + " " + fixed(words.low, 1) + "-" + fixed(words.high, 1) + " |";
}

std::string text_of(const std::string& path) {
  std::ifstream file{path, std::ios::binary};
  REQUIRE_MESSAGE(file.good(), path);
  return {std::istreambuf_iterator<char>{file}, std::istreambuf_iterator<char>{}};
}

constexpr std::string_view header =
    "words,sun,sky,canopy,wind,albedo,longwave,meaning,factor,low,high,source\n";

std::vector<Finding> findings_of(const std::string& row) {
  return parse_exposure_table(std::string{header} + row, "e.csv").findings;
}

}  // namespace

TEST_SUITE("exposure") {
  TEST_CASE("every place in words has a meaning and a source and lies in its published range") {
    const ExposureTable words = exposure_table();
    CHECK(words.size() >= 6);
    for (const ExposureWords& row : words) {
      CAPTURE(row.words);
      CHECK(!row.source.empty());
      CHECK(!row.meaning.empty());
      CHECK(row.factor >= row.low);
      CHECK(row.factor <= row.high);
      CHECK(find_exposure(words, row.words) == &row);
    }
    CHECK(names(words).size() == words.size());
    REQUIRE(find_exposure(words, "Full sun") != nullptr);
    CHECK(is_open(find_exposure(words, "Full sun")->exposure));
    CHECK(find_exposure(words, "moonlight") == nullptr);
  }

  TEST_CASE("words mean what their row says") {
    const ExposureTable words = exposure_table();
    const Exposure& part = find_exposure(words, "part shade")->exposure;
    REQUIRE(part.sun_hours);
    REQUIRE(part.sun_hours->size() == 1);
    const SunHours hours = part.sun_hours->front();
    // The middle of 3 to 6 h (US extension horticulture, from memory).
    CHECK((hours.to_rad - hours.from_rad) * 12.0 / std::numbers::pi == near(4.5, 1e-12));
    CHECK(find_exposure(words, "full shade")->exposure.sun_hours->empty());
    CHECK(find_exposure(words, "dappled shade")->exposure.canopy_share == 0.5);
    CHECK(find_exposure(words, "windy")->exposure.wind_share > 1.0);
    CHECK_FALSE(find_exposure(words, "windy")->exposure.sun_hours);
  }

  TEST_CASE("a row that cannot be meant is refused") {
    CHECK(findings_of("w,all day,1,1,1,0.2,,m,1.2,1,1.4,x\n").empty());
    CHECK(findings_of("w,07:00-11:30,1,1,1,0.2,0.5,m,1.2,1,1.4,x\n").empty());
    CHECK(findings_of("w,none,1,1,1,0.2,,m,1.5,1,1.4,x\n").size() == 1);
    CHECK(findings_of("w,none,1,1,1,0.2,,m,1.2,1,1.4,\n").size() == 1);
    CHECK(findings_of("w,none,1,1,1,0.2,,,1.2,1,1.4,x\n").size() == 1);
    CHECK(findings_of("w,dusk,1,1,1,0.2,,m,1.2,1,1.4,x\n").size() == 1);
    CHECK(findings_of("w,11:00-07:00,1,1,1,0.2,,m,1.2,1,1.4,x\n").size() == 1);
    CHECK(findings_of("w,none,70,1,1,0.2,,m,1.2,1,1.4,x\n").size() == 1);
    CHECK(findings_of("w,none,1,1,1,0.2,2,m,1.2,1,1.4,x\n").size() == 1);
  }

  TEST_CASE("surroundings have a source and an albedo within their published range") {
    const SurroundingsTable table = surroundings_table();
    CHECK(table.size() >= 8);
    for (const Surroundings& one : table) {
      CAPTURE(one.name);
      CHECK(!one.source.empty());
      CHECK(find_surroundings(table, one.name) == &one);
    }
    CHECK(names(table).size() == table.size());
    CHECK(find_surroundings(table, "White Wall")->albedo >= 0.5);
    CHECK(find_surroundings(table, "mirror") == nullptr);
    const auto faults = [](const char* row) {
      return parse_surroundings_table(std::string{"name,albedo,low,high,source\n"} + row, "s.csv")
          .findings.size();
    };
    CHECK(faults("a,0.3,0.2,0.4,x\n") == 0);
    CHECK(faults("a,0.5,0.2,0.4,x\n") == 1);
    CHECK(faults("a,0.3,0.2,0.4,\n") == 1);
    CHECK(faults("a,30,20,40,x\n") == 1);
  }

  TEST_CASE("the factors of data/docs/exposure.md are those computed") {
    const std::string document = text_of(std::string{RUNNEL_SOURCE_DIR} + "/data/docs/exposure.md");
    for (const ExposureWords& words : exposure_table()) {
      const std::string row = table_row(words);
      CAPTURE(row);
      CHECK(document.find("\n" + row + "\n") != std::string::npos);
    }
  }

  TEST_CASE("words fall in the order in which a gardener would put them") {
    const ExposureTable words = exposure_table();
    for (const double latitude_deg : {0.0, 25.0, 40.0, 55.0}) {
      const auto clear = [&](std::string_view name) {
        return summer_factors(*find_exposure(words, name), latitude_deg)[0];
      };
      CHECK(clear("full shade") < clear("part shade"));
      CHECK(clear("part shade") < clear("sheltered"));
      CHECK(clear("sheltered") < clear("full sun"));
      CHECK(clear("full sun") == 1.0);
      CHECK(clear("windy") > 1.0);
      CHECK(clear("reflected heat") > 1.0);
    }
  }
}

}  // namespace runnel

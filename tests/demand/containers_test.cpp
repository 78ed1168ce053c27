#include "runnel/demand/containers.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"

namespace runnel {

TEST_SUITE("demand/containers") {
  // Nine 20 L pots, canopy 45 cm across: 20 x 0.92 x 0.25 = 4.6 L each over 0.159 m2, by hand.
  TEST_CASE("water of a pot over its canopy") {
    const MediaTable media = media_table();
    const Medium* peat = find_medium(media, "Peat Mix");
    REQUIRE(peat != nullptr);
    const Containers pots{
        .count = 9, .volume_l = 20.0, .mouth_diameter_m = 0.32, .canopy_diameter_m = 0.45};
    CHECK(easily_available_l(pots, *peat) == near(4.6, 1e-12));
    CHECK(canopy_area_m2(pots) == near(9 * 0.1590431, 1e-6));
    CHECK(easily_available_mm(pots, *peat) == near(28.9230, 1e-4));
    CHECK(rain_share(pots) == near(0.505679, 1e-6));  // (32 / 45) squared
  }

  TEST_CASE("no more rain than falls on the canopy") {
    CHECK(rain_share(
              {.count = 1, .volume_l = 10.0, .mouth_diameter_m = 0.4, .canopy_diameter_m = 0.3}) ==
          1.0);
  }

  TEST_CASE("every medium has a source") {
    const MediaTable media = media_table();
    CHECK(media.size() >= 2);
    for (const Medium& medium : media) CHECK(!medium.source.empty());
    CHECK(find_medium(media, "gravel") == nullptr);
    CHECK(names(media).size() == media.size());
  }

  TEST_CASE("a row is refused without a source or outside its range") {
    constexpr std::string_view header =
        "medium,easily_available,easily_available_low,easily_available_high,fill,fill_low,fill_"
        "high,source\n";
    const auto faults = [&](std::string_view row) {
      return parse_media_table(std::string{header} + std::string{row}, "media.csv").findings.size();
    };
    CHECK(faults("m,0.25,0.2,0.3,0.9,0.8,1,somewhere\n") == 0);
    CHECK(faults("m,0.25,0.2,0.3,0.9,0.8,1,\n") == 1);
    CHECK(faults("m,0.35,0.2,0.3,0.9,0.8,1,somewhere\n") == 1);
    CHECK(faults("m,0.25,0.2,0.3,0.7,0.8,1,somewhere\n") == 1);
  }
}

}  // namespace runnel

#include "runnel/demand/plant_coefficients.hpp"

#include <doctest/doctest.h>

#include <stdexcept>

#include "support/near.hpp"

namespace runnel {
namespace {

using namespace std::chrono;

constexpr Date day(int y, unsigned m, unsigned d) {
  return local_days{year{y} / month{m} / std::chrono::day{d}};
}

Crop crop(std::string_view name) { return std::get<Crop>(find_crop(plant_table(), name).value()); }
Plant kind(std::string_view name) { return find_kind(plant_table(), name).value(); }

double kc(const Plant& plant, const Growing& growing, Date date) {
  return kc_by_day(plant, growing, date, 1)[0];
}
double kcb(const Plant& plant, const Growing& growing, Date date) {
  return kcb_by_day(plant, growing, date, 1)[0];
}

/// What FAO-56 Tables 12, 17 and 22 print, read off by hand.
struct Printed {
  const char* crop;
  StageValues kc, kcb;
  double height_m, root_low_m, root_high_m, p;
};

}  // namespace

TEST_SUITE("demand/plant coefficients") {
  // FAO-56 Tables 12, 17, 22; where a range is printed, its middle.
  TEST_CASE("crops have the figures printed") {
    for (const Printed& row : std::initializer_list<Printed>{
             {"carrot", {0.7, 1.05, 0.95}, {0.15, 0.95, 0.85}, 0.3, 0.5, 1.0, 0.35},
             {"onion for seed", {0.7, 1.05, 0.8}, {0.15, 1.05, 0.7}, 0.5, 0.3, 0.6, 0.35},
             {"tomato", {0.6, 1.15, 0.8}, {0.15, 1.1, 0.7}, 0.6, 0.7, 1.5, 0.4},
             {"cucumber", {0.6, 1.0, 0.75}, {0.15, 0.95, 0.7}, 0.3, 0.7, 1.2, 0.5},
             {"watermelon", {0.4, 1.0, 0.75}, {0.15, 0.95, 0.7}, 0.4, 0.8, 1.5, 0.4},
             {"potato", {0.5, 1.15, 0.75}, {0.15, 1.1, 0.65}, 0.6, 0.4, 0.6, 0.35},
             {"dry bean", {0.4, 1.15, 0.35}, {0.15, 1.1, 0.25}, 0.4, 0.6, 0.9, 0.45},
             {"cowpea", {0.4, 1.05, 0.6}, {0.15, 1.0, 0.55}, 0.4, 0.6, 1.0, 0.45},
             {"strawberry", {0.4, 0.85, 0.75}, {0.3, 0.8, 0.7}, 0.2, 0.2, 0.3, 0.2},
             {"sunflower", {0.35, 1.15, 0.35}, {0.15, 1.1, 0.25}, 2.0, 0.8, 1.5, 0.45},
             {"maize", {0.3, 1.2, 0.6}, {0.15, 1.15, 0.5}, 2.0, 1.0, 1.7, 0.55},
             {"berry bushes", {0.3, 1.05, 0.5}, {0.2, 1.0, 0.4}, 1.5, 0.6, 1.2, 0.5},
             {"wine grape", {0.3, 0.7, 0.45}, {0.15, 0.65, 0.4}, 1.75, 1.0, 2.0, 0.45},
             {"apple", {0.45, 0.95, 0.7}, {0.35, 0.9, 0.65}, 4.0, 1.0, 2.0, 0.5},
             {"peach in grass", {0.5, 1.15, 0.9}, {0.45, 1.1, 0.85}, 3.0, 1.0, 2.0, 0.5},
             {"lemon", {0.7, 0.65, 0.7}, {0.65, 0.6, 0.65}, 4.0, 1.2, 1.5, 0.5},
             {"olive", {0.65, 0.7, 0.7}, {0.55, 0.65, 0.65}, 4.0, 1.2, 1.7, 0.65}}) {
      CAPTURE(row.crop);
      const Crop found = crop(row.crop);
      CHECK(found.kc.ini == near(row.kc.ini, 1e-12));
      CHECK(found.kc.mid == near(row.kc.mid, 1e-12));
      CHECK(found.kc.end == near(row.kc.end, 1e-12));
      CHECK(found.kcb.ini == near(row.kcb.ini, 1e-12));
      CHECK(found.kcb.mid == near(row.kcb.mid, 1e-12));
      CHECK(found.kcb.end == near(row.kcb.end, 1e-12));
      CHECK(found.height_m == near(row.height_m, 1e-12));
      CHECK(found.root_depth_m == row.root_low_m);
      CHECK(found.root_depth_most_m == row.root_high_m);
      CHECK(found.p == row.p);
    }
  }

  // FAO-56 Table 12 footnote: on stakes tomato 1.20 and pepper 1.15, Kcb 1.15 and 1.10.
  TEST_CASE("staked crops are higher") {
    CHECK(crop("staked tomato").kc.mid == 1.2);
    CHECK(crop("staked tomato").kcb.mid == 1.15);
    CHECK(crop("staked pepper").kc.mid == 1.15);
    CHECK(crop("runner bean").height_m == 1.75);  // stakes of 1.5 to 2 m
  }

  // FAO-56 Table 11, deciduous orchard, high latitudes: 20, 70, 90, 30 days from March; Table 12:
  // 0.45, 0.95, 0.70, after leaf drop 0.20.
  TEST_CASE("an apple follows the calendar, north and south, year after year") {
    const Crop apple = crop("apple");
    for (const bool southern : {false, true}) {
      const Growing growing{.southern = southern};
      const Date green_up = southern ? day(2027, 9, 15) : day(2027, 3, 15);
      const auto on = [&](int season_day) {
        return kc(apple, growing, green_up + days{season_day - 1});
      };
      CHECK(on(0) == 0.2);
      CHECK(on(1) == 0.45);
      CHECK(on(20) == 0.45);
      CHECK(on(55) == near(0.7, 1e-12));  // half-way up
      CHECK(on(90) == near(0.95, 1e-12));
      CHECK(on(180) == near(0.95, 1e-12));
      CHECK(on(210) == near(0.7, 1e-12));
      CHECK(on(211) == 0.2);
      CHECK(on(365) == 0.2);
      CHECK(kcb(apple, growing, green_up + days{300}) == 0.15);
      CHECK(kcb(apple, growing, green_up + days{120}) == near(0.9, 1e-12));
    }
    // The southern season crosses New Year, and a leap day moves nothing but the count.
    const Column new_year = kc_by_day(apple, {.southern = true}, day(2027, 12, 28), 8);
    CHECK((new_year - 0.95).abs().maxCoeff() < 1e-12);
    CHECK(kc(apple, {.southern = true}, day(2028, 2, 29)) == near(0.95, 1e-12));
  }

  TEST_CASE("evergreens keep their mid value, citrus follows season upon season") {
    for (const unsigned month : {1U, 4U, 7U, 10U})
      CHECK(kc(crop("conifer"), {}, day(2027, month, 1)) == 1.0);
    CHECK(kcb(crop("date palm"), {}, day(2027, 1, 1)) == 0.85);  // Table 17
    const Column year = kc_by_day(crop("citrus"), {}, day(2027, 1, 15), 365);
    CHECK(year.minCoeff() == near(0.65, 1e-12));
    CHECK(year.maxCoeff() == near(0.70, 1e-12));
  }

  TEST_CASE("a crop that has no stages published needs some") {
    Crop garlic = crop("garlic");
    const Growing growing{.planted = day(2027, 4, 1)};
    CHECK_THROWS_AS((void)kc(garlic, growing, day(2027, 5, 1)), std::invalid_argument);
    garlic.stages = StageLengths{.ini = 20, .dev = 30, .mid = 40, .late = 20};
    CHECK(kc(garlic, growing, day(2027, 6, 10)) == near(1.0, 1e-12));
  }

  // Costello et al. 1991: shrubs 0.2, 0.5, 0.7 by species and 0.5, 1.0, 1.1 by density; their 2000
  // guide's example of a new low-water planting: 0.2 x 0.5 = 0.1.
  TEST_CASE("a planting is species factor times density factor") {
    const auto shrubs = [](WaterNeed need, Density density) {
      return kc(kind("shrubs"), {.density = density, .water_need = need}, day(2027, 7, 1));
    };
    CHECK(shrubs(WaterNeed::low, Density::sparse) == near(0.1, 1e-12));
    CHECK(shrubs(WaterNeed::moderate, Density::average) == near(0.5, 1e-12));
    CHECK(shrubs(WaterNeed::high, Density::dense) == near(0.77, 1e-12));
    CHECK(shrubs(WaterNeed::very_low, Density::average) == near(0.1, 1e-12));
    CHECK(kc(kind("trees"), {.density = Density::dense, .water_need = WaterNeed::high},
             day(2027, 7, 1)) == near(1.17, 1e-12));
    // One published factor whatever the species: S623, desert plants.
    CHECK(kc(kind("desert plants"), {.water_need = WaterNeed::high}, day(2027, 7, 1)) == 0.3);
  }

  // FAO-56 Table 18, mid-season: Kcb = Kc - 0.05 where more than 80 % of the ground is covered,
  // else Kc - 0.10; 0.15 for bare soil.
  TEST_CASE("kinds have a basal coefficient below the single one") {
    const Date july = day(2027, 7, 1);
    CHECK(kcb(kind("shrubs"), {}, july) == near(0.45, 1e-12));
    CHECK(kcb(kind("shrubs"), {.planted = day(2027, 4, 1)}, july) == near(0.40, 1e-12));
    CHECK(kcb(kind("shrubs"), {.density = Density::sparse}, july) == near(0.15, 1e-12));
    // Where the single one is below bare soil's already, nothing is left to take off.
    CHECK(kcb(kind("shrubs"), {.water_need = WaterNeed::very_low}, july) == near(0.1, 1e-12));
    CHECK(kcb(kind("cool-season lawn"), {}, july) == near(0.89, 1e-12));  // 0.94 in July
  }

  // FAO-56 Example 41: cover 0.3, effective 0.41, 2 m high, Kcb full 1.15 (u2 1.5 m/s, RHmin 55 %),
  // Kc min 0.15: Kcb mid 0.75.
  TEST_CASE("a crop's Kcb goes by its cover") {
    Crop sunflower = crop("sunflower");  // 2 m
    const Growing growing{.planted = day(2027, 4, 1),
                          .climate = {.u2_m_s = 1.5, .rh_min_pct = 55.0},
                          .cover = GroundCover{.share = 0.3, .effective = 0.41}};
    const Date mid = day(2027, 6, 20);  // 25 + 35 days over, in the 45 of mid-season
    CHECK(kcb(sunflower, growing, mid) == near(0.75, 0.005));
    // Full cover brings no more than the table's.
    Growing full = growing;
    full.cover = GroundCover{.share = 1.0, .effective = 1.0};
    Growing table = growing;
    table.cover.reset();
    CHECK(kcb(sunflower, full, mid) == near(kcb(sunflower, table, mid), 1e-12));
    CHECK(kc(sunflower, full, mid) == near(kc(sunflower, table, mid), 1e-12));
    // The single form is 0.05 above Kcb, as in Tables 12 and 17.
    CHECK(kc(sunflower, growing, mid) - kcb(sunflower, growing, mid) == near(0.05, 1e-9));
    CHECK(kcb(sunflower, growing, day(2027, 8, 20)) <= 0.25);
  }

  TEST_CASE("a planting's cover takes the place of its density") {
    // Eq. 98's density coefficient: min(2 x 0.3, 0.36^(1 / 2.2)) = 0.6 for shrubs of 1.2 m.
    const Growing growing{.water_need = WaterNeed::moderate,
                          .cover = GroundCover{.share = 0.3, .effective = 0.36}};
    CHECK(kc(kind("shrubs"), growing, day(2027, 7, 1)) == near(0.3, 1e-12));
    CHECK(kcb(kind("shrubs"), growing, day(2027, 7, 1)) == near(0.2, 1e-12));
  }

  // FAO-56 Example 29: dry bean at Kimberly, Kcb mid 1.14 and end 0.25 (u2 2.2 m/s, RHmin 30 %).
  TEST_CASE("the basal coefficient is adjusted to the climate as Eq. 70 has it") {
    const Crop bean = crop("dry bean");
    const Growing growing{.planted = day(2027, 5, 1),
                          .climate = {.u2_m_s = 2.2, .rh_min_pct = 30.0}};
    CHECK(kcb(bean, growing, day(2027, 5, 1)) == 0.15);
    CHECK(kcb(bean, growing, day(2027, 7, 1)) == near(1.14, 0.005));
    CHECK(kcb(bean, growing, day(2027, 12, 1)) == 0.25);
  }
}

}  // namespace runnel

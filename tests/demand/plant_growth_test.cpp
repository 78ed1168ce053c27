#include "runnel/demand/plant_growth.hpp"

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

}  // namespace

TEST_SUITE("demand/plant growth") {
  TEST_CASE("an annual crop counts from planting across New Year and a leap day") {
    const Crop tomato = crop("tomato");
    const Growing growing{.planted = day(2027, 11, 20)};
    CHECK(season_day(tomato, growing, day(2027, 11, 20)) == 1);
    CHECK(season_day(tomato, growing, day(2027, 12, 31)) == 42);
    CHECK(season_day(tomato, growing, day(2028, 1, 1)) == 43);
    CHECK(season_day(tomato, growing, day(2028, 2, 29)) == 102);
    CHECK(season_day(tomato, growing, day(2028, 3, 1)) == 103);
    CHECK(season_day(tomato, growing, day(2027, 11, 19)) == 0);
    CHECK_THROWS_AS((void)season_day(tomato, {}, day(2027, 6, 1)), std::invalid_argument);
  }

  // FAO-56 Table 11: deciduous orchards green up in March, grapes in the middle latitudes in April.
  TEST_CASE("a perennial counts from the last green-up - half a year later in the south") {
    const Crop apple = crop("apple");
    CHECK(season_day(apple, {}, day(2027, 3, 15)) == 1);
    CHECK(season_day(apple, {}, day(2027, 3, 14)) == 365);
    CHECK(season_day(apple, {}, day(2028, 3, 14)) == 366);  // 29 February between
    const Growing southern{.southern = true};
    CHECK(season_day(apple, southern, day(2027, 9, 15)) == 1);
    CHECK(season_day(apple, southern, day(2028, 1, 1)) == 109);
    CHECK(season_day(crop("wine grape"), southern, day(2027, 10, 15)) == 1);
    CHECK(season_day(crop("citrus"), southern, day(2027, 7, 15)) == 1);
  }

  TEST_CASE("a stated green-up recurs every year - 29 February as 28 in others") {
    const Crop apple = crop("apple");
    const Growing growing{.green_up = day(2024, 2, 29), .southern = true};
    CHECK(season_day(apple, growing, day(2027, 2, 28)) == 1);
    CHECK(season_day(apple, growing, day(2028, 2, 28)) == 366);
    CHECK(season_day(apple, growing, day(2028, 2, 29)) == 1);
  }

  TEST_CASE("roots of a young shrub grow from the root ball - the established have them all") {
    const Plant shrubs = kind("shrubs");
    CHECK((root_depth_by_day_m(shrubs, {}, 0.5, day(2027, 4, 1), 3) == 0.5).all());
    const Growing young{.planted = day(2027, 4, 1)};
    const Column first = root_depth_by_day_m(shrubs, young, 0.5, day(2027, 3, 30), 5);
    CHECK((first.head(3) == 0.2).all());  // not yet planted, and the day itself
    CHECK(first[3] > first[2]);
    // Half of the 730 days, half of the way.
    CHECK(root_depth_by_day_m(shrubs, young, 0.5, day(2028, 3, 31), 1)[0] == near(0.35, 1e-12));
    CHECK(root_depth_by_day_m(shrubs, young, 0.5, day(2029, 3, 31), 1)[0] == 0.5);
    CHECK(is_young(shrubs, young, day(2029, 3, 30)));
    CHECK_FALSE(is_young(shrubs, young, day(2029, 3, 31)));
    const Growing small{.planted = day(2027, 4, 1), .root_ball_m = 0.1};
    CHECK(root_depth_by_day_m(shrubs, small, 0.5, day(2027, 4, 1), 1)[0] == near(0.1, 1e-12));
    const Growing large{.planted = day(2027, 4, 1), .root_ball_m = 0.8};  // deeper than the soil
    CHECK(root_depth_by_day_m(shrubs, large, 0.5, day(2027, 4, 1), 1)[0] == 0.5);
  }

  TEST_CASE("a young fruit tree grows its roots as a shrub does - a crop in season at once") {
    const Plant apple = crop("apple");
    const Growing young{.planted = day(2027, 4, 1)};
    CHECK(establishment_days(apple) == usual_establishment_days);
    CHECK(root_depth_by_day_m(apple, young, 1.0, day(2027, 4, 1), 1)[0] == usual_root_ball_m);
    CHECK(root_depth_by_day_m(apple, {}, 1.0, day(2027, 4, 1), 1)[0] == 1.0);
    CHECK(establishment_days(crop("tomato")) == 0);
    CHECK(establishment_days(kind("cool-season lawn")) == 0);
    CHECK_FALSE(is_young(kind("cool-season lawn"), young, day(2027, 1, 1)));
  }

  TEST_CASE("an annual crop rises with Kcb and stays - FAO-56 Annex 8") {
    const Crop tomato = crop("tomato");  // 30, 40, 45, 30 days; 0.6 m; Kcb 0.15 to 1.10
    const Growing growing{.planted = day(2027, 4, 20)};
    const Column height = height_by_day_m(tomato, growing, day(2027, 4, 20), 160);
    CHECK(height[0] == near(0.6 * 0.15 / 1.1, 1e-12));
    CHECK(height[29] == height[0]);
    CHECK(height[69] == near(0.6, 1e-12));
    for (Eigen::Index i = 1; i < height.size(); ++i) CHECK(height[i] >= height[i - 1]);
    CHECK(height_by_day_m(kind("hedges"), {}, day(2027, 4, 20), 1)[0] == near(1.5, 1e-12));
    const double young =
        height_by_day_m(kind("hedges"), growing, day(2027, 4, 20), 1)[0];  // 0.2 of 0.5 m of roots
    CHECK(young == near(0.6, 1e-12));
    CHECK(height_by_day_m(kind("cool-season lawn"), {}, day(2027, 4, 20), 1)[0] ==
          near(0.1, 1e-12));
  }

  TEST_CASE("a crop without stages says so") {
    const Crop garlic = crop("garlic");
    const Growing growing{.planted = day(2027, 4, 20)};
    CHECK_THROWS_AS((void)root_depth_by_day_m(garlic, growing, 0.3, day(2027, 4, 20), 1),
                    std::invalid_argument);
    CHECK_THROWS_AS((void)height_by_day_m(garlic, growing, day(2027, 4, 20), 1),
                    std::invalid_argument);
  }
}

}  // namespace runnel

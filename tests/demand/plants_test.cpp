#include "runnel/demand/plants.hpp"

#include <doctest/doctest.h>

#include <stdexcept>

#include "runnel/units/published_table.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

using namespace std::chrono;

constexpr Date day(int y, unsigned m, unsigned d) {
  return local_days{year{y} / month{m} / std::chrono::day{d}};
}

Growing growing() {
  return {.density = Density::average,
          .planted = std::nullopt,
          .southern = false,
          .in_containers = false,
          .climate = {.u2_m_s = 2.0, .rh_min_pct = 45.0}};
}

/// The compiled-in tables, one of them with a line of text replaced.
std::vector<Finding> faults(std::string_view table, std::string_view from, std::string_view to) {
  const auto text = [&](std::string_view name) {
    std::string csv{published_table(name)};
    if (name != table) return csv;
    const auto at = csv.find(from);
    REQUIRE(at != std::string::npos);
    return csv.replace(at, from.size(), to);
  };
  return parse_plant_table(text("crops"), text("landscape"), text("turf")).findings;
}

}  // namespace

TEST_SUITE("demand/plants") {
  TEST_CASE("every row has a source and sensible figures") {
    const PlantTable table = plant_table();
    CHECK(table.crops.size() >= 30);
    CHECK(table.landscape.size() >= 5);
    CHECK(table.turf.size() == 2);
    for (const Crop& crop : table.crops) {
      CAPTURE(crop.name);
      CHECK(!crop.source.empty());
      CHECK(crop.stages.total() >= 35);    // radish, the quickest of Table 11
      CHECK(crop.stages.total() <= 390);   // banana, first year
      CHECK(crop.kcb.mid <= crop.kc.mid);  // Kc = Kcb + Ke
      CHECK(crop.kc.mid <= 1.25);
      CHECK(crop.p >= 0.2);
      CHECK(crop.p <= 0.7);
      CHECK(crop.root_depth_m >= 0.2);
    }
    for (const Landscape& planting : table.landscape) {
      CAPTURE(planting.name);
      CHECK(!planting.source.empty());
      CHECK(planting.density_factor[0] < planting.density_factor[1]);
      CHECK(planting.density_factor[1] <= planting.density_factor[2]);
    }
    for (const Turf& turf : table.turf) CHECK(!turf.source.empty());
  }

  TEST_CASE("a plant row is refused for each fault") {
    CHECK(faults("crops", "broccoli,", "broccoli,").empty());
    CHECK(faults("crops", "\nbroccoli,0.70,1.05", "\nbroccoli,0.70,1.25").size() == 1);
    CHECK(faults("crops", "\nbroccoli,", "\nCarrot,").size() == 1);  // twice
    CHECK(faults("crops", ",0.45,35,45,40,15,", ",0.45,35.5,45,40,15,").size() == 1);
    CHECK(faults("crops",
                 ",0.45,35,45,40,15,\"FAO-56 Tables 11 (Sept; Calif. Desert, USA), 12, 17, 22\"",
                 ",0.45,35,45,40,15,")
              .size() == 1);  // no source
    CHECK(faults("landscape", "\nmixed shrubs,0.5,", "\nmixed shrubs,0.8,").size() == 1);
    CHECK(faults("landscape", "\nmixed shrubs,", "\nshrubs,").size() == 1);
    CHECK(faults("turf", "\ncool-season lawn,0.61,", "\ncool-season lawn,0.31,").size() == 1);
    CHECK(faults("turf", "kind,jan", "kind,january").size() == 1);
  }

  TEST_CASE("names find their plants") {
    const PlantTable table = plant_table();
    for (const std::string_view name : crop_names(table)) CHECK(find_crop(table, name).has_value());
    for (const std::string_view name : kind_names(table)) CHECK(find_kind(table, name).has_value());
    CHECK(find_crop(table, "Tomato").has_value());
    CHECK(!find_crop(table, "tomatoe").has_value());
    CHECK(!find_kind(table, "tomato").has_value());
  }

  TEST_CASE("mixed shrubs - half of reference ET, half a metre of roots, half of its water") {
    const auto shrubs = find_kind(plant_table(), "mixed shrubs");
    REQUIRE(shrubs.has_value());
    CHECK((kc_by_day(*shrubs, growing(), day(2027, 7, 13), 7) == 0.5).all());
    CHECK(root_depth_m(*shrubs) == 0.5);
    CHECK(depletion_share(*shrubs) == 0.5);
    CHECK(!adjusts_p(*shrubs));
    Growing dense = growing();
    dense.density = Density::dense;  // Costello et al. 1991, shrubs: 0.5 x 1.1
    CHECK(kc_by_day(*shrubs, dense, day(2027, 7, 13), 1)[0] == near(0.55, 1e-12));
  }

  TEST_CASE("annual flowers in pots - the whole of reference ET on the canopy") {
    const auto flowers = find_kind(plant_table(), "annual flowers");
    REQUIRE(flowers.has_value());
    Growing potted = growing();
    potted.in_containers = true;
    CHECK(kc_by_day(*flowers, potted, day(2027, 7, 13), 1)[0] == 1.0);
    CHECK(depletion_share(*flowers) == 0.3);
    CHECK(!source_of(*flowers).empty());
  }

  // UC ANR Turfgrass Crop Coefficients, Table 1: cool-season April 1.04, October 0.75.
  TEST_CASE("lawns follow the months, six later in the south") {
    const auto lawn = find_kind(plant_table(), "cool-season lawn");
    REQUIRE(lawn.has_value());
    const Column north = kc_by_day(*lawn, growing(), day(2027, 3, 31), 2);
    CHECK(north[0] == 0.75);
    CHECK(north[1] == 1.04);
    Growing southern = growing();
    southern.southern = true;
    CHECK(kc_by_day(*lawn, southern, day(2027, 10, 15), 1)[0] == 1.04);
    CHECK(kc_by_day(*lawn, southern, day(2027, 4, 15), 1)[0] == 0.75);
  }

  TEST_CASE("a crop follows its stages from planting, its roots deepen to mid-season") {
    const auto plant = find_crop(plant_table(), "tomato");
    REQUIRE(plant.has_value());
    const Crop& tomato = std::get<Crop>(*plant);
    Growing planted = growing();
    planted.planted = day(2027, 4, 20);
    const int days = tomato.stages.total();
    const Column kc = kc_by_day(*plant, planted, day(2027, 4, 20), days);
    for (int i = 0; i < days; ++i) CHECK(kc[i] == stage_value(i + 1, tomato.stages, tomato.kc));
    CHECK(kc.maxCoeff() == near(1.15, 1e-12));  // FAO-56 Table 12
    const double full_m = root_depth_m(*plant);
    CHECK(full_m == 0.7);  // Table 22, low end
    const Column roots = root_depth_by_day_m(*plant, planted, full_m, day(2027, 4, 10), days + 20);
    CHECK(roots[0] == seedling_root_depth_m);
    for (Eigen::Index i = 1; i < roots.size(); ++i) CHECK(roots[i] >= roots[i - 1]);
    const int mid_from = tomato.stages.ini + tomato.stages.dev;
    CHECK(roots[10 + mid_from - 2] < full_m);
    CHECK(roots[10 + mid_from - 1] == near(full_m, 1e-12));
    // A garden's own depth shallower than a seedling's stays.
    CHECK((root_depth_by_day_m(*plant, planted, 0.1, day(2027, 4, 20), 5) == 0.1).all());
    CHECK(adjusts_p(*plant));
    CHECK_THROWS_AS((void)kc_by_day(*plant, growing(), day(2027, 4, 20), 1), std::invalid_argument);
  }

  TEST_CASE("a dry, windy site raises a crop's coefficient, not a landscape's") {
    const PlantTable table = plant_table();
    Growing dry = growing();
    dry.planted = day(2027, 4, 20);
    dry.climate = {.u2_m_s = 4.0, .rh_min_pct = 25.0};
    Growing standard = dry;
    standard.climate = growing().climate;
    const Date mid = day(2027, 7, 10);
    const auto crop = find_crop(table, "tomato");
    const auto shrubs = find_kind(table, "shrubs");
    CHECK(kc_by_day(*crop, dry, mid, 1)[0] > kc_by_day(*crop, standard, mid, 1)[0]);
    CHECK(kc_by_day(*shrubs, dry, mid, 1)[0] == kc_by_day(*shrubs, standard, mid, 1)[0]);
  }
}

}  // namespace runnel

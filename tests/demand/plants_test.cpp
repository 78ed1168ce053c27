#include "runnel/demand/plants.hpp"

#include <doctest/doctest.h>

#include <array>
#include <stdexcept>
#include <string_view>

#include "runnel/demand/plant_coefficients.hpp"
#include "runnel/units/published_table.hpp"
#include "support/near.hpp"

namespace runnel {
namespace {

using namespace std::chrono;

constexpr Date day(int y, unsigned m, unsigned d) {
  return local_days{year{y} / month{m} / std::chrono::day{d}};
}

Growing growing() { return {}; }

/// The compiled-in tables, one of them with a line of text replaced.
std::vector<Finding> faults(std::string_view table, std::string_view from, std::string_view to) {
  const auto text = [&](std::string_view name) {
    std::string csv{published_table(name)};
    if (name != table) return csv;
    const auto at = csv.find(from);
    REQUIRE(at != std::string::npos);
    return csv.replace(at, from.size(), to);
  };
  const std::string crops = text("crops"), stages = text("crop_stages"), turf = text("turf"),
                    landscape = text("landscape"), needs = text("water_needs");
  return parse_plant_table({.crops = crops,
                            .crop_stages = stages,
                            .landscape = landscape,
                            .turf = turf,
                            .water_needs = needs})
      .findings;
}

}  // namespace

TEST_SUITE("demand/plants") {
  TEST_CASE("every row has a source and sensible figures") {
    const PlantTable& table = plant_table();
    CHECK(table.crops.size() ==
          87);  // 79 rows of FAO-56 Table 12, two of them split, six more on stakes
    CHECK(table.stages.size() == 184);  // Table 11, for each crop it serves
    CHECK(table.landscape.size() == 11);
    CHECK(table.turf.size() == 2);
    for (const Crop& crop : table.crops) {
      CAPTURE(crop.name);
      CHECK(!crop.source.empty());
      CHECK(crop.kc.mid <= 1.25);
      CHECK(crop.p >= 0.2);
      CHECK(crop.p <= 0.7);
      CHECK(crop.root_depth_m >= 0.2);
      CHECK(crop.off.has_value() == (crop.season == Season::perennial));
      if (!crop.stages) continue;
      CHECK(!crop.stages_source.empty());
      CHECK(crop.stages->total() >= 35);   // radish, the quickest of Table 11
      CHECK(crop.stages->total() <= 390);  // banana, first year
    }
    for (const Landscape& planting : table.landscape) {
      CAPTURE(planting.name);
      CHECK(!planting.source.empty());
      CHECK(planting.density_factor[0] < planting.density_factor[1]);
      CHECK(planting.density_factor[1] <= planting.density_factor[2]);
    }
    for (const Turf& turf : table.turf) CHECK(!turf.source.empty());
  }

  TEST_CASE("a perennial greens up in the month that its stages are printed for") {
    constexpr std::array<std::string_view, 12> months{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                      "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    const PlantTable& table = plant_table();
    int perennials = 0;
    for (const PublishedStages& stages : table.stages) {
      const Crop crop = std::get<Crop>(find_crop(table, stages.crop).value());
      if (!stages.is_default || crop.season != Season::perennial) continue;
      CAPTURE(crop.name);
      CHECK(stages.planting.starts_with(months.at(crop.green_up_month - 1)));
      ++perennials;
    }
    CHECK(perennials == 29);
  }

  TEST_CASE("a plant row is refused for each fault") {
    CHECK(faults("crops", "broccoli,", "broccoli,").empty());
    CHECK(faults("crops", "annual,,0.7,1.05,", "annual,,0.7,1.25,").size() == 1);
    CHECK(faults("crops", "annual,,0.7,1.05,", "annual,,1.7,1.05,").size() == 1);
    CHECK(faults("crops", "\nbroccoli,", "\nCarrot,").size() >= 1);  // twice
    CHECK(faults("crops", "calabrese", "cabbage").size() == 1);      // as another name
    CHECK(faults("crops", "annual,,0.7,1.05,", "yearly,,0.7,1.05,").size() == 1);
    CHECK(faults("crops", "annual,,0.7,1.05,", "annual,3,0.7,1.05,").size() == 1);
    CHECK(faults("crops", "0.6,0.45,,\"FAO-56 Tables 12, 17, 22\"", "0.6,0.45,,").size() == 1);
    CHECK(faults("crop_stages", "\nbroccoli,20,30,20,10", "\nbroccoli,20,30.5,20,10").size() == 1);
    CHECK(faults("crop_stages", "\nbroccoli,20,30,20,10", "\nbrokkoli,20,30,20,10").size() == 1);
    CHECK(faults("crop_stages", "\nradish,5,10,15,5,Mar/Apr,Medit.; Europe,yes",
                 "\nradish,5,10,15,5,Mar/Apr,Medit.; Europe,")
              .size() == 1);  // no default
    CHECK(faults("crop_stages", "\nradish,10,10,15,5,Winter,Arid Region,",
                 "\nradish,10,10,15,5,Winter,Arid Region,yes")
              .size() == 1);  // a second default
    CHECK(faults("landscape", "\nmixed shrubs,,0.5,", "\nmixed shrubs,,0.8,").size() == 1);
    CHECK(faults("landscape", "\nmixed shrubs,", "\nshrubs,").size() == 1);
    CHECK(faults("landscape", "\nmixed shrubs,,0.5,0.2,0.7,0.1,0.2,0.5,0.7,0.5,",
                 "\nmixed shrubs,,0.5,0.2,0.7,0.1,0.4,0.5,0.7,0.5,")
              .size() == 1);  // outside its class
    CHECK(faults("landscape", "\nmixed shrubs,,0.5,0.2,0.7,0.1,0.2,0.5,0.7,0.5,",
                 "\nmixed shrubs,,0.5,0.2,0.7,0.1,,0.5,0.7,0.5,")
              .size() == 1);  // a class left out
    CHECK(faults("landscape", "\nmixed shrubs,,0.5,0.2,0.7,0.1,0.2,0.5,0.7,0.5,",
                 "\nmixed shrubs,,0.5,0.2,0.7,0.1,0.2,0.5,0.7,0.4,")
              .size() == 1);  // a density factor outside its range
    CHECK(faults("turf", "ryegrass,0.61,", "ryegrass,0.31,").size() == 1);
    CHECK(faults("turf", "\ncool-season lawn,", "\ntrees,").size() == 1);
    CHECK(faults("turf", "also,jan", "also,january").size() == 1);
    CHECK(faults("turf", "warm-season turf;", "ryegrass;").size() == 1);
    CHECK(faults("water_needs", "\nlow,0.1", "\nlow,0.4").size() >= 1);
    CHECK(faults("water_needs", "\nlow,0.1", "\nlittle,0.1").size() >= 1);
  }

  TEST_CASE("names find their plants") {
    const PlantTable& table = plant_table();
    for (const std::string_view name : crop_names(table)) CHECK(find_crop(table, name).has_value());
    for (const std::string_view name : kind_names(table)) CHECK(find_kind(table, name).has_value());
    CHECK(find_crop(table, "Tomato").has_value());
    CHECK(name_of(find_crop(table, "Courgette").value()) == "zucchini");
    CHECK(name_of(find_kind(table, "hedge").value()) == "hedges");
    CHECK(name_of(find_kind(table, "Bermudagrass").value()) == "warm-season lawn");
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
    const int days = tomato.stages->total();
    const Column kc = kc_by_day(*plant, planted, day(2027, 4, 20), days);
    for (int i = 0; i < days; ++i) CHECK(kc[i] == stage_value(i + 1, *tomato.stages, tomato.kc));
    CHECK(kc.maxCoeff() == near(1.15, 1e-12));  // FAO-56 Table 12
    const double full_m = root_depth_m(*plant);
    CHECK(full_m == 0.7);  // Table 22, low end
    const Column roots = root_depth_by_day_m(*plant, planted, full_m, day(2027, 4, 10), days + 20);
    CHECK(roots[0] == seedling_root_depth_m);
    for (Eigen::Index i = 1; i < roots.size(); ++i) CHECK(roots[i] >= roots[i - 1]);
    const int mid_from = tomato.stages->ini + tomato.stages->dev;
    CHECK(roots[10 + mid_from - 2] < full_m);
    CHECK(roots[10 + mid_from - 1] == near(full_m, 1e-12));
    // A garden's own depth shallower than a seedling's stays.
    CHECK((root_depth_by_day_m(*plant, planted, 0.1, day(2027, 4, 20), 5) == 0.1).all());
    CHECK(adjusts_p(*plant));
    CHECK_THROWS_AS((void)kc_by_day(*plant, growing(), day(2027, 4, 20), 1), std::invalid_argument);
  }

  TEST_CASE("a dry, windy site raises a crop's coefficient, not a landscape's") {
    const PlantTable& table = plant_table();
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

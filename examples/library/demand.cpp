// Maize at mid-season under two climates, and how its coefficient grows there.
// 1.07 and 1.30: FAO-56 Example 27.
#include <iostream>
#include <variant>

#include "runnel/demand/climate_adjustment.hpp"
#include "runnel/demand/crop_et.hpp"
#include "runnel/demand/plants.hpp"
#include "runnel/units/number.hpp"

int main() {
  using namespace runnel;
  const Crop maize = std::get<Crop>(find_crop(plant_table(), "maize").value());
  const auto show = [&](const char* place, const Climate& climate) {
    const double kc = adjusted_kc(maize.kc.mid, climate, maize.height_m);
    std::cout << place << ": Kc " << fixed(kc, 2) << ", of 5 mm reference ET it uses "
              << fixed(crop_et_mm_d(kc, 5.0), 2) << " mm\n";
  };
  show("Taipei", {.u2_m_s = 1.3, .rh_min_pct = 75.0});
  show("Mocha", {.u2_m_s = 4.6, .rh_min_pct = 44.0});
}

// A tomato field that nobody waters for ten days: how dry it gets, and what it goes without.
// Every figure: FAO-56 Example 37.
#include <iostream>

#include "runnel/soil/balance.hpp"
#include "runnel/soil/root_zone.hpp"
#include "runnel/units/number.hpp"

int main() {
  using namespace runnel;
  constexpr int days = 10;
  const RootZone ground{
      .p = 0.40, .adjust_p = false, .aim_ks = 1.0, .surplus = Surplus::end_of_day};
  const ZoneModel tomato{.kc = Column::Constant(days, 1.2),
                         .taw_mm = Column::Constant(days, available_water_mm(0.32, 0.12, 0.8))};
  const Horizon dry{.et_mm = Lanes::Constant(1, days, 5.0), .rain_mm = Lanes::Zero(1, days)};
  const BalanceTrace field = trace(ground, {.depletion_mm = 55.0}, tomato, dry, {}, 0);
  std::cout << "day  Ks    ETc  depletion\n";
  for (Eigen::Index day = 0; day < days; ++day)
    std::cout << (day < 9 ? "  " : " ") << day + 1 << "  " << fixed(field.ks[day], 2) << "  "
              << fixed(field.etc_mm[day], 1) << "  " << fixed(field.end_mm[day], 1) << '\n';
}

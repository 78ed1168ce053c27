// A dripline over a bed: its application rate, and how long it runs to bring 20 mm everywhere.
// 0.85 in/h of 0.53 gph emitters at 12 x 12 in: Carolinas Irrigation Association, reprint, example.
// Run time: 60 x 20 / 21.6 x 1 / (0.4 + 0.6 x 0.85) (Irrigation Association 2005).
#include "runnel/delivery/delivery.hpp"

#include <iostream>

#include "runnel/delivery/emitters.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/unit_table.hpp"

int main() {
  using namespace runnel;
  const auto measure = [](const char* text, Dimension dimension) {
    return parse_measure(text, dimension).value;
  };
  const Dripline dripline{.each = Flow::litres_per_hour(measure("0.53 gph", Dimension::flow)),
                          .spacing_m = measure("12 in", Dimension::length),
                          .row_spacing_m = measure("12 in", Dimension::length)};
  const Area bed = Area::m2(18.0);
  const Delivery delivery{.flow = zone_flow(dripline, bed),
                          .area = bed,
                          .multiplier = run_time_multiplier(0.85),
                          .leaching_share = 0.0};
  std::cout << fixed(delivery.rate().mm_per_hour(), 1) << " mm/h, "
            << fixed(delivery.rate().mm_per_hour() / 25.4, 2) << " in/h; 20 mm take "
            << fixed(20.0 / delivery.net_mm_per_minute(), 1) << " min\n";
}

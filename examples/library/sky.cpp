// Radiation above the atmosphere and hours of daylight at 20 degrees south on 3 September.
// 32.2 MJ and 11.7 h: FAO-56 Examples 8 and 9.
#include <iostream>
#include <numbers>

#include "runnel/sky/radiation.hpp"
#include "runnel/sky/sun.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/number.hpp"

int main() {
  using namespace runnel;
  const double latitude_rad = -20.0 * std::numbers::pi / 180.0;
  const int day = day_of_year(*parse_date("2026-09-03"));
  std::cout << "day " << day
            << " of the year: " << fixed(extraterrestrial_radiation_mj_m2_d(latitude_rad, day), 1)
            << " MJ m-2 d-1, " << fixed(daylight_hours(latitude_rad, day), 1) << " h\n";
}

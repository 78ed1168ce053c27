// Reference ET of a day of which no radiation was measured: Uccle, 6 July.
// 3.88 mm, printed as 3.9: FAO-56 Example 18.
#include <iostream>
#include <string_view>
#include <vector>

#include "runnel/reference_et/inputs.hpp"
#include "runnel/reference_et/penman_monteith.hpp"
#include "runnel/units/number.hpp"
#include "runnel/weather/weather_csv.hpp"

int main() {
  using namespace runnel;
  constexpr std::string_view csv =
      "date,tmax [degC],tmin [degC],rhmax [%],rhmin [%],wind [km/h],sunshine [h]\n"
      "2026-07-06,21.5,12.3,84,63,10,9.25\n";
  const Site uccle{.latitude_deg = 50.80, .longitude_deg = 4.35, .elevation_m = 100.0};
  WeatherLayout layout;
  layout.wind_height_m = 10.0;
  std::vector<Finding> findings;
  const WeatherSeries day = value_or_throw(parse_weather(csv, "uccle.csv", layout), findings);
  const EtInputs inputs = complete(day, uccle, {});
  std::cout << fixed(eto_mm_d(inputs, uccle, fao56_daily())[0], 2)
            << " mm; estimated: " << to_text(inputs.estimated[0]) << '\n';
}

// A weather file with a gap, in units of its own; every value knows where it comes from.
// 86 F is 30 C and 89.6 F is 32 C, by definition; a straight line between them gives 31.
#include <iostream>
#include <string_view>
#include <vector>

#include "runnel/units/number.hpp"
#include "runnel/weather/gaps.hpp"
#include "runnel/weather/weather_csv.hpp"

int main() {
  using namespace runnel;
  constexpr std::string_view csv =
      "date,tmax [degF],tmin [degF],rain [in]\n"
      "2027-07-01,86,59,0\n"
      "2027-07-02,,59,0.5\n"
      "2027-07-03,89.6,59,0\n";
  std::vector<Finding> findings;
  WeatherSeries series = value_or_throw(parse_weather(csv, "weather.csv", {}), findings);
  series = value_or_throw(fill_gaps(std::move(series), "weather.csv"), findings);
  for (Eigen::Index row = 0; row < series.rows(); ++row) {
    const Origin origin = series.origin(Variable::t_max_c)[static_cast<std::size_t>(row)];
    std::cout << iso_date(series.date_of(row)) << "  " << fixed(series[Variable::t_max_c][row], 1)
              << " C " << (origin == Origin::observed ? "observed" : "filled") << ", "
              << fixed(series[Variable::rain_mm][row], 1) << " mm\n";
  }
}

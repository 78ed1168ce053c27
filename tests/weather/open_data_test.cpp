#include <cmath>
#include <cstddef>
#include <fstream>
#include <iterator>
#include <string>

#include "runnel/weather/gaps.hpp"
#include "support/near.hpp"
#include "weather_support.hpp"

using namespace runnel;
using V = Variable;

namespace {

std::string reference(const std::string& name) {
  std::ifstream in(std::string(RUNNEL_REFERENCE_DIR) + "/" + name, std::ios::binary);
  REQUIRE(in.good());
  return {std::istreambuf_iterator<char>(in), {}};
}

void check_four_whole_years(const WeatherSeries& series) {
  CHECK(series.step == Step::day);
  CHECK(iso_date(series.first_day) == "2012-01-01");
  REQUIRE(series.rows() == 1461);
  CHECK(iso_date(series.date_of(1460)) == "2015-12-31");
  for (Eigen::Index i = 0; i < series.rows(); ++i) {
    // Every date is there, in its own line.
    CHECK(series.lines[static_cast<std::size_t>(i)] == i + 2);
    for (const V variable : {V::t_max_c, V::t_min_c, V::wind_m_s, V::rain_mm}) {
      CHECK(std::isfinite(series[variable][i]));
    }
  }
}

}  // namespace

// Figures: sums over the file with awk, independent of this reader.
TEST_SUITE("weather") {
  TEST_CASE("open data - four years of Seattle") {
    const WeatherSeries series = series_of(reference("seattle-weather.csv"));
    check_four_whole_years(series);
    CHECK(series[V::rain_mm].sum() == near(4426.0, 0.05));
    CHECK(series[V::t_max_c].sum() == near(24017.5, 0.05));
    CHECK(fill_gaps(series, "s.csv").findings.empty());
  }

  TEST_CASE("open data - four years of New York") {
    const WeatherSeries series = series_of(reference("new-york-weather.csv"));
    check_four_whole_years(series);
    CHECK(series[V::rain_mm].sum() == near(4178.6, 0.05));
    CHECK(series[V::t_max_c].sum() == near(24981.9, 0.05));
  }

  TEST_CASE("open data - two cities in one file are refused") {
    std::string both = reference("seattle-weather.csv");
    const std::string second = reference("new-york-weather.csv");
    both += second.substr(second.find('\n') + 1);
    const std::string errors = errors_of(both);
    CHECK(contains(errors,
                   "w.csv:1463:1: error: 2012-01-01 stands in the file twice, first in line 2, and "
                   "so in 1460 rows more"));
    CHECK(contains(errors, "one place in a file"));
  }
}

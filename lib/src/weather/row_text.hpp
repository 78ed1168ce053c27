#pragma once

#include <string>

#include "runnel/weather/series.hpp"

namespace runnel {

/// The row's own line, or that of the last row before it; of the first row when there is none.
[[nodiscard]] int line_near(const WeatherSeries& series, Eigen::Index row);
/// "2027-06-15", with " 04:00" in an hourly series.
[[nodiscard]] std::string time_text(const WeatherSeries& series, Eigen::Index row);

}  // namespace runnel

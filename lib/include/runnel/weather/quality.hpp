#pragma once

#include <string_view>
#include <vector>

#include "runnel/sky/site.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/weather/series.hpp"

namespace runnel {

/// What in the series is impossible (error) or doubtful (doubt): radiation above extraterrestrial
/// or clear sky, humidity, dew point against Tmin, calm or stuck wind, a flat temperature range,
/// gaps. Reports only; the series is not changed. One finding per rule, naming how many rows, the
/// first date and its line. Each rule names its source in the .cpp file.
[[nodiscard]] std::vector<Finding> check_quality(const WeatherSeries& series, const Site& site,
                                                 std::string_view name);

}  // namespace runnel

#pragma once

#include "runnel/sky/site.hpp"
#include "runnel/weather/series.hpp"

namespace runnel {

/// Hours of an hourly series in which the sun is not up at all (Ra = 0, FAO-56 Eq. 28) have no
/// radiation: where a logger leaves them empty the value is 0, so that the day's sum is known. Such
/// a value counts as observed. A daily series, and one without radiation, is returned as it is.
[[nodiscard]] WeatherSeries with_dark_hours(WeatherSeries series, const Site& site);

}  // namespace runnel

#pragma once

#include <string_view>

#include "runnel/units/finding.hpp"
#include "runnel/weather/series.hpp"

namespace runnel {

/// Longest gap filled by a straight line between its neighbours, in rows. Common practice, no source.
inline constexpr int longest_filled_gap_days = 2;
inline constexpr int longest_filled_gap_hours = 3;

/// Fills short gaps of temperature, humidity, wind and radiation and flags each value (Origin::interpolated). Rain is
/// never filled: a missing rain counts as none later on and is remarked here. A longer gap in temperature (or at either
/// end) is an error naming the first day and line; in the other columns it stays, for FAO-56 chapter 3 to estimate.
[[nodiscard]] Read<WeatherSeries> fill_gaps(WeatherSeries series, std::string_view name);

/// Days from hours: extremes, means and sums (FAO-56 uses (Tmax+Tmin)/2 as the day's mean in any case). A day with a
/// missing hour in a column is missing in that column. A daily series is returned as it is.
[[nodiscard]] WeatherSeries daily(const WeatherSeries& series);

}  // namespace runnel

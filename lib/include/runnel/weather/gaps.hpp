#pragma once

#include <string_view>

#include "runnel/units/finding.hpp"
#include "runnel/weather/series.hpp"

namespace runnel {

/// Longest gap filled by a straight line between its neighbours, in rows of a daily series. Common
/// practice, no source.
inline constexpr int longest_filled_gap_days = 2;
/// The same of an hourly series.
inline constexpr int longest_filled_gap_hours = 3;

/// Fills short gaps of temperature, humidity, wind, radiation and sunshine and flags each value
/// (Origin::interpolated). Rain is never filled: a missing rain counts as none later on and is
/// remarked here. A longer gap in the temperature that reference ET needs (or one at either end, or
/// no such column) is an error naming the first day and line; in the other columns it stays, for
/// FAO-56 chapter 3 to estimate. A filled Tmin or Tmax that would cross the other, measured, takes
/// the range of the day before (common practice, no source). A first day of hours that begins after
/// 00:00 is left out.
[[nodiscard]] Read<WeatherSeries> fill_gaps(WeatherSeries series, std::string_view name);

/// Days from hours: extremes, means and sums (FAO-56 uses (Tmax+Tmin)/2 as the day's mean in any
/// case). A day with a missing hour in a column is missing in that column; rain is the sum of the
/// hours that are there. A value made with a filled hour is Origin::interpolated, else summarised.
/// A first or last day that is not whole is left out; no whole day gives a series without rows. A
/// daily series is returned as it is.
[[nodiscard]] WeatherSeries daily(const WeatherSeries& series);

}  // namespace runnel

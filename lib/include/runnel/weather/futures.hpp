#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include "runnel/units/calendar.hpp"
#include "runnel/weather/series.hpp"

namespace runnel {

/// A day of the year may be stood for by any so near to it (design decision, no source).
inline constexpr int alike_within_days = 10;
/// Futures looked at side by side.
inline constexpr std::size_t most_futures = 64;

/// For each year of a stretch of record the days that may stand for `from`: those up to ten days
/// from its day of the year (29 February as 28 February), with `days` days from there on inside
/// the stretch, `skipped` of them not needed at the beginning. In order of time.
/// @param first, last of the stretch, which has no hole.
[[nodiscard]] std::vector<Date> alike_starts(Date first, Date last, Date from, int days,
                                             int skipped);

/// At most `most` of the dates, spread evenly over them.
[[nodiscard]] std::vector<Date> thinned(std::vector<Date> dates, std::size_t most);

/// Rows [first, last) of a daily series between which no more temperatures are missing than can be
/// filled (weather/gaps), nor at their ends; reference ET likewise where the series gives that
/// alone. In order of time.
[[nodiscard]] std::vector<std::pair<Eigen::Index, Eigen::Index>> whole_stretches(
    const WeatherSeries& daily);
/// Rows [first, last) of a daily series.
[[nodiscard]] WeatherSeries rows_of(const WeatherSeries& daily, Eigen::Index first,
                                    Eigen::Index last);

}  // namespace runnel

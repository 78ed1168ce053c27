#include "runnel/weather/futures.hpp"

#include <cmath>

#include "runnel/weather/gaps.hpp"

namespace runnel {
namespace {

using Eigen::Index;
using std::chrono::days;

/// The same day in another year.
Date in_year(Date date, int year) {
  const std::chrono::year_month_day of{date};
  std::chrono::year_month_day there{std::chrono::year{year}, of.month(), of.day()};
  if (!there.ok()) there = std::chrono::year{year} / std::chrono::February / 28;
  return std::chrono::local_days{there};
}

/// Whether a row has what reference ET cannot do without.
bool is_whole(const WeatherSeries& daily, Index row) {
  const auto there = [&](Variable variable) {
    return daily.has(variable) && !std::isnan(daily[variable][row]);
  };
  if (daily.has(Variable::eto_mm) && !daily.has(Variable::t_max_c)) return there(Variable::eto_mm);
  return there(Variable::t_max_c) && there(Variable::t_min_c);
}

}  // namespace

std::vector<Date> alike_starts(Date first, Date last, Date from, int length, int skipped) {
  std::vector<Date> starts;
  // A window may begin in the year before its days do.
  for (int year = year_of(first) - 1; year <= year_of(last) + 1; ++year) {
    const Date alike = in_year(from, year);
    for (int shift = -alike_within_days; shift <= alike_within_days; ++shift) {
      const Date start = alike + days{shift};
      if (start + days{skipped} >= first && start + days{length - 1} <= last)
        starts.push_back(start);
    }
  }
  return starts;
}

std::vector<Date> thinned(std::vector<Date> dates, std::size_t most) {
  if (dates.size() <= most) return dates;
  std::vector<Date> kept;
  for (std::size_t i = 0; i < most; ++i) kept.push_back(dates[i * dates.size() / most]);
  return kept;
}

std::vector<std::pair<Index, Index>> whole_stretches(const WeatherSeries& daily) {
  const Index longest_hole = daily.has(Variable::t_max_c) ? longest_filled_gap_days : 0;
  std::vector<std::pair<Index, Index>> stretches;
  for (Index row = 0; row < daily.rows(); ++row) {
    if (!is_whole(daily, row)) continue;
    if (stretches.empty() || row - stretches.back().second > longest_hole)
      stretches.emplace_back(row, row);
    stretches.back().second = row + 1;
  }
  return stretches;
}

WeatherSeries rows_of(const WeatherSeries& daily, Index first, Index last) {
  WeatherSeries part;
  part.first_day = daily.first_day + days{first};
  part.utc_offset = daily.utc_offset;
  part.wind_height_m = daily.wind_height_m;
  for (std::size_t v = 0; v < variable_count; ++v) {
    if (daily.columns[v].size() == 0) continue;
    part.columns[v] = daily.columns[v].segment(first, last - first);
    part.origins[v].assign(daily.origins[v].begin() + first, daily.origins[v].begin() + last);
  }
  part.lines.assign(daily.lines.begin() + first, daily.lines.begin() + last);
  return part;
}

}  // namespace runnel

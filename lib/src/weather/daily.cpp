#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <string>

#include "runnel/weather/gaps.hpp"

namespace runnel {
namespace {

using Eigen::Index;
using V = Variable;

constexpr Index hours = 24;
enum class Summary { lowest, highest, mean, sum, sum_of_known };

double summary_of(const Column& values, Index from, Summary how) {
  double result = how == Summary::lowest    ? std::numeric_limits<double>::infinity()
                  : how == Summary::highest ? -std::numeric_limits<double>::infinity()
                                            : 0.0;
  Index known = 0;
  for (Index i = from; i < from + hours; ++i) {
    const double v = values[i];
    if (std::isnan(v)) continue;
    ++known;
    if (how == Summary::lowest) {
      if (v < result) result = v;
    } else if (how == Summary::highest) {
      if (v > result) result = v;
    } else {
      result += v;
    }
  }
  const bool enough = known == hours || (how == Summary::sum_of_known && known > 0);
  if (!enough) return std::numeric_limits<double>::quiet_NaN();
  return how == Summary::mean ? result / static_cast<double>(hours) : result;
}

Origin origin_of(const std::vector<Origin>& origins, Index from) {
  for (Index i = from; i < from + hours; ++i) {
    if (origins[static_cast<std::size_t>(i)] == Origin::interpolated) return Origin::interpolated;
  }
  return Origin::summarised;
}

/// The first day lacks its beginning: neither a row nor a filled value at midnight.
bool begins_late(const WeatherSeries& series) {
  if (series.lines.empty() || series.lines.front() > 0) return false;
  return std::all_of(series.origins.begin(), series.origins.end(), [](const auto& origins) {
    return origins.empty() || origins.front() == Origin::missing;
  });
}

int first_line(const WeatherSeries& series, Index from) {
  for (Index i = from; i < from + hours; ++i) {
    if (const int line = series.lines[static_cast<std::size_t>(i)]; line > 0) return line;
  }
  return 0;
}

class DayMaker {
 public:
  explicit DayMaker(const WeatherSeries& series)
      : hourly_(series),
        first_(begins_late(series) ? hours : 0),
        days_((series.rows() - first_) / hours) {
    if (days_ < 0) days_ = 0;
    daily_.step = Step::day;
    daily_.first_day = series.first_day + std::chrono::days{first_ / hours};
    daily_.utc_offset = series.utc_offset;
    daily_.wind_height_m = series.wind_height_m;
    for (Index d = 0; d < days_; ++d)
      daily_.lines.push_back(first_line(series, first_ + d * hours));
  }

  void make(V to, V from, Summary how) {
    if (!hourly_.has(from)) return;
    Column& values = daily_[to];
    auto& origins = daily_.origin(to);
    values = Column(days_);
    origins.assign(static_cast<std::size_t>(days_), Origin::missing);
    for (Index d = 0; d < days_; ++d) {
      values[d] = summary_of(hourly_[from], first_ + d * hours, how);
      if (std::isnan(values[d])) continue;
      origins[static_cast<std::size_t>(d)] = origin_of(hourly_.origin(from), first_ + d * hours);
    }
  }
  /// From the hours' own extremes where the file has them.
  void make_extreme(V to, V otherwise, Summary how) {
    make(to, hourly_.has(to) ? to : otherwise, how);
  }

  WeatherSeries take() { return std::move(daily_); }

 private:
  const WeatherSeries& hourly_;
  Index first_;
  Index days_;
  WeatherSeries daily_;
};

}  // namespace

WeatherSeries daily(const WeatherSeries& series) {
  if (series.step == Step::day) return series;
  DayMaker days(series);
  days.make_extreme(V::t_max_c, V::t_mean_c, Summary::highest);
  days.make_extreme(V::t_min_c, V::t_mean_c, Summary::lowest);
  days.make(V::t_mean_c, V::t_mean_c, Summary::mean);
  days.make(V::t_dew_c, V::t_dew_c, Summary::mean);
  days.make_extreme(V::rh_max_pct, V::rh_mean_pct, Summary::highest);
  days.make_extreme(V::rh_min_pct, V::rh_mean_pct, Summary::lowest);
  days.make(V::rh_mean_pct, V::rh_mean_pct, Summary::mean);
  days.make(V::ea_kpa, V::ea_kpa, Summary::mean);
  days.make(V::wind_m_s, V::wind_m_s, Summary::mean);
  days.make(V::rs_mj_m2, V::rs_mj_m2, Summary::sum);
  days.make(V::sunshine_h, V::sunshine_h, Summary::sum);
  days.make(V::rain_mm, V::rain_mm, Summary::sum_of_known);
  days.make(V::eto_mm, V::eto_mm, Summary::sum);
  return days.take();
}

}  // namespace runnel

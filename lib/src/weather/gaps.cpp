#include "runnel/weather/gaps.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "report.hpp"
#include "row_text.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/weather/weather_csv.hpp"

namespace runnel {
namespace {

using Eigen::Index;
using V = Variable;

/// Rows [from, to) without a value.
struct Gap {
  Index from;
  Index to;
};

std::vector<Gap> gaps_of(const Column& values) {
  std::vector<Gap> gaps;
  for (Index i = 0; i < values.size(); ++i) {
    if (!std::isnan(values[i])) continue;
    if (!gaps.empty() && gaps.back().to == i) {
      ++gaps.back().to;
    } else {
      gaps.push_back({i, i + 1});
    }
  }
  return gaps;
}

std::string_view step_word(const WeatherSeries& series) {
  return series.step == Step::day ? "day" : "hour";
}

class Filler {
 public:
  Filler(WeatherSeries&& series, std::string_view file) : series_(std::move(series)), file_(file) {}

  void fill(V variable, bool needed) {
    if (!series_.has(variable)) return;
    const int longest =
        series_.step == Step::day ? longest_filled_gap_days : longest_filled_gap_hours;
    std::size_t filled = 0;
    std::optional<Index> first;
    std::vector<Gap> open;
    for (const Gap& gap : gaps_of(series_[variable])) {
      if (gap.from == 0 || gap.to == series_.rows() || gap.to - gap.from > longest) {
        open.push_back(gap);
        continue;
      }
      draw_line(variable, gap);
      if (!first) first = gap.from;
      filled += static_cast<std::size_t>(gap.to - gap.from);
    }
    const std::string name(standard_name(variable));
    if (filled > 0) {
      say(Finding::Kind::remark, *first,
          name + ": " + counted(filled, "missing " + std::string(step_word(series_))) +
              " filled from the neighbours, first " + time_text(series_, *first),
          "");
    }
    if (needed && !open.empty()) refuse(name, open, longest);
  }

  /// Reference ET needs temperature in some form; a file that gives reference ET itself does not.
  void need(std::initializer_list<V> variables) {
    for (const V variable : variables) {
      if (series_.has(variable)) continue;
      findings_.push_back({Finding::Kind::error, place_of_line(file_, 0),
                           "there is no column " + std::string(standard_name(variable)),
                           "add it: without it reference ET cannot be computed"});
    }
  }

  void remark_rain() {
    if (!series_.has(V::rain_mm)) return;
    std::size_t count = 0;
    std::optional<Index> first;
    for (const Gap& gap : gaps_of(series_[V::rain_mm])) {
      if (!first) first = gap.from;
      count += static_cast<std::size_t>(gap.to - gap.from);
    }
    if (!first) return;
    say(Finding::Kind::remark, *first,
        "rain is missing on " + counted(count, step_word(series_)) + ", first " +
            time_text(series_, *first) + ", and counts as none",
        "");
  }

  /// A line drawn past the extreme that was measured that day gives way: the day is then given the
  /// range of the day before. Of two filled extremes neither crosses the other, since their ends do
  /// not.
  void keep_extremes_in_order() {
    if (!series_.has(V::t_max_c) || !series_.has(V::t_min_c)) return;
    Column& t_max_c = series_[V::t_max_c];
    Column& t_min_c = series_[V::t_min_c];
    for (Index i = 1; i < series_.rows(); ++i) {
      if (!(t_min_c[i] > t_max_c[i])) continue;
      const double range_c = t_max_c[i - 1] - t_min_c[i - 1];
      const auto row = static_cast<std::size_t>(i);
      if (series_.origin(V::t_min_c)[row] == Origin::interpolated) {
        t_min_c[i] = t_max_c[i] - range_c;
      } else if (series_.origin(V::t_max_c)[row] == Origin::interpolated) {
        t_max_c[i] = t_min_c[i] + range_c;
      }
    }
  }

  /// An hourly file may begin within a day. Hours count from midnight, so that day goes.
  void drop_begun_day() {
    if (series_.step != Step::hour || series_.rows() == 0 || series_.lines.front() > 0) return;
    const Index cut = std::min<Index>(24, series_.rows());
    const auto given = std::count_if(series_.lines.begin(), series_.lines.begin() + cut,
                                     [](int line) { return line > 0; });
    say(Finding::Kind::remark, 0,
        iso_date(series_.first_day) + " has only " +
            counted(static_cast<std::size_t>(given), "hour") + " and is left out",
        "");
    for (std::size_t v = 0; v < variable_count; ++v) {
      Column& column = series_.columns[v];
      if (column.size() == 0) continue;
      column = Column(column.tail(column.size() - cut));
      series_.origins[v].erase(series_.origins[v].begin(), series_.origins[v].begin() + cut);
    }
    series_.lines.erase(series_.lines.begin(), series_.lines.begin() + cut);
    series_.first_day += std::chrono::days{1};
  }

  [[nodiscard]] bool is_empty() {
    if (series_.rows() > 0) return false;
    findings_.push_back({Finding::Kind::error, place_of_line(file_, 0),
                         "the file does not hold one whole day",
                         "give all 24 hours of a day, from 00:00 on"});
    return true;
  }

  [[nodiscard]] const WeatherSeries& series() const { return series_; }

  Read<WeatherSeries> finish() {
    if (has_error(findings_)) return {std::nullopt, std::move(findings_)};
    return {std::move(series_), std::move(findings_)};
  }

 private:
  void draw_line(V variable, const Gap& gap) {
    Column& values = series_[variable];
    const double before = values[gap.from - 1];
    const double after = values[gap.to];
    const auto steps = static_cast<double>(gap.to - gap.from + 1);
    for (Index i = gap.from; i < gap.to; ++i) {
      values[i] = before + (after - before) * static_cast<double>(i - gap.from + 1) / steps;
      series_.origin(variable)[static_cast<std::size_t>(i)] = Origin::interpolated;
    }
  }

  void refuse(const std::string& name, const std::vector<Gap>& open, int longest) {
    const Gap& first = open.front();
    std::string says = "no " + name + " " + (first.to - first.from == 1 ? "on " : "from ") +
                       time_text(series_, first.from);
    if (first.to - first.from > 1) says += " to " + time_text(series_, first.to - 1);
    if (open.size() > 1) says += ", and " + counted(open.size() - 1, "such gap") + " more";
    say(Finding::Kind::error, first.from, std::move(says),
        "fill it in: Runnel fills gaps of up to " +
            counted(static_cast<std::size_t>(longest), step_word(series_)) +
            ", between known values");
  }

  void say(Finding::Kind kind, Index row, std::string says, std::string mend) {
    findings_.push_back(
        {kind, place_of_line(file_, line_near(series_, row)), std::move(says), std::move(mend)});
  }

  WeatherSeries series_;
  std::string_view file_;
  std::vector<Finding> findings_;
};

}  // namespace

Read<WeatherSeries> fill_gaps(WeatherSeries series, std::string_view name) {
  Filler filler(std::move(series), name);
  filler.drop_begun_day();
  if (filler.is_empty()) return filler.finish();
  const WeatherSeries& now = filler.series();
  const bool by_extremes = now.step == Step::day ||
                           (!now.has(V::t_mean_c) && (now.has(V::t_max_c) || now.has(V::t_min_c)));
  const bool gives_et =
      now.has(V::eto_mm) && !now.has(V::t_max_c) && !now.has(V::t_min_c) && !now.has(V::t_mean_c);
  if (!gives_et && by_extremes) filler.need({V::t_max_c, V::t_min_c});
  if (!gives_et && !by_extremes) filler.need({V::t_mean_c});

  filler.fill(V::t_max_c, by_extremes);
  filler.fill(V::t_min_c, by_extremes);
  filler.keep_extremes_in_order();
  filler.fill(V::t_mean_c, !by_extremes);
  for (const V variable : {V::t_dew_c, V::rh_max_pct, V::rh_min_pct, V::rh_mean_pct, V::ea_kpa,
                           V::wind_m_s, V::rs_mj_m2, V::sunshine_h}) {
    filler.fill(variable, false);
  }
  filler.remark_rain();
  return filler.finish();
}

}  // namespace runnel

#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "report.hpp"
#include "row_text.hpp"
#include "runnel/sky/site.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/weather/series.hpp"

namespace runnel {

/// Rows that a rule is broken in.
class Tally {
 public:
  void add(Eigen::Index row) {
    if (count_ == 0) first_ = row;
    ++count_;
  }
  [[nodiscard]] std::size_t count() const { return count_; }
  [[nodiscard]] Eigen::Index first() const { return first_; }

 private:
  std::size_t count_ = 0;
  Eigen::Index first_ = 0;
};

/// Collects findings about one series.
class Report {
 public:
  Report(const WeatherSeries& series, std::string_view file) : series_(series), file_(file) {}

  /// "<what> on 3 days, first 2027-06-15", at the line of that row; nothing when there are none.
  void tell(Finding::Kind kind, const Tally& rows, const std::string& what, std::string mend) {
    if (rows.count() == 0) return;
    const bool days = series_.step == Step::day;
    say(kind, rows.first(),
        what + (days ? " on " : " in ") + counted(rows.count(), days ? "day" : "hour") +
            ", first " + when(rows.first()),
        std::move(mend));
  }

  void say(Finding::Kind kind, Eigen::Index row, std::string says, std::string mend) {
    findings_.push_back(
        {kind, place_of_line(file_, line_near(series_, row)), std::move(says), std::move(mend)});
  }

  [[nodiscard]] std::string when(Eigen::Index row) const { return time_text(series_, row); }

  [[nodiscard]] std::vector<Finding> take() { return std::move(findings_); }

 private:
  const WeatherSeries& series_;
  std::string_view file_;
  std::vector<Finding> findings_;
};

/// Radiation and sunshine of days against the sun.
void check_radiation(const WeatherSeries& days, const Site& site, Report& report);
/// Radiation of hours: whether the clock of the file is the one it is said to be.
void check_clock(const WeatherSeries& hours, const Site& site, Report& report);

}  // namespace runnel

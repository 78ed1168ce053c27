#include "row_text.hpp"

#include <algorithm>
#include <chrono>
#include <cstddef>

#include "runnel/units/calendar.hpp"

namespace runnel {

int line_near(const WeatherSeries& series, Eigen::Index row) {
  for (Eigen::Index i = row; i >= 0; --i) {
    if (const int line = series.lines[static_cast<std::size_t>(i)]; line > 0) return line;
  }
  const auto first =
      std::find_if(series.lines.begin(), series.lines.end(), [](int line) { return line > 0; });
  return first == series.lines.end() ? 0 : *first;
}

std::string time_text(const WeatherSeries& series, Eigen::Index row) {
  std::string text = iso_date(series.date_of(row));
  if (series.step == Step::hour) text += " " + clock(std::chrono::hours(row % 24));
  return text;
}

}  // namespace runnel

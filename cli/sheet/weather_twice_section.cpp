#include "sheet/weather_twice_section.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "days_twice.hpp"
#include "sheet/html.hpp"
#include "sheet/svg.hpp"

namespace runnel::cli::sheet {
namespace {

using Depth = std::optional<double> DayTwice::*;

constexpr double head_px = 30.0, et_px = 74.0, rain_px = 40.0, gap_px = 8.0;
constexpr double seen_mm = 0.05;  // what does not round to nothing
constexpr double mm_in_tenth_of_inch = 2.54;

class Drawing {
 public:
  Drawing(const Display& display, const Replan& again)
      : display_(display), days_(again.since), past_(again.since.size()) {
    days_.insert(days_.end(), again.ahead.begin(), again.ahead.end());
  }
  [[nodiscard]] std::string svg() const;

 private:
  [[nodiscard]] double x(double day) const { return day / static_cast<double>(days_.size()); }
  [[nodiscard]] double most_mm(Depth assumed, Depth now) const {
    double most = 0.0;
    for (const DayTwice& day : days_)
      most = std::max({most, (day.*assumed).value_or(0.0), (day.*now).value_or(0.0)});
    return most;
  }
  [[nodiscard]] std::string bars(Depth assumed, Depth now, double top_px, double depth_px,
                                 const char* what) const;

  const Display& display_;
  std::vector<DayTwice> days_;
  std::size_t past_;
};

/// Hollow and wide as the plan took it, solid and narrow as it is.
std::string Drawing::bars(Depth assumed, Depth now, double top_px, double depth_px,
                          const char* what) const {
  const double step_mm = display_.units == UnitSystem::us ? mm_in_tenth_of_inch : 1.0;
  const double most = std::max(most_mm(assumed, now), step_mm);
  const double bottom_px = top_px + depth_px;
  const auto bar = [&](const char* kind, std::size_t day, double depth_mm, double width) {
    const double height_px = depth_px * depth_mm / most;
    return rect(kind, x(static_cast<double>(day) + 0.5 - width / 2.0), bottom_px - height_px,
                x(width), height_px);
  };
  std::string text;
  const double line_mm = step_mm * std::floor(most / step_mm);
  const double line_px = bottom_px - depth_px * line_mm / most;
  text += horizontal("row", 0.0, 1.0, line_px) +
          axis_text("side", "-5", line_px + 4.0, number(display_, Shown::depth, line_mm, 0)) +
          axis_text("side", "-5", bottom_px, what);
  for (std::size_t day = 0; day < days_.size(); ++day) {
    if (const auto depth_mm = days_[day].*assumed) text += bar("assumed", day, *depth_mm, 0.72);
    if (const auto depth_mm = days_[day].*now) text += bar("run", day, *depth_mm, 0.3);
  }
  return text + horizontal("full", 0.0, 1.0, bottom_px);
}

std::string Drawing::svg() const {
  const bool rain = most_mm(&DayTwice::assumed_rain_mm, &DayTwice::rain_mm) >= seen_mm;
  const double bottom_px = head_px + et_px + (rain ? gap_px + rain_px : 0.0);
  std::string text = svg_begin(
      "weather", bottom_px + 4.0, "The weather as the plan took it and as it is",
      "For each day a hollow bar as the plan before took it and a solid one as it came or is "
      "expected now. The figures stand in the table.");
  for (std::size_t day = 0; day < days_.size(); ++day)
    text += day_heading(days_[day].date, x(static_cast<double>(day) + 0.5), 11.0, day >= past_);
  text += bars(&DayTwice::assumed_eto_mm, &DayTwice::eto_mm, head_px, et_px, "ET");
  if (rain)
    text += bars(&DayTwice::assumed_rain_mm, &DayTwice::rain_mm, head_px + et_px + gap_px, rain_px,
                 "rain");
  if (past_ > 0) text += vertical("expected", x(static_cast<double>(past_)), 0.0, bottom_px);
  return text + "</svg>\n";
}

std::string cell(const Display& display, const std::string& pointer,
                 const std::optional<double>& depth_mm) {
  return "<td>" + (depth_mm ? figure(display, Shown::depth, pointer, *depth_mm, 1) : "-") + "</td>";
}

std::string day_row(const Display& display, const DayTwice& of, std::string_view list,
                    std::size_t index) {
  const auto depth = [&](std::string_view key, const std::optional<double>& depth_mm) {
    return cell(display, pointer(list, index, key), depth_mm);
  };
  return "<tr><th scope=\"row\">" + day(of.date) + "</th>" +
         depth("assumed_eto_mm", of.assumed_eto_mm) + depth("eto_mm", of.eto_mm) +
         depth("assumed_rain_mm", of.assumed_rain_mm) + depth("rain_mm", of.rain_mm) + "</tr>\n";
}

std::string sum_row(const Display& display, std::string what, const std::vector<DayTwice>& days,
                    const std::string& at) {
  const DaysTwice sum = sum_of(days);
  if (sum.days < static_cast<int>(days.size()))
    what += " (" + figure(at + "/days", sum.days, 0) + " days)";
  std::string more;
  if (const auto percent = sum.eto_more_percent())
    more = " (" + std::string(*percent > 0.0 ? "+" : "") +
           figure(at + "/eto_more_percent", *percent, 0) + " %)";
  return "<tr class=\"sum\"><th scope=\"row\">" + what + "</th>" +
         cell(display, at + "/assumed_eto_mm", sum.assumed_eto_mm) + "<td>" +
         figure(display, Shown::depth, at + "/eto_mm", sum.eto_mm, 1) + more + "</td>" +
         cell(display, at + "/assumed_rain_mm", sum.assumed_rain_mm) +
         cell(display, at + "/rain_mm", sum.rain_mm) + "</tr>\n";
}

std::string rows(const Display& display, const std::vector<DayTwice>& days, std::string_view list,
                 const char* sum) {
  if (days.empty()) return {};
  std::string text = "<tbody>\n";
  for (std::size_t i = 0; i < days.size(); ++i) text += day_row(display, days[i], list, i);
  if (any_known(days)) text += sum_row(display, sum, days, "/" + std::string(list) + "_sum");
  return text + "</tbody>\n";
}

constexpr const char* key =
    "<figcaption><svg class=\"mark\" width=\"14\" height=\"11\" aria-hidden=\"true\"><rect "
    "class=\"assumed\" x=\"1\" y=\"1\" width=\"12\" height=\"9\"/></svg> as the plan took it, "
    "<svg class=\"mark\" width=\"8\" height=\"11\" aria-hidden=\"true\"><rect class=\"run\" "
    "x=\"2\" y=\"1\" width=\"4\" height=\"9\"/></svg> as it came; right of the stroke, as it is "
    "expected now. In ";

}  // namespace

std::string weather_twice_content(const Display& display, const Replan& again) {
  return "<figure>\n" + Drawing(display, again).svg() + key + depth_name(display) +
         ".</figcaption>\n</figure>\n<table class=\"figures\">\n<caption>" + depth_name(display) +
         " a day: as the plan took it, and as it "
         "came or is expected now</caption>\n<thead>\n<tr><td rowspan=\"2\"></td><th "
         "scope=\"colgroup\" colspan=\"2\">Reference ET</th><th scope=\"colgroup\" "
         "colspan=\"2\">Rain</th></tr>\n<tr><th scope=\"col\">plan</th><th "
         "scope=\"col\">now</th><th scope=\"col\">plan</th><th scope=\"col\">now</th></tr>\n"
         "</thead>\n" +
         rows(display, again.since, "since", "So far") +
         rows(display, again.ahead, "ahead", "To come") + "</table>\n";
}

}  // namespace runnel::cli::sheet

#include "sheet/week_picture.hpp"

#include <algorithm>
#include <vector>

#include "plan_days.hpp"
#include "sheet/day_clock.hpp"
#include "sheet/html.hpp"
#include "sheet/svg.hpp"
#include "sheet/valve_name.hpp"

namespace runnel::cli::sheet {
namespace {

constexpr double head_px = 30.0, foot_px = 13.0;
constexpr double inner_share = 0.9;  // of a day's column: the rest parts it from the next

class Drawing {
 public:
  Drawing(const Display& display, const GardenPlan& planned)
      : display_(display),
        plan_(planned.plan),
        runs_(dated_runs(plan_)),
        clock_(runs_),
        days_(static_cast<double>(days_planned(plan_))),
        row_px_(plan_.valves.size() <= 4 ? 24.0 : 17.0) {}

  [[nodiscard]] bool empty() const { return runs_.empty(); }
  [[nodiscard]] double row_px() const { return row_px_; }
  [[nodiscard]] std::string svg() const;

 private:
  [[nodiscard]] double bottom_px() const {
    return head_px + row_px_ * static_cast<double>(plan_.valves.size());
  }
  /// From the left edge of the picture, 0 to 1.
  [[nodiscard]] double place(Date date, WallTime time) const {
    const auto day = static_cast<double>((date - plan_.from).count());
    return (day + (1.0 - inner_share) / 2.0 + inner_share * clock_.place(time)) / days_;
  }
  [[nodiscard]] bool waters(Date date) const {
    return std::any_of(runs_.begin(), runs_.end(),
                       [date](const DatedRun& run) { return run.date == date; });
  }
  /// Whether its valve runs once that day: then there is room for its minutes.
  [[nodiscard]] bool alone(const DatedRun& run) const {
    return std::count_if(runs_.begin(), runs_.end(), [&run](const DatedRun& other) {
             return other.date == run.date && other.valve == run.valve;
           }) == 1;
  }
  [[nodiscard]] std::string minutes(std::size_t index, double from, double to, double y_px) const;
  /// "16", or "4".
  [[nodiscard]] std::string hour(WallTime time) const {
    if (!display_.twelve_hours) return clock(time).substr(0, 2);
    const auto hours = time / std::chrono::hours{1} % 12;
    return std::to_string(hours == 0 ? 12 : hours);
  }
  [[nodiscard]] std::string column(Date date) const;
  [[nodiscard]] std::string rows() const;
  [[nodiscard]] std::string block(std::size_t index) const;

  const Display& display_;
  const Plan& plan_;
  std::vector<DatedRun> runs_;
  DayClock clock_;
  double days_, row_px_;
};

std::string Drawing::column(Date date) const {
  const auto day = static_cast<double>((date - plan_.from).count());
  std::string text = day_heading(date, (day + 0.5) / days_, 11.0, waters(date));
  for (const DayClock::Stretch& stretch : clock_.stretches()) {
    const double from = place(date, stretch.from);
    const double to = place(date, stretch.to);
    text += rect("hours", from, head_px, to - from, bottom_px() - head_px);
    text += axis_text("hour", percent(from), bottom_px() + 10.0, hour(stretch.from));
    text += axis_text("hour end", percent(to), bottom_px() + 10.0, hour(stretch.to));
  }
  return text;
}

std::string Drawing::rows() const {
  std::string text;
  for (std::size_t row = 0; row <= plan_.valves.size(); ++row)
    text += horizontal("row", 0.0, 1.0, head_px + row_px_ * static_cast<double>(row));
  return text;
}

std::string Drawing::block(std::size_t index) const {
  const DatedRun& run = runs_[index];
  const auto row = std::find_if(plan_.valves.begin(), plan_.valves.end(),
                                [&run](const ValveTimes& of) { return of.valve == run.valve; });
  const auto y_px = head_px + row_px_ * static_cast<double>(row - plan_.valves.begin());
  const double from = place(run.date, run.start);
  const double to = place(run.date, run.start + run.length);
  return "<g data-json=\"/runs/" + std::to_string(index) + "\"><title>valve " +
         std::to_string(run.valve) + ", " + iso_date(run.date) + " " + clock(display_, run.start) +
         ", " + std::to_string(run.length.count()) + " min</title>" +
         rect("run", from, y_px + 3.0, to - from, row_px_ - 6.0) + "</g>\n" +
         (alone(run) ? minutes(index, from, to, y_px + row_px_ / 2.0 + 3.5) : std::string());
}

std::string Drawing::minutes(std::size_t index, double from, double to, double y_px) const {
  const DatedRun& run = runs_[index];
  const bool before = clock_.place(run.start) > 0.6;  // there is more room on that side
  return "<text class=\"run-minutes" + std::string(before ? " end" : "") + "\" x=\"" +
         percent(before ? from : to) + "\" y=\"" + px(y_px) + "\" dx=\"" + (before ? "-3" : "3") +
         "\" data-json=\"/runs/" + std::to_string(index) + "/run_min\">" +
         std::to_string(run.length.count()) + "</text>\n";
}

std::string Drawing::svg() const {
  std::string text =
      svg_begin("week", bottom_px() + foot_px, "When each valve runs",
                "A row for each valve, a column for each day, the clock from left to right within "
                "the day. The days and times are those of the table above.");
  for (Date date = plan_.from; date <= plan_.until; date += std::chrono::days{1})
    text += column(date);
  text += rows();
  for (std::size_t i = 0; i < runs_.size(); ++i) text += block(i);
  return text + "</svg>\n";
}

}  // namespace

std::string week_picture(const Display& display, const GardenPlan& planned) {
  const Drawing drawing(display, planned);
  if (drawing.empty()) return {};
  std::string names;
  for (const ValveTimes& times : planned.plan.valves)
    names += "<li style=\"height:" + px(drawing.row_px()) +
             "px;line-height:" + px(drawing.row_px()) + "px\"><b>" + std::to_string(times.valve) +
             "</b> <span>" + zone_names(planned.plan, times.valve) + "</span></li>\n";
  return "<div class=\"week\">\n<ul class=\"names\" aria-hidden=\"true\" style=\"padding-top:" +
         px(head_px) + "px\">\n" + names + "</ul>\n" + drawing.svg() + "</div>\n";
}

}  // namespace runnel::cli::sheet

#include "sheet/water_picture.hpp"

#include <algorithm>
#include <vector>

#include "runnel/units/number.hpp"
#include "settings.hpp"
#include "sheet/html.hpp"
#include "sheet/svg.hpp"

namespace runnel::cli::sheet {
namespace {

constexpr double lane_px = 13.0;        // for what one kind of water brings
constexpr double seen_mm = 0.05;        // what does not round to nothing
constexpr double seen_et_share = 0.05;  // before that a pot has used next to nothing of the day's
constexpr Eigen::Index most_days_named = 10;  // and the water of each written
constexpr double depths_below = 1.12;         // of the picture's depth, room below the limit

double share_of_day(WallTime time) {
  return std::clamp(static_cast<double>(time.count()) / (24.0 * 60.0), 0.0, 1.0);
}

/// A depletion at a time, in days from the plan's first midnight.
struct Point {
  double day, depletion_mm;
  bool judged = false;  ///< held against the limit: a bed after the morning's water, a pot before
                        ///< waterings and at the day's end
};

/// The line through a zone's days. Between the morning's water and the day's end, which the balance
/// gives, depletion is taken to rise evenly with the day's ET.
class Course {
 public:
  Course(const GardenPlan& planned, std::size_t zone)
      : task_(planned.zones[zone].task),
        zone_(planned.plan.zones[zone]),
        times_(times_of(planned.plan, zone_.valve)),
        hours_(planned.constraints.hours) {}

  [[nodiscard]] std::vector<Point> points(const ZoneDays& days) const;

 private:
  [[nodiscard]] bool is_pot() const { return task_.root_zone.surplus == Surplus::at_once; }
  /// When water comes that is credited after so much of the day's ET.
  [[nodiscard]] double clock_share(double et_share) const;
  void add_later_water(std::vector<Point>& points, Eigen::Index day, double morning_mm,
                       double end_mm) const;

  const ZoneTask& task_;
  const ZonePlan& zone_;
  const ValveTimes& times_;
  const WateringHours& hours_;
};

double Course::clock_share(double et_share) const {
  constexpr WallTime early = std::chrono::hours{6};
  for (const ValveTimes::Opening& opening : times_.openings)
    if (et_share_before(task_, opening.start, hours_) >= et_share)
      return share_of_day(opening.start);
  return share_of_day(early);
}

void Course::add_later_water(std::vector<Point>& points, Eigen::Index day, double morning_mm,
                             double end_mm) const {
  const Waterings& given = zone_.waterings_mm;
  const auto net_mm = [&](std::size_t slot) {
    return given.net_mm(static_cast<Eigen::Index>(slot), day) / zone_.wetted_share;
  };
  double used_mm = end_mm - morning_mm;
  for (std::size_t slot = 0; slot < given.et_share_before.size(); ++slot)
    if (given.et_share_before[slot] > 0.0) used_mm += net_mm(slot);
  double brought_mm = 0.0;
  for (std::size_t slot = 0; slot < given.et_share_before.size(); ++slot) {
    const double et_share = given.et_share_before[slot];
    if (et_share <= 0.0 || net_mm(slot) <= 0.0) continue;
    const double at = static_cast<double>(day) + clock_share(et_share);
    const double before_mm = morning_mm + std::max(0.0, used_mm) * et_share - brought_mm;
    points.push_back({at, std::max(0.0, before_mm), is_pot() && et_share > seen_et_share});
    brought_mm += net_mm(slot);
    points.push_back({at, std::max(0.0, before_mm - net_mm(slot))});
  }
}

std::vector<Point> Course::points(const ZoneDays& days) const {
  std::vector<Point> points;
  double before_mm = zone_.start_depletion_mm;
  for (Eigen::Index day = 0; day < days.end_mm.size(); ++day) {
    const auto midnight = static_cast<double>(day);
    const double morning = midnight + clock_share(0.0);
    points.push_back({midnight, before_mm, is_pot() && day > 0});
    points.push_back({morning, before_mm});
    points.push_back({morning, days.morning_mm[day], !is_pot()});
    add_later_water(points, day, days.morning_mm[day], days.end_mm[day]);
    before_mm = days.end_mm[day];
  }
  points.push_back({static_cast<double>(days.end_mm.size()), before_mm, is_pot()});
  return points;
}

class Drawing {
 public:
  Drawing(const Display& display, const GardenPlan& planned, std::size_t zone, const ZoneDays& days)
      : display_(display),
        plan_(planned.plan),
        z_(zone),
        days_(days),
        points_(Course(planned, zone).points(days)),
        rain_((days.rain_mm >= seen_mm).any()),
        long_(days.end_mm.size() > most_days_named),
        top_px_(long_ ? 4.0 : (rain_ ? 2.0 * lane_px + 4.0 : lane_px + 4.0)),
        depth_px_(plan_.zones.size() <= 4 ? 74.0 : 48.0) {
    depth_mm_ = depths_below * days.limit_mm.maxCoeff();
    for (const Point& point : points_) depth_mm_ = std::max(depth_mm_, point.depletion_mm);
  }

  [[nodiscard]] std::string svg() const;

 private:
  [[nodiscard]] double y_px(double depletion_mm) const {
    return top_px_ + depth_px_ * depletion_mm / depth_mm_;
  }
  [[nodiscard]] double x(Eigen::Index day) const {
    return static_cast<double>(day) / static_cast<double>(days_.end_mm.size());
  }
  [[nodiscard]] double x(Eigen::Index day, double of_day) const {
    return (static_cast<double>(day) + of_day) / static_cast<double>(days_.end_mm.size());
  }
  [[nodiscard]] std::string bands() const;
  [[nodiscard]] std::string content() const;
  [[nodiscard]] std::string brought(Eigen::Index day) const;
  [[nodiscard]] std::string amount(std::string_view kind, std::string_view key, Eigen::Index day,
                                   double mm, double y_px) const;
  [[nodiscard]] std::string margin() const;

  const Display& display_;
  const Plan& plan_;
  std::size_t z_;
  const ZoneDays& days_;
  std::vector<Point> points_;
  bool rain_, long_;
  double top_px_, depth_px_;
  double depth_mm_ = 0.0;
};

std::string Drawing::bands() const {
  std::string text;
  for (Eigen::Index day = 0; day < days_.end_mm.size(); ++day) {
    const double limit_px = y_px(days_.limit_mm[day]);
    text += rect("beyond", x(day), limit_px, x(1), top_px_ + depth_px_ - limit_px);
    text += rect("dry", x(day), limit_px, x(1), top_px_ + depth_px_ - limit_px);
    text += horizontal("limit", x(day), x(day + 1), limit_px);
    const Date date = plan_.from + std::chrono::days{day};
    if (long_ && weekday_index(date) != 0) continue;
    if (day > 0) text += vertical("midnight", x(day), top_px_, top_px_ + depth_px_);
    text += axis_text(
        long_ ? "" : "middle", percent(x(day, long_ ? 0.0 : 0.5)), top_px_ + depth_px_ + 11.0,
        long_ ? short_date(date).substr(4) : std::string(weekday_name(weekday_index(date))));
  }
  return text + horizontal("full", 0.0, 1.0, top_px_);
}

/// The water held, then over it what must stay unused, then the line.
std::string Drawing::content() const {
  std::string points, judged;
  for (const Point& point : points_) {
    const std::string at = px(100.0 * point.day) + "," + px(y_px(point.depletion_mm) - top_px_);
    points += (points.empty() ? "" : " ") + at;
    if (point.judged) judged += "M" + at + "h0";
  }
  const double width = 100.0 * static_cast<double>(days_.end_mm.size());
  const std::string floor_px = px(depth_px_);
  const std::string stretched = "<svg x=\"0\" y=\"" + px(top_px_) + "\" width=\"100%\" height=\"" +
                                floor_px + "\" viewBox=\"0 0 " + px(width) + " " + floor_px +
                                "\" preserveAspectRatio=\"none\">";
  return rect("spare", 0.0, top_px_, 1.0, depth_px_) + stretched +
         "<polygon class=\"held\" points=\"0," + floor_px + " " + points + " " + px(width) + "," +
         floor_px + "\"/></svg>\n" + bands() + stretched + "<polyline class=\"course\" points=\"" +
         points + "\"/><path class=\"judged\" d=\"" + judged + "\"/></svg>\n";
}

std::string Drawing::amount(std::string_view kind, std::string_view key, Eigen::Index day,
                            double mm, double y_px) const {
  const std::string at = percent(x(day, 0.5));
  return "<svg x=\"" + at + "\" y=\"" + px(y_px - lane_px) +
         "\" width=\"1\" height=\"1\" overflow=\"visible\"><use href=\"#" + std::string(kind) +
         "\" x=\"-15\" y=\"1\"/></svg>\n<text x=\"" + at + "\" y=\"" + px(y_px - 3.0) +
         "\" dx=\"-5\" class=\"amount\" data-json=\"" + pointer("zones", z_, "by_day") + "/" +
         std::to_string(day) + "/" + std::string(key) + "\">" +
         number(display_, Shown::depth, mm, 1) + "</text>\n";
}

std::string Drawing::brought(Eigen::Index day) const {
  std::string text;
  if (long_) return text;
  if (days_.water_mm[day] >= seen_mm)
    text += amount("watering-mark", "water_mm", day, days_.water_mm[day], lane_px);
  if (days_.rain_mm[day] >= seen_mm)
    text += amount("rain-mark", "rain_mm", day, days_.rain_mm[day], 2.0 * lane_px);
  return text;
}

std::string Drawing::margin() const {
  const double limit_px = y_px(days_.limit_mm[0]);
  return axis_text("side", "-5", top_px_ + 4.0, "full") +
         axis_text("side", "-5", limit_px - 1.0, "limit") + "<text class=\"side\" x=\"-5\" y=\"" +
         px(limit_px + 9.0) + "\" data-json=\"" + pointer("zones", z_, "by_day/0/limit_mm") +
         "\">" + number(display_, Shown::depth, days_.limit_mm[0], 1) + "</text>\n";
}

std::string Drawing::svg() const {
  std::string text =
      svg_begin("water-" + std::to_string(z_), top_px_ + depth_px_ + 14.0,
                "Water in the root zone of " + plan_.zones[z_].name,
                "A line between full, at the top, and the limit: it falls as the plants drink and "
                "rises with watering and rain. Its figures stand below, day by day.");
  text += content() + margin();
  for (Eigen::Index day = 0; day < days_.end_mm.size(); ++day) text += brought(day);
  return text + "</svg>\n";
}

}  // namespace

std::string water_picture(const Display& display, const GardenPlan& planned, std::size_t zone,
                          const ZoneDays& days) {
  return Drawing(display, planned, zone, days).svg();
}

}  // namespace runnel::cli::sheet

#include "sheet/use_picture.hpp"

#include "runnel/units/number.hpp"
#include "sheet/html.hpp"
#include "sheet/svg.hpp"

namespace runnel::cli::sheet {
namespace {

constexpr double top_px = 12.0, depth_px = 64.0;
constexpr double gap_share = 0.2;  // of a day's column, on either side of its bar

}  // namespace

std::string use_picture(const Display& display, const GardenPlan& planned, std::size_t zone,
                        const ZoneUse& use, double most_mm) {
  const double column = 1.0 / static_cast<double>(zone_use_days);
  const double bottom_px = top_px + depth_px;
  std::string text =
      svg_begin("use-" + std::to_string(zone), bottom_px + 26.0,
                "What " + use.zone->task.name + " uses each day",
                "A bar for each day; the dash over it is reference ET. The figures stand in the "
                "table day by day.");
  for (Eigen::Index day = 0; day < zone_use_days; ++day) {
    const double left = column * static_cast<double>(day);
    const double height_px = depth_px * use.mm[day] / most_mm;
    const double eto_px = bottom_px - depth_px * planned.weather.eto_mm[day] / most_mm;
    text += rect("use", left + gap_share * column, bottom_px - height_px,
                 (1.0 - 2.0 * gap_share) * column, height_px);
    text += horizontal("eto", left + 0.1 * column, left + 0.9 * column, eto_px);
    text += "<text class=\"middle amount\" x=\"" + percent(left + column / 2.0) + "\" y=\"" +
            px(bottom_px - height_px - 3.0) + "\" data-json=\"" +
            pointer("zones", zone, "demand_mm_by_day/") + std::to_string(day) + "\">" +
            number(display, Shown::depth, use.mm[day], 1) + "</text>\n";
    text += day_heading(planned.weather.first_day + std::chrono::days{day}, left + column / 2.0,
                        bottom_px + 11.0, false);
  }
  const double first_px = bottom_px - depth_px * planned.weather.eto_mm[0] / most_mm;
  text += axis_text("side", "-5", first_px + 4.0, "ET");
  return text + horizontal("full", 0.0, 1.0, bottom_px) + "</svg>\n";
}

}  // namespace runnel::cli::sheet

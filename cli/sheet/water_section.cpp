#include "sheet/water_section.hpp"

#include "plan_days.hpp"
#include "sheet/html.hpp"
#include "sheet/water_picture.hpp"

namespace runnel::cli::sheet {
namespace {

std::string day_row(const Display& display, const GardenPlan& planned, std::size_t z,
                    const ZoneDays& days, Eigen::Index row) {
  const std::string at = pointer("zones", z, "by_day/") + std::to_string(row) + "/";
  const auto cell = [&](const char* key, const Column& mm) {
    return "<td>" + figure(display, Shown::depth, at + key, mm[row], 1) + "</td>";
  };
  return "<tr><th scope=\"row\">" + day(planned.plan.from + std::chrono::days{row}) + "</th>" +
         cell("use_mm", days.use_mm) + cell("rain_mm", days.rain_mm) +
         cell("water_mm", days.water_mm) + cell("drained_mm", days.drained_mm) +
         cell("end_depletion_mm", days.end_mm) + cell("limit_mm", days.limit_mm) + "</tr>\n";
}

std::string day_table(const Display& display, const GardenPlan& planned, std::size_t z,
                      const ZoneDays& days) {
  std::string rows;
  for (Eigen::Index row = 0; row < days.end_mm.size(); ++row)
    rows += day_row(display, planned, z, days, row);
  return "<details>\n<summary>Day by day</summary>\n<table class=\"figures\">\n<caption>" +
         own_words(planned.plan.zones[z].name) + ", " +
         std::string(unit_shown(display, Shown::depth)) +
         "; short of full at the day's end</caption>\n<thead>\n<tr><th scope=\"col\">Day</th>"
         "<th scope=\"col\">Use</th><th scope=\"col\">Rain</th><th scope=\"col\">Water</th>"
         "<th scope=\"col\">Drains</th><th scope=\"col\">Short</th><th scope=\"col\">Limit</th>"
         "</tr>\n</thead>\n<tbody>\n" +
         rows + "</tbody>\n</table>\n</details>\n";
}

std::string zone_figure(const Display& display, const GardenPlan& planned, std::size_t z) {
  const ZonePlan& zone = planned.plan.zones[z];
  const ZoneDays days = zone_days(planned.zones[z], zone, days_planned(planned.plan));
  const auto at = [z](std::string_view key) { return pointer("zones", z, key); };
  return "<figure>\n<h3><span class=\"lid small\">" + figure(at("valve"), zone.valve, 0) +
         "</span> " + own_words(zone.name) + "</h3>\n" + water_picture(display, planned, z, days) +
         "<figcaption>Short of full: " +
         with_unit(display, Shown::depth, at("start_depletion_mm"), zone.start_depletion_mm, 1) +
         ", then " +
         with_unit(display, Shown::depth, at("end_depletion_mm"), zone.end_depletion_mm, 1) +
         "</figcaption>\n" + day_table(display, planned, z, days) + "</figure>\n";
}

// The marks that the pictures use, beside their names.
constexpr const char* key =
    "The line falls as plants drink. What counts are the dots: a bed in "
    "the "
    "morning, pots when they are driest. They must not lie below the limit "
    "<span class=\"sample\"></span>. "
    "<svg class=\"mark\" width=\"9\" height=\"11\" aria-hidden=\"true\"><use "
    "href=\"#watering-mark\"/></svg> watering, "
    "<svg class=\"mark\" width=\"9\" height=\"11\" aria-hidden=\"true\"><use "
    "href=\"#rain-mark\"/></svg> rain that reaches the roots.</p>\n";

}  // namespace

std::string water_content(const Display& display, const GardenPlan& planned) {
  std::string text = "<p class=\"key\">In " + depth_name(display) + ". " + key;
  if (planned.weather.futures() > 1)
    text += "<p class=\"key\">Shown is the mean of all the futures looked at.</p>\n";
  text += "<div class=\"waters\">\n";
  for (std::size_t z = 0; z < planned.plan.zones.size(); ++z)
    text += zone_figure(display, planned, z);
  return text + "</div>\n";
}

}  // namespace runnel::cli::sheet

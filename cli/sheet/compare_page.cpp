#include "sheet/compare_page.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "sheet/html.hpp"
#include "sheet/page.hpp"
#include "sheet/svg.hpp"
#include "sheet/use_picture.hpp"
#include "zone_use.hpp"

namespace runnel::cli {
namespace {

using namespace sheet;

constexpr double most_lasting_days = 100.0;

std::string lasts(const ZoneUse& use, std::size_t z) {
  if (!(use.lasts_days() < most_lasting_days)) return "months";
  return figure(pointer("zones", z, "lasts_days"), use.lasts_days(),
                use.lasts_days() < 10.0 ? 1 : 0) +
         " days";
}

/// As wide as its part of the neediest zone's use; the figure stands beside it.
std::string bar(double share) {
  return "<svg class=\"bar\" width=\"100%\" height=\"8\" aria-hidden=\"true\">" +
         rect("run", 0.0, 1.0, share, 6.0) + "</svg>";
}

std::string zone_rows(const Display& display, const ZoneUse& use, std::size_t z,
                      const Column& eto_mm, double most_mm) {
  const auto at = [z](std::string_view key) { return pointer("zones", z, key); };
  return "<tbody>\n<tr>\n<th scope=\"row\"><span class=\"lid\">" +
         figure(at("valve"), use.zone->task.valve, 0) + "</span><span class=\"name\">" +
         own_words(use.zone->task.name) + "</span></th>\n<td class=\"days\">" +
         with_unit(display, Shown::volume, at("demand_l_a_day"), use.litres.mean(), 0) +
         "</td>\n<td class=\"starts\">" + lasts(use, z) + "</td>\n<td class=\"minutes\">" +
         figure(display, Shown::depth, at("demand_mm_a_day"), use.mm_a_day(), 1) + " <small>" +
         std::string(unit_shown(display, Shown::depth)) +
         "</small></td>\n</tr>\n<tr class=\"why\">\n<td colspan=\"4\">Exposure " +
         figure(at("exposure_factor"), mean_factor(use.exposure, eto_mm), 2) + ", coefficient " +
         figure(at("coefficient"), mean_factor(use.coefficient, eto_mm * use.exposure), 2) +
         bar(use.mm_a_day() / most_mm) + "</td>\n</tr>\n</tbody>\n";
}

std::string use_content(const Display& display, const std::vector<ZoneUse>& all,
                        const Column& eto_mm) {
  double most_mm = 0.0;
  for (const ZoneUse& use : all) most_mm = std::max(most_mm, use.mm_a_day());
  std::string text =
      "<table class=\"set\">\n<caption>A day, mean of the week, before uneven watering and "
      "leaching. Lasts: until a full root zone or pot must be watered "
      "again</caption>\n<thead>\n<tr><th scope=\"col\">Valve</th><th scope=\"col\">" +
      std::string(display.units == UnitSystem::us ? "Gallons" : "Litres") +
      "</th>"
      "<th scope=\"col\">Lasts</th><th scope=\"col\" class=\"minutes\">Depth</th></tr>\n"
      "</thead>\n";
  for (std::size_t z = 0; z < all.size(); ++z)
    text += zone_rows(display, all[z], z, eto_mm, std::max(most_mm, 1e-9));
  return text + "<tfoot>\n<tr><th scope=\"row\">All zones</th><td colspan=\"3\">" +
         with_unit(display, Shown::volume, "/demand_l_a_day", litres_a_day(all), 0) +
         " a day</td></tr>\n</tfoot>\n</table>\n";
}

std::string pictures(const Display& display, const GardenPlan& planned,
                     const std::vector<ZoneUse>& all) {
  double most_mm = planned.weather.eto_mm.head(zone_use_days).maxCoeff();
  for (const ZoneUse& use : all) most_mm = std::max(most_mm, use.mm.maxCoeff());
  std::string text = "<div class=\"waters\">\n";
  for (std::size_t z = 0; z < all.size(); ++z)
    text += "<figure>\n<h3><span class=\"lid small\">" +
            figure(pointer("zones", z, "valve"), all[z].zone->task.valve, 0) + "</span> " +
            own_words(all[z].zone->task.name) + "</h3>\n" +
            use_picture(display, planned, z, all[z], std::max(most_mm, 1e-9)) + "</figure>\n";
  return text + "</div>\n";
}

std::string day_row(const Display& display, const std::string& heading, const std::string& pointer,
                    const Column& mm, const std::string& sum) {
  std::string text = "<tr><th scope=\"row\">" + heading + "</th>";
  for (Eigen::Index day = 0; day < mm.size(); ++day)
    text += "<td>" +
            figure(display, Shown::depth, pointer + "/" + std::to_string(day), mm[day], 1) +
            "</td>";
  return text + "<td class=\"sum\">" + figure(display, Shown::depth, sum, mm.sum(), 1) +
         "</td></tr>\n";
}

std::string day_table(const Display& display, const GardenPlan& planned,
                      const std::vector<ZoneUse>& all) {
  std::string text = "<table class=\"figures\">\n<caption>" +
                     std::string(unit_shown(display, Shown::depth)) +
                     "</caption>\n<thead>\n<tr><td></td>";
  for (Eigen::Index day = 0; day < zone_use_days; ++day) {
    const Date date = planned.weather.first_day + std::chrono::days{day};
    text += "<th scope=\"col\"><time datetime=\"" + iso_date(date) + "\">" +
            std::string(weekday_name(weekday_index(date))) + "</time></th>";
  }
  text += "<th scope=\"col\">Sum</th></tr>\n</thead>\n<tbody>\n" +
          day_row(display, "Reference ET", "/eto_mm_by_day",
                  planned.weather.eto_mm.head(zone_use_days), "/eto_mm");
  for (std::size_t z = 0; z < all.size(); ++z)
    text +=
        day_row(display, own_words(all[z].zone->task.name), pointer("zones", z, "demand_mm_by_day"),
                all[z].mm, pointer("zones", z, "demand_mm"));
  return text + "</tbody>\n</table>\n";
}

}  // namespace

std::string compare_html(const Garden& garden, const GardenPlan& planned) {
  const std::vector<ZoneUse> all = zone_uses(planned);
  const Column eto_mm = planned.weather.eto_mm.head(zone_use_days);
  const Date from = planned.weather.first_day;
  const Display& display = garden.display;
  std::string body = "<header>\n<h1>" + own_words(garden.name) + "</h1>\n<p>What each zone uses, " +
                     day(from) + " to " + day(from + std::chrono::days{zone_use_days - 1}) +
                     " <time>" + std::to_string(year_of(from)) + "</time>; reference ET " +
                     with_unit(display, Shown::depth, "/eto_mm_a_day", eto_mm.mean(), 1) +
                     " a day</p>\n</header>\n<main>\n";
  body += section("uses", "What each zone uses", use_content(display, all, eto_mm));
  body += section("water", "Each day against reference ET", pictures(display, planned, all));
  body += section("days-table", "Day by day", day_table(display, planned, all));
  return page(garden.name + ": what each zone uses", body + "</main>\n",
              {.zones = all.size(), .crowded = false});
}

}  // namespace runnel::cli

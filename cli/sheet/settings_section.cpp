#include "sheet/settings_section.hpp"

#include "settings.hpp"
#include "sheet/html.hpp"

namespace runnel::cli::sheet {
namespace {

/// Why these minutes.
std::string reason(const Display& display, const GardenPlan& planned, std::size_t z) {
  const ZonePlan& zone = planned.plan.zones[z];
  const auto at = [z](std::string_view key) { return pointer("zones", z, key); };
  const auto depth = [&](std::string_view key, double depth_mm) {
    return with_unit(display, Shown::depth, at(key), depth_mm, 1);
  };
  const Spare spare = spare_of(zone);
  std::string text;
  if (zone.days_beyond > 0)
    text = "<strong>Falls short</strong>: too dry on " +
           figure(at("days_beyond"), zone.days_beyond, 0) +
           (zone.days_beyond == 1 ? " day" : " days") + ", see below. ";
  if (planned.zones[z].containers)
    return text + "Use " +
           with_unit(display, Shown::volume, at("use_l_a_day"), spare.use_l_a_day, 1) +
           " a day, can spare " +
           with_unit(display, Shown::volume, at("spare_l"), spare.litres, 1) +
           " before they must be watered";
  const std::string when = planned.away ? " in the first week, rain" : ", rain";
  return text + "Uses " + depth("demand_mm", zone.demand_mm) + when + " brings " +
         depth("rain_mm", zone.rain_mm) + "; can spare " + depth("spare_mm", spare.mm) +
         (zone.waterings == 0 ? ": no need" : "");
}

/// Of all days planned; a zone's own figure is of seven.
std::string litres(const Display& display, const GardenPlan& planned, std::size_t z) {
  if (planned.away)
    return with_unit(display, Shown::volume, pointer("away/zones", z, "litres"),
                     planned.away->zones[z].brought_l, 0);
  return with_unit(display, Shown::volume, pointer("zones", z, "litres"),
                   planned.plan.zones[z].gross_litres, 0);
}

std::string minutes_cell(const Setting& setting, std::size_t z) {
  if (setting.starts == "-") return "<td class=\"minutes off\">off</td>";
  return "<td class=\"minutes\">" + words(pointer("zones", z, "set/minutes"), setting.minutes) +
         " <small>min</small></td>";
}

std::string zone_rows(const Garden& garden, const GardenPlan& planned, std::size_t z) {
  const Display& display = garden.display;
  const ZonePlan& zone = planned.plan.zones[z];
  const Setting setting = setting_of(planned.plan, garden, zone.valve);
  const bool shut = setting.starts == "-";
  const auto cell = [&](std::string_view kind, const char* key, const std::string& text) {
    return "<td class=\"" + std::string(kind) + "\">" +
           (shut ? std::string() : words(pointer("zones", z, key), text)) + "</td>\n";
  };
  std::string more = reason(display, planned, z);
  if (setting.programme > 0 && !shut)
    more += ". Programme " + figure(pointer("zones", z, "set/programme"), setting.programme, 0) +
            ": its valves run one after the other";
  if (const std::string shared = shared_valve_line(planned.plan, zone, display); !shared.empty())
    more += ". " + words(pointer("zones", z, "shares_valve"), shared);
  if (const std::string drains = drain_line(planned.plan, zone, display); !drains.empty())
    more += ". " + words(pointer("zones", z, "drains"), drains);
  return "<tbody" + std::string(shut ? " class=\"shut\"" : "") +
         ">\n<tr>\n<th scope=\"row\"><span class=\"lid\">" +
         figure(pointer("zones", z, "valve"), zone.valve, 0) + "</span><span class=\"name\">" +
         own_words(zone.name) + "</span></th>\n" + cell("days", "set/days", setting.days) +
         cell("starts", "set/starts", setting.starts) + minutes_cell(setting, z) +
         "\n</tr>\n<tr class=\"why\">\n<td colspan=\"3\">" + more + "</td>\n<td class=\"litres\">" +
         litres(display, planned, z) + "</td>\n</tr>\n</tbody>\n";
}

}  // namespace

std::string settings_content(const Garden& garden, const GardenPlan& planned) {
  std::string text;
  if (garden.timer.percentage != 100)
    text += "<p>The timer's percentage stands at " +
            figure("/timer_percentage", garden.timer.percentage, 0) + " %: leave it there.</p>\n";
  text +=
      "<table class=\"set\">\n<caption>For each valve: its days, start times, and the minutes of "
      "each run</caption>\n<thead>\n<tr><th scope=\"col\">Valve</th><th scope=\"col\">Days</th>"
      "<th scope=\"col\">Start</th><th scope=\"col\" class=\"minutes\">Minutes</th></tr>\n"
      "</thead>\n";
  for (const std::size_t z : zones_by_valve(planned.plan)) text += zone_rows(garden, planned, z);
  return text + "<tfoot>\n<tr><th scope=\"row\" colspan=\"3\">All valves together</th>" +
         "<td class=\"litres\">" +
         with_unit(garden.display, Shown::volume, "/litres", planned_litres(planned.plan), 0) +
         "</td></tr>\n</tfoot>\n</table>\n";
}

}  // namespace runnel::cli::sheet

#include "sheet/programme_section.hpp"

#include "settings.hpp"
#include "sheet/html.hpp"

namespace runnel::cli::sheet {
namespace {

std::string zone_row(const Garden& garden, const Plan& plan, std::size_t z) {
  const ZonePlan& zone = plan.zones[z];
  const Setting setting = setting_of(plan, garden, zone.valve);
  const auto at = [z](std::string_view key) { return pointer("zones", z, key); };
  const auto cell = [&](std::string_view key, const std::string& text) {
    return "<td>" + words(at(key), text) + "</td>";
  };
  std::string text = "<tr><th scope=\"row\"><span class=\"lid small\">" +
                     figure(at("valve"), zone.valve, 0) + "</span> " + own_words(zone.name) +
                     "</th>";
  if (setting.starts == "-") {
    text += "<td>off</td><td></td><td></td>";
  } else {
    text += cell("set/days", setting.days) + cell("set/starts", setting.starts) +
            cell("set/minutes", setting.minutes);
  }
  return text + "<td>" + figure(garden.display, Shown::volume, at("litres"), zone.gross_litres, 0) +
         "</td></tr>\n";
}

}  // namespace

std::string programme_content(const Garden& garden, const GardenPlan& planned) {
  std::string rows;
  for (const std::size_t z : zones_by_valve(planned.plan))
    rows += zone_row(garden, planned.plan, z);
  std::string text;
  if (garden.timer.percentage != 100)
    text = "<p>The timer's percentage stands at " +
           figure("/timer_percentage", garden.timer.percentage, 0) + " %: leave it there.</p>\n";
  return text +
         "<table class=\"figures programme\">\n<caption>Once all is changed; water run by hand is "
         "in it</caption>\n<thead>\n<tr><th scope=\"col\">Valve</th><th "
         "scope=\"col\">Days</th><th scope=\"col\">Start</th><th scope=\"col\">Minutes</th><th "
         "scope=\"col\">" +
         (garden.display.units == UnitSystem::us ? "Gallons" : "Litres") +
         "</th></tr>\n</thead>\n<tbody>\n" + rows +
         "</tbody>\n<tfoot>\n<tr class=\"sum\"><th scope=\"row\">All valves</th><td></td><td></td>"
         "<td></td><td>" +
         figure(garden.display, Shown::volume, "/litres", planned_litres(planned.plan), 0) +
         "</td></tr>\n</tfoot>\n</table>\n";
}

}  // namespace runnel::cli::sheet

#include "sheet/valve_name.hpp"

#include "sheet/html.hpp"

namespace runnel::cli::sheet {

std::string zone_names(const Plan& plan, int valve) {
  std::string names;
  for (const ZonePlan& zone : plan.zones)
    if (zone.valve == valve) names += (names.empty() ? "" : ", ") + own_words(zone.name);
  return names;
}

std::string valve_heading(const Plan& plan, int valve, const std::string& pointer,
                          std::string_view scope, int rows) {
  const std::string names = zone_names(plan, valve);
  return "<th scope=\"" + std::string(scope) + "\"" +
         (rows > 1 ? " rowspan=\"" + std::to_string(rows) + "\"" : std::string()) +
         "><span class=\"lid\">" + figure(pointer, valve, 0) + "</span><span class=\"name\">" +
         (names.empty() ? "no zone any more" : names) + "</span></th>\n";
}

}  // namespace runnel::cli::sheet

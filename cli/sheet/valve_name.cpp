#include "sheet/valve_name.hpp"

#include <vector>

#include "sheet/html.hpp"
#include "text_table.hpp"

namespace runnel::cli::sheet {

std::string zone_names(const Plan& plan, int valve) {
  std::vector<std::string> names;
  for (const ZonePlan& zone : plan.zones)
    if (zone.valve == valve) names.push_back(own_words(zone.name));
  return joined(names);
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

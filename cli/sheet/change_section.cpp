#include "sheet/change_section.hpp"

#include <algorithm>
#include <vector>

#include "sheet/html.hpp"
#include "sheet/valve_name.hpp"
#include "valve_change.hpp"

namespace runnel::cli::sheet {
namespace {

/// One setting of a valve, as it was and as it is to be.
struct SettingRow {
  const char* what;
  std::string was, now;  // HTML
  const char* kind = "now";
};

std::vector<SettingRow> setting_rows(const ValveChange& change, std::size_t valve) {
  const auto text = [valve](std::string_view key, const std::string& says) {
    return words(pointer("valves", valve, key), says);
  };
  if (change.switched_off())
    return {{.what = "Valve",
             .was = text("days_before", change.was.days) + " at " +
                    text("starts_before", change.was.starts),
             .now = "off"}};
  std::vector<SettingRow> rows;
  if (change.days)
    rows.push_back({.what = "Days",
                    .was = text("days_before", change.was.days),
                    .now = text("days", change.now.days)});
  if (change.starts)
    rows.push_back({.what = "Start times",
                    .was = text("starts_before", change.was.starts),
                    .now = text("starts", change.now.starts)});
  if (change.minutes)
    rows.push_back({.what = "Minutes",
                    .was = text("run_min_before", change.was.minutes),
                    .now = text("run_min", change.now.minutes) + " <small>min</small>",
                    .kind = "minutes"});
  return rows;
}

std::string why(const Display& display, const Replan& again, std::size_t z) {
  return words(pointer("looked_at", z, "why"), reason(display, again, z));
}

/// The zones on a valve, each with what speaks for the change and what it needs.
std::string reasons(const Display& display, const Replan& again, int valve) {
  const std::vector<ZonePlan>& zones = again.planned.plan.zones;
  const bool several = std::count_if(zones.begin(), zones.end(), [valve](const ZonePlan& zone) {
                         return zone.valve == valve;
                       }) > 1;
  const auto depth = [&display](std::size_t z, std::string_view key, double depth_mm) {
    return with_unit(display, Shown::depth, pointer("zones", z, key), depth_mm, 1);
  };
  std::string text;
  for (std::size_t z = 0; z < zones.size(); ++z) {
    if (zones[z].valve != valve) continue;
    text += "<div>" + (several ? own_words(zones[z].name) + ": " : "") + why(display, again, z) +
            ". The week ahead uses " + depth(z, "demand_mm", zones[z].demand_mm) +
            ", rain brings " + depth(z, "rain_mm", zones[z].rain_mm) + "</div>";
  }
  return text;
}

std::string valve_rows(const Display& display, const Replan& again, std::size_t v,
                       const ValveChange& change) {
  const ValveAdvice& advice = again.valves[v];
  const std::vector<SettingRow> rows = setting_rows(change, v);
  std::string text = "<tbody>\n";
  for (std::size_t i = 0; i < rows.size(); ++i) {
    text += "<tr>\n";
    if (i == 0)
      text += valve_heading(again.planned.plan, advice.valve, pointer("valves", v, "valve"),
                            "rowgroup", static_cast<int>(rows.size()));
    text += "<th scope=\"row\" class=\"setting\">" + std::string(rows[i].what) +
            "</th>\n<td class=\"was\">" + rows[i].was + "</td>\n<td class=\"" + rows[i].kind +
            "\">" + rows[i].now + "</td>\n</tr>\n";
  }
  if (const std::string because = reasons(display, again, advice.valve); !because.empty())
    text += "<tr class=\"why\">\n<td colspan=\"4\">" + because + "</td>\n</tr>\n";
  return text + "</tbody>\n";
}

}  // namespace

std::string change_content(const Garden& garden, const SavedPlan& before, const Replan& again) {
  std::string rows;
  for (std::size_t v = 0; v < again.valves.size(); ++v)
    if (again.valves[v].settings > 0)
      rows +=
          valve_rows(garden.display, again, v, change_of(garden, before, again, again.valves[v]));
  if (rows.empty()) return "<p>Nothing.</p>\n";
  std::string text =
      "<table class=\"set changes\">\n<caption>Only what differs: all else stays as it is "
      "set</caption>\n<thead>\n<tr><th scope=\"col\">Valve</th><th scope=\"col\">Setting</th><th "
      "scope=\"col\">Was</th><th scope=\"col\">Now</th></tr>\n</thead>\n" +
      rows + "</table>\n";
  if (garden.timer.programmes > 0)
    text +=
        "<p class=\"key\">This timer's valves share programmes: all are planned anew, and what "
        "differs is named. Changes have no price here, so there may be more of them than need "
        "be.</p>\n";
  return text;
}

std::string left_content(const Display& display, const Replan& again) {
  const Plan& plan = again.planned.plan;
  std::string items;
  for (std::size_t z = 0; z < plan.zones.size(); ++z) {
    const ZonePlan& zone = plan.zones[z];
    if (advice_of(again, zone.valve).leave_as_is())
      items += "<li><span class=\"lid small\">" +
               figure(pointer("zones", z, "valve"), zone.valve, 0) + "</span> <span>" +
               own_words(zone.name) + ": " + why(display, again, z) + "</span></li>\n";
  }
  return items.empty() ? "<p>Nothing.</p>\n" : "<ul>\n" + items + "</ul>\n";
}

}  // namespace runnel::cli::sheet

#include "plan_report.hpp"

#include <algorithm>
#include <cmath>

#include "csv_cell.hpp"
#include "json_writer.hpp"
#include "runnel/units/number.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

constexpr int page_width = 78;

std::string block(const std::string& indent, const std::string& text) {
  std::string lines;
  for (const std::string& line : wrapped(text, page_width - static_cast<int>(indent.size())))
    lines += indent + line + "\n";
  return lines;
}

/// What is short in a few words, why these minutes: the line under each valve.
std::string why(const PreparedZone& prepared, const ZonePlan& zone) {
  const auto mm = [](double depth_mm) { return fixed(depth_mm, 1) + " mm"; };
  if (zone.days_beyond > 0)
    return "FALLS SHORT: too dry on " + std::to_string(zone.days_beyond) +
           " of 14 days; see below.";
  if (prepared.containers) {
    const double area_m2 = zone.delivery.area.m2();
    return "Use " + fixed(zone.demand_mm * area_m2 / 7.0, 1) + " L a day, can spare " +
           fixed(zone.limit_mm * area_m2, 1) + " L before they must be watered.";
  }
  return "Uses " + mm(zone.demand_mm) + " in the week, rain brings " + mm(zone.rain_mm) +
         "; can spare " + mm(zone.limit_mm * zone.wetted_share) +
         (zone.waterings == 0 ? ": no need." : ".");
}

/// Minutes a week that the zone's own use asks for, rain taken off.
double minutes_needed(const ZonePlan& zone) {
  return (zone.demand_mm - zone.rain_mm) / zone.delivery.net_mm_per_minute();
}

/// On a valve of several zones: which of them decides the minutes, and what the others lose by it.
std::string shared_valve_line(const Plan& plan, const ZonePlan& zone) {
  const ZonePlan* neediest = &zone;
  int sharing = 0;
  for (const ZonePlan& other : plan.zones) {
    if (other.valve != zone.valve) continue;
    ++sharing;
    if (minutes_needed(other) > minutes_needed(*neediest)) neediest = &other;
  }
  if (sharing < 2 || zone.waterings == 0) return {};
  if (neediest == &zone) return "Shares the valve and decides its minutes.";
  return "Shares the valve: " + printable(neediest->name) + " decides, and " +
         fixed(zone.drained_mm * zone.delivery.area.m2(), 0) +
         " L of the week's water run through here.";
}

std::string weather_line(const AssumedWeather& weather) {
  int forecast = 0;
  for (std::size_t day = 0; day < 7; ++day)
    if (weather.source[day] == DaySource::forecast) ++forecast;
  std::string from;
  if (forecast == 7) {
    from = "the forecast";
  } else if (forecast == 0) {
    from = "the mean of the last " + std::to_string(weather.recent_days) +
           " observed days and no rain";
  } else {
    from = "the forecast for " + std::to_string(forecast) + " days, then the mean of the last " +
           std::to_string(weather.recent_days) + " observed days and no rain";
  }
  return "Reference ET " + fixed(weather.eto_mm.head(7).sum(), 1) + " mm and rain " +
         fixed(weather.rain_mm.head(7).sum(), 1) + " mm in the week: " + from + ".";
}

/// What the plan stands on without having been measured or told.
std::vector<std::string> assumptions(const Garden& garden, const GardenPlan& planned) {
  std::vector<std::string> lines;
  constexpr int most_named = 6;
  std::string zones;
  int unknown = 0;
  for (const Zone& zone : garden.zones) {
    if (zone.depletion_mm) continue;
    zones += (zones.empty() ? "" : ", ") + printable(zone.name);
    ++unknown;
  }
  if (unknown > most_named) zones = std::to_string(unknown) + " zones";
  if (!zones.empty())
    lines.push_back("How dry the ground is on the first day: half of what it can spare (" + zones +
                    ").");
  const auto remarks =
      std::count_if(planned.findings.begin(), planned.findings.end(),
                    [](const Finding& finding) { return finding.kind == Finding::Kind::remark; });
  lines.push_back(std::to_string(remarks) + " defaults in all: runnel check " +
                  printable(garden.file) + " lists them.");
  return lines;
}

// The usual cautions, in short; README has them in full.
constexpr const char* caution =
    "Watch each valve run once after setting it: a timer cannot see a leak or a blocked dripper. "
    "Frost in sight: stop, and drain "
    "the lines. Local watering rules and licensed trades come before this sheet; a hose or line on "
    "drinking water needs its "
    "backflow preventer.";

std::string timetable_lines(const GardenPlan& planned) {
  const TextTable table({{"VALVE", 5, true},
                         {"ZONE", 20},
                         {"DAYS", 15},
                         {"START TIMES", 17},
                         {"MINUTES", 7, true},
                         {"LITRES", 6, true}});
  std::string text = table.heading();
  double litres = 0.0;
  for (const ValveTimes& times : planned.plan.valves) {
    for (std::size_t z = 0; z < planned.plan.zones.size(); ++z) {
      const ZonePlan& zone = planned.plan.zones[z];
      if (zone.valve != times.valve) continue;
      litres += zone.gross_litres;
      const bool shut = times.openings.empty();
      text +=
          "\n" + table.row({std::to_string(zone.valve), zone.name, shut ? "off" : days_text(times),
                            starts_text(times), minutes_text(times), fixed(zone.gross_litres, 0)});
      text += block("       ", why(planned.zones[z], zone));
      if (const std::string shared = shared_valve_line(planned.plan, zone); !shared.empty())
        text += block("       ", shared);
    }
  }
  return text + "\n" + table.row({"", "all valves, the week", "", "", "", fixed(litres, 0)});
}

}  // namespace

std::string days_text(const ValveTimes& times) {
  return times.openings.empty() ? "-" : to_text(times.days);
}

std::string starts_text(const ValveTimes& times) {
  std::string text;
  for (const ValveTimes::Opening& opening : times.openings)
    text += (text.empty() ? "" : " ") + clock(opening.start);
  return text.empty() ? "-" : text;
}

std::string minutes_text(const ValveTimes& times) {
  if (times.openings.empty()) return "-";
  const auto& first = times.openings.front();
  const bool alike = std::all_of(
      times.openings.begin(), times.openings.end(),
      [&first](const ValveTimes::Opening& opening) { return opening.length == first.length; });
  std::string text = std::to_string(first.length.count());
  if (!alike)
    for (std::size_t i = 1; i < times.openings.size(); ++i)
      text += " " + std::to_string(times.openings[i].length.count());
  return text;
}

const ValveTimes& times_of(const Plan& plan, int valve) {
  return *std::find_if(plan.valves.begin(), plan.valves.end(),
                       [valve](const ValveTimes& times) { return times.valve == valve; });
}

std::string plan_text(const Garden& garden, const GardenPlan& planned, const Mending& mending) {
  const Plan& plan = planned.plan;
  std::string text = printable(garden.name) + "\n" + "Set on the timer for " +
                     short_date(plan.from) + " to " + short_date(plan.until) + " " +
                     std::to_string(year_of(plan.until)) + "\n\n";
  text += timetable_lines(planned);
  text += "\nWEATHER TAKEN\n" + block("  ", weather_line(planned.weather));
  text += shortfall_text(plan, mending);
  text += "\nTAKEN WITHOUT KNOWING\n";
  for (const std::string& line : assumptions(garden, planned)) text += block("  ", line);
  text += "\nTAKE CARE\n" + block("  ", caution);
  return text;
}

std::string plan_csv(const GardenPlan& planned) {
  std::string text =
      "valve,zone,days,starts,run_min,watering_days,litres,gross_mm,demand_mm,rain_mm,drained_mm,"
      "start_depletion_mm,"
      "end_depletion_mm,limit_mm,days_beyond\n";
  for (const ZonePlan& zone : planned.plan.zones) {
    const ValveTimes& times = times_of(planned.plan, zone.valve);
    text += std::to_string(zone.valve) + "," + csv_cell(zone.name) + "," +
            csv_cell(days_text(times)) + "," + csv_cell(starts_text(times)) + "," +
            csv_cell(minutes_text(times)) + "," + std::to_string(zone.watering_days);
    for (const double value :
         {zone.gross_litres, zone.gross_mm, zone.demand_mm, zone.rain_mm, zone.drained_mm,
          zone.start_depletion_mm, zone.end_depletion_mm, zone.limit_mm})
      text += "," + shortest(value);
    text += "," + std::to_string(zone.days_beyond) + "\n";
  }
  return text;
}

std::string plan_json(const Garden& garden, const GardenPlan& planned, const Mending& mending) {
  JsonWriter json;
  json.begin_object();
  json.value("garden", garden.name);
  json.value("from", iso_date(planned.plan.from));
  json.value("until", iso_date(planned.plan.until));
  json.value("unharmed", planned.plan.unharmed());
  json.begin_array("weather");
  for (Eigen::Index day = 0; day < 7; ++day) {
    json.begin_object();
    json.value("date", iso_date(planned.weather.first_day + std::chrono::days{day}));
    json.value("eto_mm", planned.weather.eto_mm[day]);
    json.value("rain_mm", planned.weather.rain_mm[day]);
    json.value("source",
               planned.weather.source[static_cast<std::size_t>(day)] == DaySource::forecast
                   ? "forecast"
                   : "recent mean");
    json.end();
  }
  json.end();
  json.begin_array("zones");
  for (std::size_t z = 0; z < planned.plan.zones.size(); ++z) {
    const ZonePlan& zone = planned.plan.zones[z];
    const ValveTimes& times = times_of(planned.plan, zone.valve);
    json.begin_object();
    json.value("zone", zone.name);
    json.value("valve", zone.valve);
    json.value("days", days_text(times));
    json.begin_array("starts");
    for (const ValveTimes::Opening& opening : times.openings) json.element(clock(opening.start));
    json.end();
    json.begin_array("runs_min");
    for (const ValveTimes::Opening& opening : times.openings)
      json.element(static_cast<double>(opening.length.count()));
    json.end();
    json.value("watering_days", zone.watering_days);
    json.value("litres", zone.gross_litres);
    json.value("gross_mm", zone.gross_mm);
    json.value("demand_mm", zone.demand_mm);
    json.value("rain_mm", zone.rain_mm);
    json.value("drained_mm", zone.drained_mm);
    json.value("evaporated_mm", zone.evaporated_mm);
    json.value("wetted_share", zone.wetted_share);
    json.value("start_depletion_mm", zone.start_depletion_mm);
    json.value("end_depletion_mm", zone.end_depletion_mm);
    json.value("limit_mm", zone.limit_mm);
    json.value("days_beyond", zone.days_beyond);
    json.value("why", why(planned.zones[z], zone));
    json.end();
  }
  json.end();
  write_shortfalls(json, planned.plan, mending);
  json.begin_array("remarks");
  for (const Finding& remark : planned.plan.remarks) json.element(to_text(remark));
  for (const Finding& finding : planned.findings) json.element(to_text(finding));
  json.end();
  json.end();
  return json.text();
}

}  // namespace runnel::cli

#include "plan_report.hpp"

#include <algorithm>
#include <cmath>

#include "advice_report.hpp"
#include "away_report.hpp"
#include "by_hand.hpp"
#include "json_writer.hpp"
#include "past_report.hpp"
#include "plan_days.hpp"
#include "runnel/units/csv.hpp"
#include "runnel/units/number.hpp"
#include "settings.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

std::string set_by_line(const Garden& garden, const Plan& plan) {
  const std::string text = set_by_text(garden, plan);
  return text.empty() ? text : text + "\n";
}

std::string weather_line(const Display& display, const AssumedWeather& weather, Eigen::Index days) {
  int forecast = 0;
  for (std::size_t day = 0; day < static_cast<std::size_t>(days); ++day)
    if (weather.source[day] == DaySource::forecast) ++forecast;
  std::string later =
      "the mean of the last " + std::to_string(weather.recent_days) + " observed days and no rain";
  if (weather.recent_days == 0)
    later = "what " + std::to_string(weather.futures()) +
            " stretches of past years had at this time, of which these are the means";
  std::string from;
  if (forecast == days) {
    from = "the forecast";
  } else if (forecast == 0) {
    from = later;
  } else {
    from = "the forecast for " + std::to_string(forecast) + " days, then " + later;
  }
  const std::string when = days == 7 ? "the week" : std::to_string(days) + " days";
  return "Reference ET " + measure(display, Shown::depth, weather.eto_mm.head(days).sum(), 1) +
         " and rain " + measure(display, Shown::depth, weather.rain_mm.head(days).sum(), 1) +
         " over " + when + ": " + from + ".";
}

std::string days_or_more(int days) {
  if (days == 0) return "less than a day";
  if (days >= outlook_days) return "over " + std::to_string(outlook_days) + " days";
  return std::to_string(days) + (days == 1 ? " day" : " days");
}

/// How long the programme will do, and how long each zone does without it.
std::string outlook_line(const Garden& garden, const GardenPlan& planned) {
  const Outlook& outlook = planned.outlook;
  std::string text = run_unchanged(planned);
  if (outlook.further) {
    text += "for eight weeks and more";
  } else {
    text += "until " + short_date(outlook.holds_until);
  }
  text += ". Should a valve fail shut, its zone is unharmed for: ";
  for (std::size_t z = 0; z < garden.zones.size(); ++z)
    text += (z > 0 ? ", " : "") + printable(garden.zones[z].name) + " " +
            days_or_more(outlook.days_if_shut[z]);
  return text + ".";
}

/// What the plan stands on without having been measured or told.
std::vector<std::string> assumptions(const Garden& garden, const GardenPlan& planned) {
  std::vector<std::string> lines;
  constexpr std::size_t most_named = 6;
  std::vector<std::string> zones;
  for (const PreparedZone& zone : planned.zones)
    if (zone.start_assumed) zones.push_back(zone.task.name);
  if (!zones.empty())
    lines.push_back("How dry the ground is on the first day: half of what it can spare (" +
                    (zones.size() > most_named ? std::to_string(zones.size()) + " zones"
                                               : printable(joined(zones))) +
                    ").");
  if (const auto guessed = not_measured(garden, planned.weather); !guessed.empty())
    lines.push_back("Not measured: " + joined(guessed) + ".");
  const auto remarks =
      std::count_if(planned.findings.begin(), planned.findings.end(),
                    [](const Finding& finding) { return finding.kind == Finding::Kind::remark; });
  lines.push_back(std::to_string(remarks) + " defaults in all: runnel check " +
                  printable(garden.file) + " lists them.");
  return lines;
}

void write_outlook(JsonWriter& json, const GardenPlan& planned) {
  json.begin_object("outlook");
  json.value("holds_until", iso_date(planned.outlook.holds_until));
  json.value("further", planned.outlook.further);
  json.value("days_looked", outlook_days);
  json.end();
}

void write_weather_sum(JsonWriter& json, const GardenPlan& planned) {
  const AssumedWeather& weather = planned.weather;
  const Eigen::Index days = days_planned(planned.plan);
  json.begin_object("weather_sum");
  json.value("eto_mm", weather.eto_mm.head(days).sum());
  json.value("rain_mm", weather.rain_mm.head(days).sum());
  json.value("futures", static_cast<int>(weather.futures()));
  json.value("recent_days", static_cast<int>(weather.recent_days));
  json.end();
}

/// What is typed, what it stands on, and the days one by one.
void write_zone_sheet(JsonWriter& json, const Garden& garden, const GardenPlan& planned,
                      std::size_t z) {
  const ZonePlan& zone = planned.plan.zones[z];
  const Setting setting = setting_of(planned.plan, garden, zone.valve);
  const Spare spare = spare_of(zone);
  json.begin_object("set");
  json.value("days", setting.days);
  json.value("starts", setting.starts);
  json.value("minutes", setting.minutes);
  if (setting.programme > 0) json.value("programme", setting.programme);
  json.end();
  if (const std::string shared = shared_valve_line(planned.plan, zone, garden.display);
      !shared.empty())
    json.value("shares_valve", shared);
  if (const std::string drains = drain_line(planned.plan, zone, garden.display); !drains.empty())
    json.value("drains", drains);
  json.value("use_l_a_day", spare.use_l_a_day);
  json.value("spare_mm", spare.mm);
  json.value("spare_l", spare.litres);
  json.value("start_assumed", planned.zones[z].start_assumed);
  json.value("days_if_shut", planned.outlook.days_if_shut[z]);
  write_days(json, planned.plan, zone_days(planned.zones[z], zone, days_planned(planned.plan)));
}

std::string by_hand_text(const Plan& plan) {
  std::string text;
  for (const HandRun& run : plan.by_hand)
    text += "  valve " + std::to_string(run.valve) + ": " + as_said_before(run) + "\n";
  return text.empty() ? text : "\nRUN ONCE BY HAND, before " + short_date(plan.from) + "\n" + text;
}

/// A number where all runs are alike.
std::string lengths_cell(const std::string& minutes) {
  return minutes.find(' ') == std::string::npos ? minutes : csv_cell(minutes);
}

}  // namespace

std::string run_unchanged(const GardenPlan& planned) {
  std::string text = planned.plan.unharmed() ? "" : "but for what falls short, ";
  if (planned.weather.futures() == 1) text += "while the weather stays as taken, ";
  text += "this programme can run unchanged ";
  text.front() = text.starts_with('b') ? 'B' : text.starts_with('w') ? 'W' : 'T';
  return text;
}

std::vector<std::string> not_measured(const Garden& garden, const AssumedWeather& weather) {
  std::vector<std::string> all;
  const auto add = [&](Estimate what, const std::string& name, const std::string& taken) {
    const Eigen::Index days = weather.days_estimated(what);
    if (days == 0) return;
    all.push_back(name + (days < weather.rows() ? " on some days (" : " (") + taken + ")");
  };
  add(Estimate::wind_assumed, "wind",
      measure(garden.display, Shown::speed, garden.weather.wind_when_unknown_m_s, 1) + " taken");
  add(Estimate::humidity_from_t_min, "humidity",
      garden.dry_air ? "dew point below the day's lowest temperature, as in dry air"
                     : "dew point at the day's lowest temperature");
  add(Estimate::radiation_from_temperature, "radiation", "from the temperature range");
  return all;
}

std::string caution_text() {
  // data/docs/cautions.md has them in full.
  return "Watch each valve run once after setting it: a timer cannot see a leak or a blocked "
         "dripper. Frost in sight: stop, and drain the lines. Local watering rules and licensed "
         "trades come before this sheet; a hose or line on drinking water needs its backflow "
         "preventer.";
}

std::string take_care_text() { return "\nTAKE CARE\n" + paragraph("  ", caution_text()); }

std::string plan_text(const Garden& garden, const GardenPlan& planned, const Mending& mending) {
  const Plan& plan = planned.plan;
  return printable(garden.name) + "\n" + "Set on the timer for " + short_date(plan.from) + " to " +
         short_date(plan.until) + " " + std::to_string(year_of(plan.until)) +
         (planned.away ? ", and leave it so" : "") + "\n" + set_by_line(garden, plan) +
         by_hand_text(plan) + "\n" + programme_text(garden, planned, mending);
}

std::string programme_text(const Garden& garden, const GardenPlan& planned,
                           const Mending& mending) {
  std::string text = settings_table(garden, planned);
  text += advice_text(garden.display, planned);
  text += past_text(garden.display, planned);
  if (planned.away) text += away_text(garden, planned, mending);
  text += "\nWEATHER TAKEN\n" + paragraph("  ", weather_line(garden.display, planned.weather,
                                                             days_planned(planned.plan)));
  if (!planned.away) {
    text += "\nIF LEFT ALONE\n" + paragraph("  ", outlook_line(garden, planned));
    text += shortfall_text(garden.display, planned.plan, mending);
  }
  text += "\nTAKEN WITHOUT KNOWING\n";
  for (const std::string& line : assumptions(garden, planned)) text += paragraph("  ", line);
  return text +
         (planned.away ? "\nTAKE CARE\n" + paragraph("  ", away_caution()) : take_care_text());
}

std::string plan_csv_heading() {
  return "valve,zone,days,starts,run_min,watering_days,litres,gross_mm,demand_mm,rain_mm,"
         "drained_mm,start_depletion_mm,end_depletion_mm,limit_mm,days_beyond,by_hand_min";
}

std::string plan_csv_row(const Garden& garden, const GardenPlan& planned, std::size_t z) {
  const ZonePlan& zone = planned.plan.zones[z];
  const Setting setting = setting_of(planned.plan, garden, zone.valve);
  std::string row = std::to_string(zone.valve) + "," + csv_cell(zone.name) + "," +
                    csv_cell(setting.days) + "," + csv_cell(setting.starts) + "," +
                    lengths_cell(setting.minutes) + "," + std::to_string(zone.watering_days);
  for (const double value :
       {zone.gross_litres, zone.gross_mm, zone.demand_mm, zone.rain_mm, zone.drained_mm,
        zone.start_depletion_mm, zone.end_depletion_mm, zone.limit_mm})
    row += "," + shortest(value);
  return row + "," + std::to_string(zone.days_beyond) + "," +
         std::to_string(planned.plan.by_hand_min(zone.valve)) + away_csv_cells(planned, z);
}

std::string plan_csv(const Garden& garden, const GardenPlan& planned) {
  std::string text = plan_csv_heading() + away_csv_heading(planned) + "\n";
  for (std::size_t z = 0; z < planned.plan.zones.size(); ++z)
    text += plan_csv_row(garden, planned, z) + "\n";
  return text;
}

void write_plan(JsonWriter& json, const Garden& garden, const GardenPlan& planned,
                const Mending& mending) {
  json.value("garden", garden.name);
  json.value("from", iso_date(planned.plan.from));
  json.value("until", iso_date(planned.plan.until));
  if (const std::string set_by = set_by_text(garden, planned.plan); !set_by.empty())
    json.value("set_by", set_by);
  json.value("unharmed", planned.plan.unharmed());
  json.value("litres", planned_litres(planned.plan));
  json.value("timer_percentage", garden.timer.percentage);
  write_outlook(json, planned);
  write_weather_sum(json, planned);
  json.begin_array("not_measured");
  for (const std::string& guess : not_measured(garden, planned.weather)) json.element(guess);
  json.end();
  write_by_hand(json, planned.plan);
  write_runs(json, planned.plan);
  json.begin_array("weather");
  for (Eigen::Index day = 0; day < days_planned(planned.plan); ++day) {
    json.begin_object();
    json.value("date", iso_date(planned.weather.first_day + std::chrono::days{day}));
    json.value("eto_mm", planned.weather.eto_mm[day]);
    json.value("rain_mm", planned.weather.rain_mm[day]);
    json.value("source", to_text(planned.weather.source[static_cast<std::size_t>(day)]));
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
    json.value("days", setting_of(planned.plan, garden, zone.valve).days);
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
    json.value("why", why(planned.zones[z], zone, garden.display));
    write_zone_sheet(json, garden, planned, z);
    json.end();
  }
  json.end();
  write_advice(json, planned);
  write_past(json, planned);
  write_away(json, planned);
  write_shortfalls(json, planned, mending);
  json.begin_array("remarks");
  for (const Finding& remark : shortfalls(planned.plan, garden.display))
    json.element(to_text(remark));
  for (const Finding& finding : planned.findings) json.element(to_text(finding));
  json.end();
}

std::string plan_json(const Garden& garden, const GardenPlan& planned, const Mending& mending) {
  JsonWriter json;
  json.begin_object();
  write_plan(json, garden, planned, mending);
  json.end();
  return json.text();
}

}  // namespace runnel::cli

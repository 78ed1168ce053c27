#include "compare_report.hpp"

#include <algorithm>
#include <cmath>

#include "json_writer.hpp"
#include "runnel/units/csv.hpp"
#include "runnel/units/number.hpp"
#include "text_table.hpp"
#include "zone_use.hpp"

namespace runnel::cli {
namespace {

constexpr Eigen::Index week = zone_use_days;

std::string lasts_text(const ZoneUse& use) {
  const double days = use.lasts_days();
  if (!(days < 100.0)) return "over 99 d";
  return fixed(days, days < 10.0 ? 1 : 0) + " d";
}

constexpr int bar_width = 15;

std::string bar(double value, double most) {
  std::string marks;
  if (most > 0.0)
    marks.assign(static_cast<std::size_t>(std::lround(bar_width * value / most)), '#');
  return marks;
}

std::string zone_table(const Display& display, const std::vector<ZoneUse>& all,
                       const Column& eto_mm) {
  const bool us = display.units == UnitSystem::us;
  double most_mm = 0.0;
  for (const ZoneUse& use : all) most_mm = std::max(most_mm, use.mm_a_day());
  const TextTable table({{"ZONE", us ? 19 : 20},
                         {"EXPOS.", 6, true},
                         {"COEFF.", 6, true},
                         {us ? "IN/DAY" : "MM/DAY", 6, true},
                         {us ? "GAL/DAY" : "L/DAY", us ? 7 : 6, true},
                         {"LASTS", 9, true},
                         {us ? "IN/DAY" : "MM/DAY", bar_width}});
  std::string text = table.heading();
  for (const ZoneUse& use : all)
    text += table.row({use.zone->task.name, fixed(mean_factor(use.exposure, eto_mm), 2),
                       fixed(mean_factor(use.coefficient, eto_mm * use.exposure), 2),
                       number(display, Shown::depth, use.mm_a_day(), 1),
                       number(display, Shown::volume, use.litres.mean(), 0), lasts_text(use),
                       bar(use.mm_a_day(), most_mm)});
  return text;
}

std::string day_table(const Display& display, const std::vector<ZoneUse>& all, const Column& eto_mm,
                      Date from) {
  std::vector<TextTable::Heading> headings{{"ZONE", 20}};
  for (Eigen::Index day = 0; day < week; ++day)
    headings.push_back(
        {std::string(weekday_name(weekday_index(from + std::chrono::days{day}))), 5, true});
  headings.push_back({"WEEK", 6, true});
  const TextTable table(std::move(headings));
  std::string text = table.heading();
  const auto row = [&](const std::string& name, const Column& mm) {
    std::vector<std::string> cells{name};
    for (Eigen::Index day = 0; day < week; ++day)
      cells.push_back(number(display, Shown::depth, mm[day], 1));
    cells.push_back(number(display, Shown::depth, mm.sum(), 1));
    text += table.row(cells);
  };
  row("reference ET", eto_mm);
  for (const ZoneUse& use : all) row(use.zone->task.name, use.mm);
  return text;
}

void write_days(JsonWriter& json, std::string_view key, const Column& values) {
  json.begin_array(key);
  for (const double value : values) json.element(value);
  json.end();
}

}  // namespace

std::string compare_text(const Garden& garden, const GardenPlan& planned) {
  const std::vector<ZoneUse> all = zone_uses(planned);
  const Column eto_mm = planned.weather.eto_mm.head(week);
  const Date from = planned.weather.first_day;
  const Display& display = garden.display;
  std::string text = printable(garden.name) + "\nWhat each zone uses, " + short_date(from) +
                     " to " + short_date(from + std::chrono::days{week - 1}) + " " +
                     std::to_string(year_of(from)) + "\nOpen ground: reference ET " +
                     measure(display, Shown::depth, eto_mm.sum(), 1) + " over the week, " +
                     measure(display, Shown::depth, eto_mm.mean(), 1) + " a day\n\n";
  text += zone_table(display, all, eto_mm);
  double litres = 0.0;
  for (const ZoneUse& use : all) litres += use.litres.sum();
  text += "\nAll zones use " + measure(display, Shown::volume, litres, 0) +
          " in the week, before uneven watering and leaching.\n"
          "LASTS: days until a full root zone or pot must be watered again.\n"
          "\nDAY BY DAY, " +
          std::string(unit_shown(display, Shown::depth)) + "\n";
  return text + day_table(display, all, eto_mm, from);
}

std::string compare_csv(const GardenPlan& planned) {
  std::string text = "date,zone,eto_mm,exposure_factor,coefficient,demand_mm,demand_l,lasts_days\n";
  for (const ZoneUse& use : zone_uses(planned)) {
    for (Eigen::Index day = 0; day < week; ++day) {
      text += iso_date(planned.weather.first_day + std::chrono::days{day}) + "," +
              csv_cell(use.zone->task.name);
      for (const double value :
           {planned.weather.eto_mm[day], use.exposure[day], use.coefficient[day], use.mm[day],
            use.litres[day], use.lasts_days()})
        text += std::isfinite(value) ? "," + shortest(value) : ",";
      text += "\n";
    }
  }
  return text;
}

std::string compare_json(const Garden& garden, const GardenPlan& planned) {
  const Column eto_mm = planned.weather.eto_mm.head(week);
  const std::vector<ZoneUse> all = zone_uses(planned);
  JsonWriter json;
  json.begin_object();
  json.value("garden", garden.name);
  json.value("from", iso_date(planned.weather.first_day));
  json.value("eto_mm", eto_mm.sum());
  json.value("eto_mm_a_day", eto_mm.mean());
  write_days(json, "eto_mm_by_day", eto_mm);
  json.value("demand_l_a_day", litres_a_day(all));
  json.begin_array("zones");
  for (const ZoneUse& use : all) {
    json.begin_object();
    json.value("zone", use.zone->task.name);
    json.value("valve", use.zone->task.valve);
    json.value("exposure_factor", mean_factor(use.exposure, eto_mm));
    json.value("coefficient", mean_factor(use.coefficient, eto_mm * use.exposure));
    json.value("demand_mm", use.mm.sum());
    json.value("demand_l", use.litres.sum());
    if (std::isfinite(use.lasts_days())) json.value("lasts_days", use.lasts_days());
    json.value("demand_mm_a_day", use.mm_a_day());
    json.value("demand_l_a_day", use.litres.mean());
    write_days(json, "demand_mm_by_day", use.mm);
    write_days(json, "demand_l_by_day", use.litres);
    json.end();
  }
  json.end();
  json.end();
  return json.text();
}

}  // namespace runnel::cli

#include <algorithm>
#include <cmath>
#include <ostream>

#include "commands.hpp"
#include "csv_cell.hpp"
#include "json_writer.hpp"
#include "print.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/garden/plan_garden.hpp"
#include "runnel/units/number.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

constexpr Eigen::Index week = 7;

struct Demand {
  const PreparedZone* zone;
  Column mm, litres;  // [week]
};

std::vector<Demand> demands(const std::vector<PreparedZone>& zones) {
  std::vector<Demand> all;
  all.reserve(zones.size());
  for (const PreparedZone& zone : zones)
    all.push_back({.zone = &zone,
                   .mm = zone.demand_mm.head(week),
                   .litres = zone.demand_mm.head(week) * zone.task.delivery.area.m2()});
  return all;
}

std::string bar(double value, double most) {
  std::string marks;
  if (most > 0.0) marks.assign(static_cast<std::size_t>(std::lround(20.0 * value / most)), '#');
  return marks;
}

std::string compare_text(const Garden& garden, const AssumedWeather& weather,
                         const std::vector<Demand>& all) {
  std::string text = printable(garden.name) + "\nWhat each zone uses, " +
                     short_date(weather.first_day) + " to " +
                     short_date(weather.first_day + std::chrono::days{week - 1}) + " " +
                     std::to_string(year_of(weather.first_day)) + "\n\n";
  double most_mm = 0.0;
  for (const Demand& demand : all) most_mm = std::max(most_mm, demand.mm.sum());
  const TextTable table({{"ZONE", 20},
                         {"EXPOS.", 6, true},
                         {"COEFF.", 6, true},
                         {"MM", 6, true},
                         {"LITRES", 7, true},
                         {"DEPTH IN THE WEEK", 20}});
  text += table.heading();
  for (const Demand& demand : all)
    text += table.row({demand.zone->task.name, fixed(demand.zone->exposure_factor, 2),
                       fixed(demand.zone->kc.head(week).mean(), 2), fixed(demand.mm.sum(), 1),
                       fixed(demand.litres.sum(), 0), bar(demand.mm.sum(), most_mm)});
  text += "\nMillimetres a day (open ground: reference ET " +
          fixed(weather.eto_mm.head(week).sum(), 1) + " mm in the week)\n";
  std::vector<TextTable::Heading> headings{{"ZONE", 20}};
  for (Eigen::Index day = 0; day < week; ++day)
    headings.push_back(
        {std::string(weekday_name(weekday_index(weather.first_day + std::chrono::days{day}))), 6,
         true});
  const TextTable days(std::move(headings));
  text += days.heading();
  const auto row = [&](const std::string& name, const Column& mm) {
    std::vector<std::string> cells{name};
    for (Eigen::Index day = 0; day < week; ++day) cells.push_back(fixed(mm[day], 1));
    text += days.row(cells);
  };
  row("reference ET", weather.eto_mm);
  for (const Demand& demand : all) row(demand.zone->task.name, demand.mm);
  return text;
}

std::string compare_csv(const AssumedWeather& weather, const std::vector<Demand>& all) {
  std::string text = "date,zone,eto_mm,exposure_factor,coefficient,demand_mm,demand_l\n";
  for (const Demand& demand : all) {
    for (Eigen::Index day = 0; day < week; ++day) {
      text += iso_date(weather.first_day + std::chrono::days{day}) + "," +
              csv_cell(demand.zone->task.name);
      for (const double value : {weather.eto_mm[day], demand.zone->exposure[day],
                                 demand.zone->kc[day], demand.mm[day], demand.litres[day]})
        text += "," + shortest(value);
      text += "\n";
    }
  }
  return text;
}

std::string compare_json(const Garden& garden, const AssumedWeather& weather,
                         const std::vector<Demand>& all) {
  JsonWriter json;
  json.begin_object();
  json.value("garden", garden.name);
  json.value("from", iso_date(weather.first_day));
  json.value("eto_mm", weather.eto_mm.head(week).sum());
  json.begin_array("zones");
  for (const Demand& demand : all) {
    json.begin_object();
    json.value("zone", demand.zone->task.name);
    json.value("exposure_factor", demand.zone->exposure_factor);
    json.value("coefficient", demand.zone->kc.head(week).mean());
    json.value("demand_mm", demand.mm.sum());
    json.value("demand_l", demand.litres.sum());
    json.begin_array("demand_mm_by_day");
    for (Eigen::Index day = 0; day < week; ++day) json.element(demand.mm[day]);
    json.end();
    json.end();
  }
  json.end();
  json.end();
  return json.text();
}

}  // namespace

int compare(const CompareOptions& options, const Streams& streams) {
  std::vector<Finding> findings;
  const Garden garden =
      value_or_throw(read_garden(read_file(options.garden), options.garden), findings);
  const PreparedGarden prepared = prepare_garden(garden, options.from, findings);
  const std::vector<Demand> all = demands(prepared.zones);
  if (options.format == "csv") {
    streams.out << compare_csv(prepared.weather, all);
  } else if (options.format == "json") {
    streams.out << compare_json(garden, prepared.weather, all);
  } else {
    streams.out << compare_text(garden, prepared.weather, all);
  }
  print_doubts(findings, streams.err);
  return done;
}

}  // namespace runnel::cli

#include "away_report.hpp"

#include <algorithm>
#include <utility>

#include "runnel/units/number.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

constexpr std::size_t most_shown = 5;

std::string count(int n, const std::string& one, const std::string& many) {
  return std::to_string(n) + " " + (n == 1 ? one : many);
}

std::string out_of(int futures, int beyond) {
  return std::to_string(futures - beyond) + " of " + std::to_string(futures);
}

std::string days_if_shut(int days) {
  if (days == 0) return "under a day";
  return days >= outlook_days ? "over " + std::to_string(outlook_days) + " days"
                              : count(days, "day", "days");
}

std::string harm_cell(const ZonePlan& zone) {
  return zone.first_beyond ? short_date(*zone.first_beyond) : "-";
}

/// Zone by zone; where no chance can be given, whether the weather taken harms it.
std::string chances(const GardenPlan& planned) {
  const Away& away = *planned.away;
  const bool counted = away.record_years > 0;
  const TextTable table{{{"ZONE", 24},
                         {counted ? "CHANCE" : "UNHARMED", 8, true},
                         {counted ? "FUTURES" : "", 9, true},
                         {"HARM LIKELY", 11},
                         {"VALVE SHUT", 12}}};
  std::string text = "  " + table.heading();
  const auto row = [&](const std::string& name, int beyond, const std::string& harm,
                       const std::string& shut) {
    const std::string chance =
        counted ? chance_text(away.futures, beyond) : (beyond == 0 ? "yes" : "no");
    text +=
        "  " + table.row({name, chance, counted ? out_of(away.futures, beyond) : "", harm, shut});
  };
  for (std::size_t z = 0; z < planned.plan.zones.size(); ++z) {
    const ZonePlan& zone = planned.plan.zones[z];
    row(zone.name, zone.futures_beyond, harm_cell(zone),
        days_if_shut(planned.outlook.days_if_shut[z]));
  }
  if (planned.plan.zones.size() > 1)
    row("all of them", away.futures - away.unharmed_futures, "", "");
  return text;
}

std::string how_counted(const Garden& garden, const GardenPlan& planned) {
  const Away& away = *planned.away;
  const std::string through = "no zone beyond what it can spare on any day through " +
                              short_date(planned.plan.until + std::chrono::days{1}) +
                              ", when you are home";
  const std::string shut =
      " VALVE SHUT: how long a zone lasts should its valve fail shut on the first day.";
  // Of so many years and the next, all alike, each is as likely the worst.
  if (away.record_years > 0)
    return "CHANCE: " + through + ", counted over " + std::to_string(away.futures) +
           " stretches of weather that " + count(away.record_years, "past year", "past years") +
           " had at this time. A summer worse than all of these, to be expected once in " +
           std::to_string(away.record_years + 1) +
           " years, is not among them. HARM LIKELY: when more of them are harmed than the risk "
           "stated allows." +
           shut;
  return "NO CHANCE CAN BE GIVEN: only one course of the weather is known, that below, and dry or "
         "hot spells come otherwise. To have one, " +
         how_to_have_a_chance(garden, planned.weather) + ". UNHARMED: " + through +
         ", should the weather be just that." + shut;
}

std::string rain_text(const Display& display, const GardenPlan& planned) {
  const Away& away = *planned.away;
  const auto volume = [&display](double litres) {
    return measure(display, Shown::volume, litres, 0);
  };
  double brought_l = 0.0;
  double needless_l = 0.0;
  std::string by_zone;
  for (std::size_t z = 0; z < away.zones.size(); ++z) {
    brought_l += away.zones[z].brought_l;
    needless_l += away.zones[z].needless_l;
    if (away.zones[z].needless_l >= 0.5)
      by_zone += (by_zone.empty() ? "" : ", ") + printable(planned.plan.zones[z].name) + " " +
                 volume(away.zones[z].needless_l);
  }
  const std::string brought = "The timer brings " + volume(brought_l) + " in " +
                              count(away.days, "day", "days") + " and does not see rain. ";
  if (by_zone.empty()) return brought + "None of it drains away for rain in the weather taken.";
  return brought + "On the mean of the futures " + volume(needless_l) + " (" +
         fixed(100.0 * needless_l / brought_l, 0) +
         " %) drain away that someone who left out each watering rain had made needless would "
         "save: " +
         by_zone + ".";
}

/// "pots 71 % -> 95 %" for each zone whose chance changes.
std::string effect(const GardenPlan& planned, const ChanceRaised& raised) {
  const int futures = planned.away->futures;
  const bool counted = planned.away->record_years > 0;
  std::string text;
  for (std::size_t z = 0; z < planned.plan.zones.size(); ++z) {
    const ZonePlan& zone = planned.plan.zones[z];
    const int then = raised.futures_beyond[z];
    if (then == zone.futures_beyond) continue;
    text += (text.empty() ? "" : ", ") + printable(zone.name) + " ";
    text += counted
                ? chance_text(futures, zone.futures_beyond) + " -> " + chance_text(futures, then)
                : std::string(then == 0 ? "unharmed" : "harmed");
  }
  return text;
}

int worst(const RaisedChance& raised) {
  const std::vector<int>& beyond = raised.chance.futures_beyond;
  return *std::max_element(beyond.begin(), beyond.end());
}

std::string raised_text(const Display& display, const GardenPlan& planned, const Mending& mending) {
  const std::vector<RaisedChance> raised = all_that_raise(planned, mending);
  if (raised.empty()) return {};
  std::string text = "\nWOULD RAISE THE CHANCE\n";
  for (std::size_t i = 0; i < std::min(most_shown, raised.size()); ++i)
    text += paragraph("  " + std::to_string(i + 1) + ". ", "     ",
                      printable(raised[i].chance.does) + ": " + effect(planned, raised[i].chance) +
                          "; " + measure(display, Shown::volume, raised[i].chance.litres, 0) +
                          " in all.");
  return text;
}

std::string shortfall(const Display& display, const ZonePlan& zone) {
  return printable(zone.name) + ": likely from " + short_date(*zone.first_beyond) +
         "; in the worst future but those that the risk allows " +
         some(display, Shown::depth, zone.beyond_mm_a_day(), 1) + " too dry on " +
         std::to_string(zone.days_beyond) + " of " + std::to_string(zone.days_judged) +
         " days; can spare " + measure(display, Shown::depth, zone.limit_mm, 1) + ".";
}

std::string at_risk_text(const Display& display, const GardenPlan& planned,
                         const Mending& mending) {
  if (planned.plan.unharmed()) return {};
  std::string text = "\nMORE AT RISK THAN STATED\n";
  for (const ZonePlan& zone : planned.plan.zones)
    if (zone.days_beyond > 0) text += paragraph("  ", shortfall(display, zone));
  for (const Finding& rule : mending.binding_rules)
    text += paragraph("  ", "Line " + std::to_string(rule.at.line) + ", " + rule.says + ".");
  return text + paragraph("  ", "Have someone look after them by hand, or change something.");
}

std::string frost_text(const Display& display, const Away& away) {
  if (away.frosty_futures == 0) return {};
  return "\n" +
         paragraph("  ", "FROST: " + out_of(away.futures, away.futures - away.frosty_futures) +
                             " futures go down to " +
                             measure(display, Shown::temperature, frost_caution_c, 0) +
                             " or less while you are away. Leave no water in lines, timer and "
                             "backflow preventer that would freeze: have someone shut the tap and "
                             "drain them before such a night.");
}

std::string still_holds(const GardenPlan& planned) {
  const Outlook& outlook = planned.outlook;
  if (!planned.plan.unharmed()) return {};
  if (outlook.further)
    return paragraph("  ",
                     "Should you come back later: it can run unchanged for eight weeks and more.");
  if (outlook.holds_until <= planned.plan.until + std::chrono::days{1}) return {};
  return paragraph("  ", "Should you come back later: it can run unchanged until " +
                             short_date(outlook.holds_until) + ".");
}

void write_zone(JsonWriter& json, const GardenPlan& planned, std::size_t z) {
  const Away& away = *planned.away;
  const ZonePlan& zone = planned.plan.zones[z];
  json.begin_object();
  json.value("zone", zone.name);
  if (away.record_years > 0) {
    json.value("chance", 1.0 - static_cast<double>(zone.futures_beyond) / zone.futures);
    json.value("chance_percent", chance_percent(zone.futures, zone.futures_beyond));
  }
  json.value("futures_unharmed", zone.futures - zone.futures_beyond);
  if (zone.first_beyond) json.value("first_harm", iso_date(*zone.first_beyond));
  json.value("days_if_shut", planned.outlook.days_if_shut[z]);
  json.value("litres", away.zones[z].brought_l);
  json.value("needless_litres", away.zones[z].needless_l);
  json.end();
}

}  // namespace

std::vector<RaisedChance> all_that_raise(const GardenPlan& planned, const Mending& mending) {
  std::vector<RaisedChance> all;
  for (std::size_t i = 0; i < planned.away->raised.size(); ++i)
    all.push_back({.chance = planned.away->raised[i], .list = "away/would_raise", .index = i});
  for (std::size_t i = 0; i < mending.remedies.size(); ++i) {
    const Remedy& remedy = mending.remedies[i];
    ChanceRaised chance{
        .does = remedy.does, .futures_beyond = {}, .litres = planned_litres(remedy.plan)};
    for (const ZonePlan& zone : remedy.plan.zones)
      chance.futures_beyond.push_back(zone.futures_beyond);
    chance.futures_beyond.resize(planned.plan.zones.size());
    all.push_back({.chance = std::move(chance), .list = "remedies", .index = i});
  }
  std::erase_if(all, [&planned](const RaisedChance& raised) {
    for (std::size_t z = 0; z < planned.plan.zones.size(); ++z)
      if (raised.chance.futures_beyond[z] < planned.plan.zones[z].futures_beyond) return false;
    return true;
  });
  std::stable_sort(all.begin(), all.end(), [](const RaisedChance& a, const RaisedChance& b) {
    return worst(a) < worst(b);
  });
  return all;
}

std::string how_to_have_a_chance(const Garden& garden, const AssumedWeather& weather) {
  if (!garden.weather.record)
    return "name a file of past years, ten or more if you can, in the garden file, under weather: "
           "record: FILE";
  if (weather.source.back() == DaySource::forecast)
    return "keep in the forecast only the days you trust: it reaches through all of the absence";
  return "give past years that hold all of these days";
}

int chance_percent(int futures, int beyond) { return 100 * (futures - beyond) / futures; }

std::string chance_text(int futures, int beyond) {
  return std::to_string(chance_percent(futures, beyond)) + " %";
}

std::string away_text(const Garden& garden, const GardenPlan& planned, const Mending& mending) {
  std::string text = "\nWHILE YOU ARE AWAY, " + count(planned.away->days, "day", "days") + "\n" +
                     chances(planned) + "\n" + paragraph("  ", how_counted(garden, planned)) +
                     still_holds(planned);
  text += at_risk_text(garden.display, planned, mending) +
          raised_text(garden.display, planned, mending);
  text += "\nRAIN THE TIMER DOES NOT SEE\n" + paragraph("  ", rain_text(garden.display, planned));
  return text + frost_text(garden.display, *planned.away);
}

const char* away_caution() {
  return "A hose or push-fitted line that is always under pressure can part and flood while nobody "
         "is there. Watch one whole watering of every valve before you leave; new batteries in the "
         "timer; a shut-off that closes by itself where there is one. Show someone the tap: close "
         "it when there is a leak, and look at the pots once a week. Frost in sight: shut the tap, "
         "and drain the lines. Local rules come before this sheet, as do drought orders made while "
         "you are away, and licensed trades; a hose or line on drinking water needs its backflow "
         "preventer.";
}

std::string away_csv_heading(const GardenPlan& planned) {
  return planned.away ? ",futures,futures_unharmed,first_harm,days_if_shut,away_litres,"
                        "needless_litres"
                      : "";
}

std::string away_csv_cells(const GardenPlan& planned, std::size_t z) {
  if (!planned.away) return {};
  const ZonePlan& zone = planned.plan.zones[z];
  return "," + std::to_string(zone.futures) + "," +
         std::to_string(zone.futures - zone.futures_beyond) + "," +
         (zone.first_beyond ? iso_date(*zone.first_beyond) : "") + "," +
         std::to_string(planned.outlook.days_if_shut[z]) + "," +
         shortest(planned.away->zones[z].brought_l) + "," +
         shortest(planned.away->zones[z].needless_l);
}

void write_away(JsonWriter& json, const GardenPlan& planned) {
  if (!planned.away) return;
  const Away& away = *planned.away;
  json.begin_object("away");
  json.value("days", away.days);
  json.value("futures", away.futures);
  json.value("record_years", away.record_years);
  json.value("futures_unharmed", away.unharmed_futures);
  json.value("futures_with_frost", away.frosty_futures);
  json.begin_array("zones");
  for (std::size_t z = 0; z < away.zones.size(); ++z) write_zone(json, planned, z);
  json.end();
  json.begin_array("would_raise");
  for (const ChanceRaised& raised : away.raised) {
    json.begin_object();
    json.value("does", raised.does);
    json.begin_array("futures_unharmed");
    for (const int beyond : raised.futures_beyond)
      json.element(static_cast<double>(away.futures - beyond));
    json.end();
    json.value("litres", raised.litres);
    json.end();
  }
  json.end();
  json.end();
}

}  // namespace runnel::cli

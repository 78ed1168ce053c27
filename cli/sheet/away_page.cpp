#include "sheet/away_page.hpp"

#include <algorithm>
#include <vector>

#include "away_report.hpp"
#include "plan_days.hpp"
#include "sheet/by_hand_section.hpp"
#include "sheet/html.hpp"
#include "sheet/notes.hpp"
#include "sheet/page.hpp"
#include "sheet/settings_section.hpp"
#include "sheet/water_section.hpp"
#include "sheet/week_picture.hpp"

namespace runnel::cli {
namespace {

using namespace sheet;

constexpr Eigen::Index most_days_drawn = 14;  // one by one, when each valve runs

std::string futures_text(const Away& away) {
  return figure("/away/futures", away.futures, 0) + " futures";
}

std::string at_zone(std::size_t z, std::string_view key) { return pointer("away/zones", z, key); }

std::string zone_row(const GardenPlan& planned, std::size_t z) {
  const ZonePlan& zone = planned.plan.zones[z];
  std::string text = "<tr><th scope=\"row\"><span class=\"lid small\">" +
                     figure(pointer("zones", z, "valve"), zone.valve, 0) + "</span> " +
                     own_words(zone.name) + "</th>";
  if (planned.away->record_years > 0) {
    text +=
        "<td class=\"sum\">" +
        figure(at_zone(z, "chance_percent"), chance_percent(zone.futures, zone.futures_beyond), 0) +
        " %</td><td>" +
        figure(at_zone(z, "futures_unharmed"), zone.futures - zone.futures_beyond, 0) + "</td>";
  } else {
    text += std::string("<td class=\"sum\">") + (zone.futures_beyond == 0 ? "yes" : "no") + "</td>";
  }
  return text + "<td>" + (zone.first_beyond ? day(*zone.first_beyond) : std::string("-")) +
         "</td></tr>\n";
}

std::string how_counted(const Garden& garden, const GardenPlan& planned) {
  const Away& away = *planned.away;
  const std::string home = day(planned.plan.until + std::chrono::days{1});
  const std::string through =
      "no zone beyond what it can spare on any day through " + home + ", when you are home";
  if (away.record_years == 0)
    return "No chance can be given: only one course of the weather is known, and dry or hot spells "
           "come otherwise. To have one, " +
           escaped(how_to_have_a_chance(garden, planned.weather)) + ". Unharmed: " + through +
           ", should the weather be just that.";
  return "Chance: " + through + ", counted over " + futures_text(away) +
         " that begin at this time in " + figure("/away/record_years", away.record_years, 0) +
         (away.record_years == 1 ? " past year" : " past years") +
         ". A summer worse than all of these is not among them. Harm likely: when more of them are "
         "harmed than the risk stated allows.";
}

std::string chance_content(const Garden& garden, const GardenPlan& planned) {
  const bool counted = planned.away->record_years > 0;
  std::string rows;
  for (std::size_t z = 0; z < planned.plan.zones.size(); ++z) rows += zone_row(planned, z);
  const std::string caption =
      counted
          ? "Of " + futures_text(*planned.away) + ", those in which a zone is unharmed on all days"
          : std::string("Whether a zone is unharmed on all days in the weather taken");
  return "<table class=\"figures chances\">\n<caption>" + caption +
         "</caption>\n<thead>\n<tr><th "
         "scope=\"col\">Zone</th><th scope=\"col\">" +
         (counted ? "Chance</th><th scope=\"col\">Futures" : "Unharmed") +
         "</th><th scope=\"col\">Harm likely</th></tr>\n</thead>\n<tbody>\n" + rows +
         "</tbody>\n</table>\n<p>" + how_counted(garden, planned) + "</p>\n";
}

std::string risk_content(const Display& display, const Plan& plan, const Mending& mending) {
  std::string items;
  std::size_t index = 0;
  for (const ZonePlan& zone : plan.zones) {
    if (zone.days_beyond == 0) continue;
    const auto at = [index](std::string_view key) { return pointer("shortfalls", index, key); };
    items +=
        "<li>" + own_words(zone.name) + ": likely from " + day(*zone.first_beyond) +
        "; in the worst future but those that the risk allows " +
        some_with_unit(display, Shown::depth, at("beyond_mm_a_day"), zone.beyond_mm_a_day(), 1) +
        " too dry on " + figure(at("days_beyond"), zone.days_beyond, 0) +
        (zone.days_beyond == 1 ? " day" : " days") + "; can spare " +
        with_unit(display, Shown::depth, at("limit_mm"), zone.limit_mm, 1) + ".</li>\n";
    ++index;
  }
  return items.empty() ? items
                       : "<ul>\n" + items + binding_items(mending) +
                             "</ul>\n<p>Have someone look after them by hand, or change "
                             "something.</p>\n";
}

/// "pots 29 to 64" for each zone that more futures leave unharmed.
std::string effect(const GardenPlan& planned, const RaisedChance& raised) {
  const std::string after = pointer(raised.list, raised.index, "futures_unharmed");
  std::string text;
  for (std::size_t z = 0; z < planned.plan.zones.size(); ++z) {
    const ZonePlan& zone = planned.plan.zones[z];
    const int then = raised.chance.futures_beyond[z];
    if (then == zone.futures_beyond) continue;
    text += (text.empty() ? "" : ", ") + own_words(zone.name) + " " +
            figure(at_zone(z, "futures_unharmed"), zone.futures - zone.futures_beyond, 0) + " to " +
            figure(after + "/" + std::to_string(z), zone.futures - then, 0);
  }
  return text;
}

std::string raised_content(const Display& display, const GardenPlan& planned,
                           const Mending& mending) {
  constexpr std::size_t most = 5;
  std::vector<RaisedChance> all = all_that_raise(planned, mending);
  if (all.empty()) return {};
  all.resize(std::min(most, all.size()));
  std::string items;
  for (const RaisedChance& raised : all)
    items += "<li>" + words(pointer(raised.list, raised.index, "does"), raised.chance.does) + ": " +
             effect(planned, raised) + "; " +
             with_unit(display, Shown::volume, pointer(raised.list, raised.index, "litres"),
                       raised.chance.litres, 0) +
             " in all.</li>\n";
  return "<p>Of " + futures_text(*planned.away) + " so many unharmed:</p>\n<ol>\n" + items +
         "</ol>\n";
}

std::string rain_content(const Display& display, const GardenPlan& planned) {
  std::string zones;
  for (std::size_t z = 0; z < planned.away->zones.size(); ++z)
    if (const double litres = planned.away->zones[z].needless_l; litres >= 0.5)
      zones += (zones.empty() ? "" : ", ") + own_words(planned.plan.zones[z].name) + " " +
               with_unit(display, Shown::volume, at_zone(z, "needless_litres"), litres, 0);
  return "<p>The timer brings " +
         with_unit(display, Shown::volume, "/litres", planned_litres(planned.plan), 0) +
         " and does not see rain. " +
         (zones.empty() ? "None of it drains away for rain in the weather taken."
                        : "On the mean of the futures so much of it drains away that someone who "
                          "left out each watering rain had made needless would save: " +
                              zones + ".") +
         "</p>\n";
}

std::string frost_content(const Away& away) {
  if (away.frosty_futures == 0) return {};
  return "<p>" + figure("/away/futures_with_frost", away.frosty_futures, 0) + " of " +
         futures_text(away) +
         " bring frost while you are away. Leave no water in lines, timer and backflow preventer "
         "that would freeze: have someone shut the tap and drain them before such a night.</p>\n";
}

std::string when_content(const Display& display, const GardenPlan& planned) {
  if (days_planned(planned.plan) > most_days_drawn) return {};
  const std::string picture = week_picture(display, planned);
  return picture.empty() ? picture : "<figure>\n" + picture + "</figure>\n";
}

std::string header(const Garden& garden, const Plan& plan) {
  return "<header>\n<h1>" + own_words(garden.name) + "</h1>\n<p>Watering from " + day(plan.from) +
         " to " + day(plan.until) + " <time>" + std::to_string(year_of(plan.until)) + "</time>, " +
         figure("/away/days", static_cast<double>(days_planned(plan)), 0) +
         " days on which nobody touches the timer</p>\n" +
         (plan.unharmed() ? ""
                          : "<p class=\"alarm\"><strong>More at risk than stated:</strong> see <a "
                            "href=\"#short-heading\">which zones</a>.</p>\n") +
         "</header>\n";
}

}  // namespace

std::string away_html(const Garden& garden, const GardenPlan& planned, const Mending& mending) {
  const Plan& plan = planned.plan;
  const Display& display = garden.display;
  std::string body = header(garden, plan) + "<main>\n";
  body +=
      section("settings", "Set on the timer, and leave it so", settings_content(garden, planned));
  body += section("by-hand", "Run once by hand", by_hand_content(display, plan));
  body += section("chance", "While you are away", chance_content(garden, planned));
  if (!plan.unharmed())
    body += "<div class=\"faults\">\n" +
            section("short", "More at risk than stated", risk_content(display, plan, mending)) +
            section("mend", "Would raise the chance", raised_content(display, planned, mending)) +
            "</div>\n";
  body += section("advice", "Advice", advice_content(display, planned));
  body += section("frost", "Frost", frost_content(*planned.away));
  body += section("when", "When each valve runs", when_content(display, planned));
  body += section("water", "Water within reach of the roots", water_content(display, planned));
  body += "<div class=\"notes\">\n";
  body += section("rain", "Rain the timer does not see", rain_content(display, planned));
  body += section("weather", "Weather taken", weather_content(display, planned));
  body += closing_sections(garden, planned) + "</div>\n</main>\n";
  return page(garden.name + ": away from " + short_date(plan.from), body,
              {.zones = plan.zones.size(), .crowded = true});
}

}  // namespace runnel::cli

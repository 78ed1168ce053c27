#include "sheet/notes.hpp"

#include <algorithm>

#include "away_report.hpp"
#include "plan_days.hpp"
#include "plan_report.hpp"
#include "sheet/html.hpp"
#include "sheet/page.hpp"
#include "text_table.hpp"

namespace runnel::cli::sheet {
namespace {

std::string paragraph(const std::string& html) { return "<p>" + html + "</p>\n"; }
std::string item(const std::string& html) { return "<li>" + html + "</li>\n"; }
std::string list(const std::string& items) {
  return items.empty() ? items : "<ul>\n" + items + "</ul>\n";
}

std::string frost_text(const Display& display, const std::vector<FrostDay>& frost) {
  std::string text = "<strong>Frost</strong> by the forecast: ";
  for (std::size_t i = 0; i < frost.size(); ++i)
    text += (i > 0 ? ", " : "") + day(frost[i].date) + " " +
            with_unit(display, Shown::temperature, pointer("advice", i, "lowest_c"),
                      frost[i].lowest_c, 1);
  return text +
         ". Stop the water and drain the lines before it: water on paving is ice, and a full line "
         "or backflow preventer bursts.";
}

std::string rain_seen(const Display& display, const WateringAdvice& advice, std::size_t index) {
  std::string text;
  if (advice.rained_mm > 0.0)
    text = "It rained " +
           with_unit(display, Shown::depth, pointer("advice", index, "rained_mm"), advice.rained_mm,
                     1) +
           " over the last week";
  if (advice.rain_expected_mm > 0.0)
    text += (text.empty() ? "The forecast has " : " and the forecast has ") +
            with_unit(display, Shown::depth, pointer("advice", index, "rain_expected_mm"),
                      advice.rain_expected_mm, 1) +
            " of rain";
  return text + ". ";
}

/// Whether two waterings can be spoken of in one sentence.
bool alike(const WateringAdvice& a, const WateringAdvice& b) {
  return a.why == b.why && a.date == b.date && a.leave_out == b.leave_out &&
         a.rained_mm == b.rained_mm && a.rain_expected_mm == b.rain_expected_mm &&
         a.start_assumed == b.start_assumed;
}

/// "terrace bed, hedge (42 L)".
std::string watering_name(const Display& display, const GardenPlan& planned,
                          const WateringAdvice& advice, std::size_t index) {
  std::vector<std::string> names;
  for (const std::size_t z : advice.zones) names.push_back(own_words(planned.plan.zones[z].name));
  return joined(names) + " (" +
         with_unit(display, Shown::volume, pointer("advice", index, "litres"), advice.litres, 0) +
         ")";
}

/// @param names of alike waterings, of which `advice` is one.
std::string watering_text(const Display& display, const WateringAdvice& advice, std::size_t index,
                          const std::string& names) {
  const std::string which = " on " + day(advice.date) + " the watering of " + names;
  const std::string seen =
      advice.why == WateringAdvice::Why::rain ? rain_seen(display, advice, index) : "";
  if (!advice.leave_out)
    return seen + "<strong>Still needed</strong>" + which +
           ": give it by hand when the ground has thawed and the day stays above freezing.";
  return seen + "<strong>Leave out</strong>" + which + ": within the limit without it" +
         (advice.start_assumed ? ", if the ground is as moist as taken; feel it first." : ".");
}

std::string shortfall_text(const Display& display, const ZonePlan& zone, std::size_t index) {
  const auto at = [index](std::string_view key) { return pointer("shortfalls", index, key); };
  std::string text =
      own_words(zone.name) + ": from " + day(*zone.first_beyond) + " " +
      some_with_unit(display, Shown::depth, at("beyond_mm_a_day"), zone.beyond_mm_a_day(), 1) +
      " too dry on " + figure(at("days_beyond"), zone.days_beyond, 0) +
      (zone.days_beyond == 1 ? " day" : " days");
  if (zone.unmet_mm >= 0.5)
    text += ", going without " +
            with_unit(display, Shown::depth, at("unmet_mm"), zone.unmet_mm, 0) + " of water";
  return text + "; can spare " +
         with_unit(display, Shown::depth, at("limit_mm"), zone.limit_mm, 1) + ".";
}

std::string remedy_text(const Display& display, const Remedy& remedy, std::size_t index) {
  const auto at = [index](std::string_view key) { return pointer("remedies", index, key); };
  std::string text = words(at("does"), remedy.does) + ": ";
  if (remedy.zones_short == 0) {
    text += "then nothing falls short";
  } else {
    text += "then " + figure(at("zones_short"), remedy.zones_short, 0) +
            (remedy.zones_short == 1 ? " zone still falls short" : " zones still fall short");
  }
  return text + "; " + with_unit(display, Shown::volume, at("litres"), remedy.litres, 0) +
         " a week.";
}

std::string source_text(const AssumedWeather& weather, DaySource source) {
  switch (source) {
    case DaySource::observed:
      return "what was observed";
    case DaySource::forecast:
      return "the forecast";
    case DaySource::record:
      return "means of " +
             figure("/weather_sum/futures", static_cast<double>(weather.futures()), 0) +
             " stretches of past years at this time";
    case DaySource::recent_mean:
      return "the mean of the " +
             figure("/weather_sum/recent_days", static_cast<double>(weather.recent_days), 0) +
             " days last observed, and no rain";
  }
  return {};
}

/// "Mon 12 Jul to Thu 15 Jul: the forecast." for each stretch of one source.
std::string sources(const Plan& plan, const AssumedWeather& weather) {
  std::string text;
  const Eigen::Index days = days_planned(plan);
  for (Eigen::Index first = 0; first < days;) {
    const auto source_of = [&](Eigen::Index d) {
      return weather.source[static_cast<std::size_t>(d)];
    };
    Eigen::Index last = first;
    while (last + 1 < days && source_of(last + 1) == source_of(first)) ++last;
    text += day(plan.from + std::chrono::days{first});
    if (last > first) text += " to " + day(plan.from + std::chrono::days{last});
    text += ": " + source_text(weather, source_of(first)) + ". ";
    first = last + 1;
  }
  return text;
}

std::string weather_row(const Display& display, const char* heading, const char* key,
                        const Column& mm, Eigen::Index days) {
  std::string cells;
  for (Eigen::Index d = 0; d < days; ++d)
    cells += "<td>" +
             figure(display, Shown::depth, pointer("weather", static_cast<std::size_t>(d), key),
                    mm[d], 1) +
             "</td>";
  return "<tr><th scope=\"row\">" + std::string(heading) + "</th>" + cells + "<td class=\"sum\">" +
         figure(display, Shown::depth, "/weather_sum/" + std::string(key), mm.head(days).sum(), 1) +
         "</td></tr>\n";
}

std::string days_text(int days, std::size_t z) {
  if (days == 0) return "less than a day";
  if (days >= outlook_days)
    return "over " + figure("/outlook/days_looked", outlook_days, 0) + " days";
  return figure(pointer("zones", z, "days_if_shut"), days, 0) + (days == 1 ? " day" : " days");
}

std::string shortfall_content(const Display& display, const Plan& plan, const Mending& mending) {
  std::string items;
  std::size_t index = 0;
  for (const ZonePlan& zone : plan.zones)
    if (zone.days_beyond > 0) items += item(shortfall_text(display, zone, index++));
  if (items.empty()) return {};
  items += binding_items(mending);
  if (mending.remedies.empty())
    items += item("Nothing that was tried helps: give the roots more to draw on, or more shade.");
  return list(items);
}

std::string remedy_content(const Display& display, const Mending& mending) {
  constexpr std::size_t most = 5;
  std::string items;
  for (std::size_t i = 0; i < std::min(most, mending.remedies.size()); ++i)
    items += item(remedy_text(display, mending.remedies[i], i));
  return items.empty() ? items : "<ol>\n" + items + "</ol>\n";
}

std::string outlook_content(const GardenPlan& planned) {
  const Outlook& outlook = planned.outlook;
  std::string text = run_unchanged(planned);
  text += outlook.further ? "for eight weeks and more" : "until " + day(outlook.holds_until);
  text += ". Should a valve fail shut, its zone is unharmed for: ";
  for (std::size_t z = 0; z < planned.plan.zones.size(); ++z)
    text += (z > 0 ? ", " : "") + own_words(planned.plan.zones[z].name) + " " +
            days_text(outlook.days_if_shut[z], z);
  return paragraph(text + ".");
}

std::string assumption_content(const Garden& garden, const GardenPlan& planned) {
  std::vector<std::string> names;
  bool all = true;
  for (const PreparedZone& zone : planned.zones) {
    all = all && zone.start_assumed;
    if (zone.start_assumed) names.push_back(own_words(zone.task.name));
  }
  std::string text;
  if (!names.empty())
    text = "How dry the ground is on the first day: half of what it can spare (" +
           (all ? "every zone" : joined(names)) + "). ";
  const std::vector<std::string> guessed = not_measured(garden, planned.weather);
  for (std::size_t i = 0; i < guessed.size(); ++i)
    text += (i == 0 ? "Not measured: " : ", ") +
            words("/not_measured/" + std::to_string(i), guessed[i]);
  if (!guessed.empty()) text += ". ";
  return paragraph(text + "All defaults are listed by: runnel check " + own_words(garden.file));
}

}  // namespace

std::string binding_items(const Mending& mending) {
  std::string items;
  for (std::size_t i = 0; i < mending.binding_rules.size(); ++i)
    items += item("In the way: <span data-part=\"/binding_rules/" + std::to_string(i) + "\">" +
                  escaped(mending.binding_rules[i].says) + "</span>.");
  return items;
}

std::string alarm_content(const Plan& plan) {
  if (plan.unharmed()) return {};
  return "<p class=\"alarm\"><strong>Falls short:</strong> this cannot keep every zone unharmed. "
         "See <a href=\"#short-heading\">what is missing</a>.</p>\n";
}

std::string advice_content(const Display& display, const GardenPlan& planned) {
  const Advice& all = planned.advice;
  std::string items;
  if (!all.frost.empty()) items += item(frost_text(display, all.frost));
  for (std::size_t i = 0; i < all.waterings.size();) {
    const std::size_t first = i;
    std::string names;
    for (; i < all.waterings.size() && alike(all.waterings[first], all.waterings[i]); ++i)
      names += (i > first ? ", " : "") +
               watering_name(display, planned, all.waterings[i], all.frost.size() + i);
    items += item(watering_text(display, all.waterings[first], all.frost.size() + first, names));
  }
  return list(items);
}

std::string weather_content(const Display& display, const GardenPlan& planned) {
  constexpr Eigen::Index most_days_in_a_row = 10;
  const Eigen::Index days = days_planned(planned.plan);
  if (days > most_days_in_a_row)
    return paragraph("Reference ET " +
                     with_unit(display, Shown::depth, "/weather_sum/eto_mm",
                               planned.weather.eto_mm.head(days).sum(), 1) +
                     " and rain " +
                     with_unit(display, Shown::depth, "/weather_sum/rain_mm",
                               planned.weather.rain_mm.head(days).sum(), 1) +
                     " in all. " + sources(planned.plan, planned.weather));
  std::string heads;
  for (Eigen::Index d = 0; d < days; ++d) {
    const Date date = planned.plan.from + std::chrono::days{d};
    heads += "<th scope=\"col\"><time datetime=\"" + iso_date(date) + "\">" +
             std::string(weekday_name(weekday_index(date))) + "</time></th>";
  }
  return "<table class=\"figures\">\n<caption>" + depth_name(display) +
         " a day; reference ET is what short grass would use</caption>\n<thead>\n<tr><td></td>" +
         heads + "<th scope=\"col\">Sum</th></tr>\n</thead>\n<tbody>\n" +
         weather_row(display, "Reference ET", "eto_mm", planned.weather.eto_mm, days) +
         weather_row(display, "Rain", "rain_mm", planned.weather.rain_mm, days) +
         "</tbody>\n</table>\n" + paragraph(sources(planned.plan, planned.weather));
}

std::string fault_sections(const Display& display, const Plan& plan, const Mending& mending) {
  if (plan.unharmed()) return {};
  const bool mends = !mending.remedies.empty() && mending.remedies.front().zones_short == 0;
  return "<div class=\"faults\">\n" +
         section("short", "Falls short", shortfall_content(display, plan, mending)) +
         section("mend", mends ? "Would mend it" : "Would help in part",
                 remedy_content(display, mending)) +
         "</div>\n";
}

std::string closing_sections(const Garden& garden, const GardenPlan& planned) {
  return section("left", "If left alone", outlook_content(planned)) +
         section("unknown", "Taken without knowing", assumption_content(garden, planned)) +
         section("care", "Take care",
                 paragraph(escaped(planned.away ? away_caution() : caution_text())));
}

}  // namespace runnel::cli::sheet

#include "replan_report.hpp"

#include <algorithm>
#include <cmath>

#include "by_hand.hpp"
#include "days_twice.hpp"
#include "json_writer.hpp"
#include "plan_report.hpp"
#include "runnel/units/csv.hpp"
#include "runnel/units/number.hpp"
#include "text_table.hpp"
#include "valve_change.hpp"

namespace runnel::cli {
namespace {

std::string depth(const Display& display, const std::optional<double>& depth_mm) {
  return depth_mm ? number(display, Shown::depth, *depth_mm, 1) : "-";
}
std::string with_unit(const Display& display, double depth_mm) {
  return measure(display, Shown::depth, depth_mm, 1);
}

/// '#' as far as the two agree, then '+' for what is more than assumed or '-' for what is less; '>'
/// at its end where it would be wider.
std::string bar(std::optional<double> assumed_signs, std::optional<double> now_signs,
                std::size_t width) {
  const auto whole = [](double signs) { return static_cast<std::size_t>(std::lround(signs)); };
  const std::size_t assumed = whole(assumed_signs.value_or(now_signs.value_or(0.0)));
  const std::size_t now = whole(now_signs.value_or(assumed_signs.value_or(0.0)));
  std::string text =
      std::string(std::min(assumed, now), '#') +
      (now > assumed ? std::string(now - assumed, '+') : std::string(assumed - now, '-'));
  if (text.size() <= width) return text;
  text.resize(width - 1);
  return text + ">";
}

/// "So far: ET 21.4 mm where the plan took 18.9 (13 % more), rain 0.0 mm where it took 0.0."
std::string sum_text(const Display& display, std::string when, const std::vector<DayTwice>& days) {
  const DaysTwice sum = sum_of(days);
  if (sum.days == 0) return when + ": none of these days was in the plan before.";
  if (sum.days < static_cast<int>(days.size()))
    when += ", " + std::to_string(sum.days) + " of " + std::to_string(days.size()) + " days";
  std::string text = when + ": ET " + with_unit(display, sum.eto_mm) + " where the plan took " +
                     depth(display, sum.assumed_eto_mm);
  if (const auto more = sum.eto_more_percent())
    text += " (" + fixed(std::abs(*more), 0) + " % " + (*more < 0.0 ? "less" : "more") + ")";
  return text + ", rain " + with_unit(display, sum.rain_mm) + " where it took " +
         depth(display, sum.assumed_rain_mm) + ".";
}

/// What a sign of the bars is worth, in the unit shown.
struct Signs {
  double eto, rain;
  const char *eto_words, *rain_words;
};
Signs signs_of(const Display& display) {
  if (display.units == UnitSystem::us)
    return {.eto = 0.02,
            .rain = 0.04,
            .eto_words = "a sign is 0.02 in",
            .rain_words = "0.04 in a sign"};
  return {
      .eto = 0.5, .rain = 1.0, .eto_words = "a sign is half a mm", .rain_words = "a sign is 1 mm"};
}

std::string weather_text(const Display& display, const Replan& again) {
  const Signs signs = signs_of(display);
  const auto in_signs = [&display](const std::optional<double>& depth_mm, double sign) {
    return depth_mm ? std::optional(converted(display, Shown::depth, *depth_mm) / sign)
                    : std::nullopt;
  };
  const TextTable table(
      {{"", 10}, {"", 4, true}, {"", 4, true}, {"", 26}, {"", 4, true}, {"", 4, true}, {"", 12}});
  const auto row = [&](const DayTwice& day) {
    return "  " + table.row({short_date(day.date), depth(display, day.assumed_eto_mm),
                             depth(display, day.eto_mm),
                             bar(in_signs(day.assumed_eto_mm, signs.eto),
                                 in_signs(day.eto_mm, signs.eto), 26),
                             depth(display, day.assumed_rain_mm), depth(display, day.rain_mm),
                             bar(in_signs(day.assumed_rain_mm, signs.rain),
                                 in_signs(day.rain_mm, signs.rain), 12)});
  };
  const TextTable headings(
      {{"", 10}, {"", 4, true}, {"", 4, true}, {"", 26}, {"", 4, true}, {"", 4, true}, {"", 18}});
  std::string text =
      "WEATHER, " + std::string(unit_shown(display, Shown::depth)) +
      ": as the plan took it, and as it came or is expected now\n"
      "              REFERENCE ET                            RAIN\n  " +
      headings.row({"", "plan", "now", signs.eto_words, "plan", "now", signs.rain_words});
  for (const DayTwice& day : again.since) text += row(day);
  if (again.since.empty()) text += "  No day has passed.\n";
  text += "  From here on as expected:\n";
  for (const DayTwice& day : again.ahead) text += row(day);
  text += paragraph("  ", "# as the plan took it, + more than that, - less.");
  if (any_known(again.since)) {
    text += paragraph("  ", sum_text(display, "So far", again.since));
  } else if (!again.since.empty()) {
    text += "  So far: none of these days is observed.\n";
  }
  return text + paragraph("  ", sum_text(display, "To come", again.ahead));
}

constexpr std::size_t gauge_width = 24;

/// Depletion against the limit; '|' where it was expected.
std::string gauge(double now_mm, const std::optional<double>& expected_mm, double limit_mm) {
  const auto place = [limit_mm](double depth_mm) {
    const double share = limit_mm > 0.0 ? std::clamp(depth_mm / limit_mm, 0.0, 1.0) : 1.0;
    return static_cast<std::size_t>(std::lround(share * gauge_width));
  };
  std::string text(gauge_width, '.');
  std::fill_n(text.begin(), place(now_mm), '#');
  if (expected_mm) text[std::min(place(*expected_mm), gauge_width - 1)] = '|';
  return "[" + text + "]" + (now_mm > limit_mm ? ">" : "");
}

std::string depletion_text(const Display& display, const Replan& again) {
  const TextTable table({{"", 20},
                         {"now", 5, true},
                         {"expected", 8, true},
                         {"limit", 5, true},
                         {"# now, | expected, ] limit", 27}});
  std::string text = "\nHOW DRY EACH ZONE IS, " + std::string(unit_shown(display, Shown::depth)) +
                     " missing to a full root zone\n  " + table.heading();
  const std::vector<ZonePlan>& zones = again.planned.plan.zones;
  for (std::size_t z = 0; z < zones.size(); ++z) {
    const ZonePlan& zone = zones[z];
    text += "  " + table.row({zone.name, depth(display, zone.start_depletion_mm),
                              depth(display, again.expected_mm[z]), depth(display, zone.limit_mm),
                              gauge(zone.start_depletion_mm, again.expected_mm[z], zone.limit_mm)});
  }
  return text;
}

std::string against_expected(const Display& display, const ZonePlan& zone,
                             const std::optional<double>& expected_mm) {
  std::string text = with_unit(display, zone.start_depletion_mm) + " dry";
  if (!expected_mm) return text;
  const double drier_mm = zone.start_depletion_mm - *expected_mm;
  const std::string by = with_unit(display, std::abs(drier_mm));
  if (by == with_unit(display, 0.0)) return text + ", as expected";
  return text + ", " + by + " " + (drier_mm > 0.0 ? "more" : "less") + " than expected";
}

/// The zones of a valve: what each uses and why.
std::string reasons(const Display& display, const Replan& again, const ValveAdvice& advice) {
  std::string text;
  for (std::size_t z = 0; z < again.planned.plan.zones.size(); ++z) {
    const ZonePlan& zone = again.planned.plan.zones[z];
    if (zone.valve != advice.valve) continue;
    text += paragraph("       ", printable(zone.name) + ": " +
                                     against_expected(display, zone, again.expected_mm[z]) + ". " +
                                     reason(display, again, z) + ". The week ahead uses " +
                                     with_unit(display, zone.demand_mm) + ", rain brings " +
                                     with_unit(display, zone.rain_mm) + ".");
  }
  return text;
}

std::string change_text(const ValveChange& change) {
  if (change.switched_off())
    return "       switch it off (was " + change.was.days + " at " + change.was.starts + ")\n";
  std::string text;
  const auto add = [&text](const char* what, const std::string& was, const std::string& now) {
    text += "       " + std::string(what) + ": " + now + " (was " + was + ")\n";
  };
  if (change.days) add("days", change.was.days, change.now.days);
  if (change.starts) add("start times", change.was.starts, change.now.starts);
  if (change.minutes) add("minutes", change.was.minutes, change.now.minutes);
  return text;
}

std::string what_to_do(const Garden& garden, const SavedPlan& before, const Replan& again) {
  std::string on_timer;
  std::string by_hand;
  std::string left;
  for (const ValveAdvice& advice : again.valves) {
    const std::string valve = valve_name(garden, advice.valve);
    const std::string heading = paragraph("  ", "       ", valve);
    if (advice.settings > 0)
      on_timer += heading + change_text(change_of(garden, before, again, advice)) +
                  reasons(garden.display, again, advice);
    if (advice.by_hand_min > 0) {
      const HandRun run{.valve = advice.valve, .minutes = advice.by_hand_min};
      const double litres = litres_by_hand(again.planned.plan, run);
      by_hand += paragraph("  ", "       ",
                           valve + ": " + std::to_string(run.minutes) + " min (" +
                               measure(garden.display, Shown::volume, litres, 1) + ")");
      if (decided_before(before, again.planned.plan, advice.valve))
        by_hand += "       As the plan before said already: not once more.\n";
      if (advice.settings == 0) by_hand += reasons(garden.display, again, advice);
    }
    if (advice.leave_as_is()) left += heading + reasons(garden.display, again, advice);
  }
  const auto or_nothing = [](const std::string& text) {
    return text.empty() ? std::string("  Nothing.\n") : text;
  };
  std::string change = "\nCHANGE ON THE TIMER";
  if (const int settings = settings_changed(again); settings > 0 && garden.timer.programmes == 0)
    change += ": " + std::to_string(settings) + (settings == 1 ? " setting" : " settings");
  std::string text = change + "\n" + or_nothing(on_timer) + "\nRUN ONCE BY HAND, before " +
                     short_date(again.planned.plan.from) + "\n" + or_nothing(by_hand) +
                     "\nLEAVE AS IS\n" + or_nothing(left);
  if (garden.timer.programmes > 0)
    text +=
        "\n" + paragraph("  ",
                         "This timer's valves share programmes: all are planned anew, and what "
                         "differs is named. Changes have no price here, so there may be more of "
                         "them than need be.");
  return text;
}

void write_valve(JsonWriter& json, const Garden& garden, const SavedPlan& before,
                 const Replan& again, const ValveAdvice& advice) {
  const Plan& plan = again.planned.plan;
  const ValveChange change = change_of(garden, before, again, advice);
  json.begin_object();
  json.value("valve", advice.valve);
  json.begin_array("zones");
  for (const ZonePlan& zone : plan.zones)
    if (zone.valve == advice.valve) json.element(zone.name);
  json.end();
  json.value("settings_changed", advice.settings);
  json.value("by_hand_min", advice.by_hand_min);
  json.value("by_hand_litres",
             litres_by_hand(plan, {.valve = advice.valve, .minutes = advice.by_hand_min}));
  json.value("by_hand_decided_before", decided_before(before, plan, advice.valve));
  json.value("days_before", change.was.days);
  json.value("days", change.now.days);
  json.value("starts_before", change.was.starts);
  json.value("starts", change.now.starts);
  json.value("run_min_before", change.was.minutes);
  json.value("run_min", change.now.minutes);
  json.end();
}

void write_zone(JsonWriter& json, const Display& display, const Replan& again, std::size_t z) {
  const ZonePlan& zone = again.planned.plan.zones[z];
  json.begin_object();
  json.value("zone", zone.name);
  json.value("valve", zone.valve);
  json.value("depletion_mm", zone.start_depletion_mm);
  json.value("expected_mm", again.expected_mm[z].value_or(std::nan("")));
  json.value("limit_mm", zone.limit_mm);
  if (again.if_left[z]) json.value("days_beyond_if_left", again.if_left[z]->days_beyond);
  json.value("why", reason(display, again, z));
  json.end();
}

}  // namespace

std::string replan_text(const Garden& garden, const SavedPlan& before, const Replan& again,
                        const Mending& mending) {
  const Plan& plan = again.planned.plan;
  std::string text = printable(garden.name) + "\n";
  text += paragraph("", "The plan of " + short_date(before.from) + " looked at again, for " +
                            short_date(plan.from) + " to " + short_date(plan.until) + " " +
                            std::to_string(year_of(plan.until)));
  text += "\n" + weather_text(garden.display, again) + depletion_text(garden.display, again) +
          what_to_do(garden, before, again);
  return text + "\nTHE PROGRAMME FROM " + short_date(plan.from) + "\n\n" +
         programme_text(garden, again.planned, mending);
}

std::string replan_csv(const Garden& garden, const SavedPlan& before, const Replan& again) {
  std::string text =
      "valve,zone,settings_changed,days_before,days,starts_before,starts,run_min_before,run_min,"
      "by_hand_min,depletion_mm,expected_mm,limit_mm,days_beyond_if_left,days_beyond\n";
  for (std::size_t z = 0; z < again.planned.plan.zones.size(); ++z) {
    const ZonePlan& zone = again.planned.plan.zones[z];
    const ValveAdvice& advice = advice_of(again, zone.valve);
    const ValveChange change = change_of(garden, before, again, advice);
    text += std::to_string(zone.valve) + "," + csv_cell(zone.name) + "," +
            std::to_string(advice.settings);
    for (const std::string& cell : {change.was.days, change.now.days, change.was.starts,
                                    change.now.starts, change.was.minutes, change.now.minutes})
      text += "," + csv_cell(cell);
    text += "," + std::to_string(advice.by_hand_min) + "," + shortest(zone.start_depletion_mm) +
            "," + (again.expected_mm[z] ? shortest(*again.expected_mm[z]) : "") + "," +
            shortest(zone.limit_mm) + "," +
            (again.if_left[z] ? std::to_string(again.if_left[z]->days_beyond) : "") + "," +
            std::to_string(zone.days_beyond) + "\n";
  }
  return text;
}

std::string replan_json(const Garden& garden, const SavedPlan& before, const Replan& again,
                        const Mending& mending) {
  JsonWriter json;
  json.begin_object();
  write_plan(json, garden, again.planned, mending);
  json.value("before", iso_date(before.from));
  write_days_twice(json, again);
  json.begin_array("valves");
  for (const ValveAdvice& advice : again.valves) write_valve(json, garden, before, again, advice);
  json.end();
  json.begin_array("looked_at");
  for (std::size_t z = 0; z < again.planned.plan.zones.size(); ++z)
    write_zone(json, garden.display, again, z);
  json.end();
  json.end();
  return json.text();
}

}  // namespace runnel::cli

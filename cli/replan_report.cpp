#include "replan_report.hpp"

#include <cmath>

#include "runnel/schedule/changes.hpp"
#include "runnel/units/number.hpp"
#include "settings.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

constexpr int text_width = 71;

std::string mm(const std::optional<double>& depth_mm) {
  return depth_mm ? fixed(*depth_mm, 1) : "-";
}

/// Two signs a millimetre.
std::string bar(const std::optional<double>& depth_mm, char sign) {
  const auto length = std::min<long>(30, std::lround(2.0 * depth_mm.value_or(0.0)));
  return std::string(static_cast<std::size_t>(length), sign);
}

std::string weather_picture(const Replan& again) {
  std::string text = "WEATHER SINCE THE PLAN (mm; = as assumed, # as it was)\n";
  for (const LivedDay& day : again.since) {
    text += "  " + short_date(day.date) + "\n";
    text += "    assumed   ET " + mm(day.assumed_eto_mm) + "  rain " + mm(day.assumed_rain_mm) +
            "  " + bar(day.assumed_eto_mm, '=') + "\n";
    text += "    observed  ET " + mm(day.eto_mm) + "  rain " + mm(day.rain_mm) + "  " +
            bar(day.eto_mm, '#') + "\n";
  }
  if (again.since.empty()) text += "  No day has passed.\n";
  return text;
}

void add_change(std::string& text, const char* what, const std::string& before,
                const std::string& after) {
  if (before != after)
    text += "       " + std::string(what) + ": " + before + " -> " + after + "\n";
}

std::string advice_text(const Garden& garden, const Plan& before, const Replan& again,
                        const ValveAdvice& advice) {
  if (advice.action == ValveAction::leave_as_is) return "leave as is\n";
  if (advice.action == ValveAction::run_by_hand)
    return "run once by hand now: " + std::to_string(advice.by_hand_min) +
           " min; the timer stays as it is\n";
  std::string text = "change on the timer\n";
  const Setting old = setting_of(before, garden.timer, advice.valve);
  const Setting now = setting_of(again.planned.plan, garden.timer, advice.valve);
  const bool same = advice.before && same_days(advice.before->days, advice.after.days);
  if (!same) add_change(text, "days", old.days, now.days);
  add_change(text, "start times", old.starts, now.starts);
  add_change(text, "minutes", old.minutes, now.minutes);
  return text;
}

std::string why_text(const Replan& again, std::size_t z) {
  const ZonePlan& zone = again.planned.plan.zones[z];
  std::string text = printable(zone.name) + ": " + fixed(zone.start_depletion_mm, 1) + " mm dry";
  if (again.expected_mm[z]) text += " (the plan expected " + mm(again.expected_mm[z]) + ")";
  text += ", limit " + fixed(zone.limit_mm, 1) + " mm; the week ahead uses " +
          fixed(zone.demand_mm, 1) + " mm, rain brings " + fixed(zone.rain_mm, 1) + " mm.";
  std::string lines;
  for (const std::string& line : wrapped(text, text_width)) lines += "       " + line + "\n";
  return lines;
}

}  // namespace

std::string replan_text(const Garden& garden, const SavedPlan& before, const Replan& again) {
  Plan in_force;
  in_force.programmes = before.programmes;
  const Plan& plan = again.planned.plan;
  std::string text = printable(garden.name) + "\nFrom " + short_date(plan.from) + " to " +
                     short_date(plan.until) + " " + std::to_string(year_of(plan.until)) + "\n\n" +
                     weather_picture(again) + "\nWHAT TO DO\n";
  for (const ValveAdvice& advice : again.valves) {
    text += "  valve " + std::to_string(advice.valve) + ": " +
            advice_text(garden, in_force, again, advice);
    for (std::size_t z = 0; z < plan.zones.size(); ++z)
      if (plan.zones[z].valve == advice.valve) text += why_text(again, z);
  }
  return text;
}

}  // namespace runnel::cli

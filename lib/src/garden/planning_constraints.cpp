#include "runnel/garden/planning_constraints.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <utility>

#include "forecast_rules.hpp"
#include "runnel/garden/plan_garden.hpp"
#include "runnel/garden/time_zone.hpp"
#include "runnel/units/number.hpp"
#include "valve_limits.hpp"

namespace runnel {
namespace {

constexpr int week_days = 7;
/// Odd and even dates repeat with the leap years.
constexpr int longest_look_days = 4 * 365 + 1;

/// The pieces of a window that a valve may use, in order.
std::vector<Window> pieces_of(const Window& window, const DayMinutes& allowed) {
  std::vector<Window> pieces = stretches_of(minutes_in(std::vector{window}) & allowed);
  for (Window& piece : pieces) piece.after_et = window.after_et;
  return pieces;
}

/// From the end of one piece to the beginning of the next.
struct Gap {
  WallTime begins, ends;
};

/// The fewest times at which to cut a window so that each gap has a cut: at the end of the gap that
/// ends first, and so on with those that it does not meet.
std::vector<WallTime> cuts_for(std::vector<Gap> gaps) {
  std::sort(gaps.begin(), gaps.end(), [](const Gap& a, const Gap& b) { return a.ends < b.ends; });
  std::vector<WallTime> cuts;
  for (const Gap& gap : gaps)
    if (cuts.empty() || cuts.back() < gap.begins) cuts.push_back(gap.ends);
  return cuts;
}

/// The garden's windows, cut so that no valve has two pieces of one.
WateringHours cut_for_all(const WateringHours& hours, const std::map<int, ValveLimit>& allowed) {
  WateringHours cut;
  for (const Window& window : hours) {
    std::vector<Gap> gaps;
    for (const auto& [valve, limit] : allowed) {
      const std::vector<Window> pieces = pieces_of(window, limit.minutes);
      for (std::size_t p = 1; p < pieces.size(); ++p)
        gaps.push_back({.begins = pieces[p - 1].closes, .ends = pieces[p].opens});
    }
    Window rest = window;
    for (const WallTime time : cuts_for(std::move(gaps))) {
      cut.push_back({.opens = rest.opens, .closes = time, .after_et = rest.after_et});
      rest.opens = time;
    }
    cut.push_back(rest);
  }
  return cut;
}

/// [windows] Where the valve may use nothing of a window it is closed.
WateringHours narrowed(const WateringHours& hours, const DayMinutes& allowed) {
  WateringHours of_valve;
  for (const Window& window : hours) {
    const std::vector<Window> pieces = pieces_of(window, allowed);
    of_valve.push_back(
        pieces.empty()
            ? Window{.opens = window.opens, .closes = window.opens, .after_et = window.after_et}
            : pieces.front());
  }
  return of_valve;
}

bool has_a_day(const ValveRules& rules, Date from) {
  for (int d = 0; d < week_days; ++d)
    if (allowed_on(rules, from + std::chrono::days{d})) return true;
  return false;
}

void add_shut_days(const Garden& garden, const AssumedWeather& weather, Date from,
                   Constraints& constraints, std::vector<Finding>& findings) {
  for (const WateringRule& rule : garden.rules) {
    if (rule.zones.empty()) continue;
    const std::vector<Date> shut = shut_by_forecast(rule, garden, weather, from, findings);
    for (auto& [valve, rules] : constraints.rules)
      if (is_for(rule, garden, valve))
        rules.shut_on.insert(rules.shut_on.end(), shut.begin(), shut.end());
  }
  for (auto& [valve, rules] : constraints.rules) {
    std::sort(rules.shut_on.begin(), rules.shut_on.end());
    rules.shut_on.erase(std::unique(rules.shut_on.begin(), rules.shut_on.end()),
                        rules.shut_on.end());
  }
}

/// How far the timer's clock is behind after the clocks change within those days and nobody sets
/// it; 0 when they do not.
WallTime timer_behind(const Garden& garden, Date from, int away_days) {
  const auto offset = [&](int day) {
    return utc_offset_at_noon(garden.timezone, from + std::chrono::days{day});
  };
  return away_days > 0 ? offset(away_days - 1) - offset(0) : WallTime{0};
}

/// What is allowed by the clock on the wall both where it shows the timer's time and where it is
/// ahead of it.
DayMinutes by_both_clocks(const DayMinutes& allowed, WallTime behind) {
  const auto day = static_cast<long>(allowed.size());
  DayMinutes both;
  for (long minute = 0; minute < day; ++minute) {
    const long then = (minute + behind.count() + day) % day;
    both[static_cast<std::size_t>(minute)] =
        allowed[static_cast<std::size_t>(minute)] && allowed[static_cast<std::size_t>(then)];
  }
  return both;
}

void doubt_rules_on_forecasts(const Garden& garden, std::vector<Finding>& findings) {
  for (const WateringRule& rule : garden.rules)
    if (rule.not_in_wind_above_m_s || rule.not_below_c)
      findings.push_back(
          {.kind = Finding::Kind::doubt,
           .at = rule.at,
           .says = "while nobody is there, nobody looks at the forecast for this rule: beyond the "
                   "first week the timer waters in any weather",
           .mend = "ask someone to shut the tap on such days"});
}

void doubt_weeks_without_day(const Garden& garden, const Constraints& constraints, Date from,
                             std::vector<Finding>& findings) {
  for (const auto& [valve, rules] : constraints.rules) {
    if (has_a_day(rules, from)) continue;
    findings.push_back({.kind = Finding::Kind::doubt,
                        .at = in_file(garden.file),
                        .says = "rules and forecast leave " + zones_on(garden, valve) +
                                " no day from " + short_date(from) + " to " +
                                short_date(from + std::chrono::days{week_days - 1}),
                        .mend = "water by hand where the rules allow that, or plan from another "
                                "day"});
  }
}

/// A valve brings a rule's litres whole, even where one of its zones is not meant by the rule.
std::vector<LitreLimit> litre_limits(const Garden& garden) {
  std::vector<LitreLimit> limits;
  for (const WateringRule& rule : garden.rules) {
    if (rule.zones.empty() || (!rule.most_litres_a_day && !rule.most_litres_a_week)) continue;
    LitreLimit limit{
        .valves = {}, .a_day = rule.most_litres_a_day, .a_week = rule.most_litres_a_week};
    for (const int valve : valves_of(garden))
      if (is_for(rule, garden, valve)) limit.valves.push_back(valve);
    limits.push_back(std::move(limit));
  }
  return limits;
}

std::string flow_text(const Garden& garden, Flow flow) {
  return measure(garden.display, Shown::supply_flow, flow.litres_per_hour(), 1);
}

/// What one valve draws, and its zones with what each does.
struct Draw {
  Flow flow = Flow::litres_per_hour(0.0);
  std::size_t zones = 0;
  std::string parts = {};
};

std::map<int, Draw> draws_of(const Garden& garden, std::span<const PreparedZone> zones) {
  std::map<int, Draw> draws;
  for (const PreparedZone& zone : zones) {
    Draw& draw = draws[zone.task.valve];
    draw.flow = draw.flow + zone.task.delivery.flow;
    if (draw.zones++ > 0) draw.parts += ", ";
    draw.parts += zone.task.name + " " + flow_text(garden, zone.task.delivery.flow);
  }
  return draws;
}

void judge_draw(const Garden& garden, int valve, const Draw& draw, Flow supply,
                std::vector<Finding>& findings) {
  if (draw.flow <= supply) return;
  const auto zone = std::find_if(garden.zones.begin(), garden.zones.end(),
                                 [valve](const Zone& one) { return one.valve == valve; });
  const std::string than_supply = ", more than the supply's " + flow_text(garden, supply);
  const bool alone = draw.zones == 1;
  findings.push_back(
      {.kind = Finding::Kind::doubt,
       .at = zone->emitters.at,
       .says = alone ? zone->name + ": needs " + flow_text(garden, draw.flow) + than_supply
                     : "valve " + std::to_string(valve) + ": its zones together need " +
                           flow_text(garden, draw.flow) + than_supply + " (" + draw.parts + ")",
       .mend = alone ? "split the zone over two valves, or check both flows with a bucket"
                     : "give zones valves of their own, or check the flows with a bucket"});
}

/// How many of the valves the supply feeds at once, whichever they are.
int fed_at_once(std::vector<Flow> flows, Flow supply) {
  std::sort(flows.begin(), flows.end(), [](Flow a, Flow b) { return a > b; });
  Flow together = Flow::litres_per_hour(0.0);
  int fed = 0;
  for (const Flow flow : flows) {
    together = together + flow;
    if (together > supply) break;
    ++fed;
  }
  return fed;
}

void add_supply(const Garden& garden, std::span<const PreparedZone> zones, Constraints& constraints,
                std::vector<Finding>& findings) {
  constraints.supply = garden.supply_flow;
  std::vector<Flow> flows;
  for (const auto& [valve, draw] : draws_of(garden, zones)) {
    if (garden.supply_flow) judge_draw(garden, valve, draw, *garden.supply_flow, findings);
    flows.push_back(garden.supply_flow ? std::min(draw.flow, *garden.supply_flow) : draw.flow);
    constraints.flows.emplace(valve, flows.back());
  }
  if (!garden.supply_flow) return;
  const int fed = fed_at_once(flows, *garden.supply_flow);
  if (fed >= std::min(garden.timer.together, static_cast<int>(flows.size()))) return;
  findings.push_back(
      {.kind = Finding::Kind::remark,
       .at = {.file = garden.file, .line = 0, .column = 0, .key = "supply.flow"},
       .says = "the timer opens up to " + std::to_string(garden.timer.together) +
               " valves at once; the supply of " + flow_text(garden, *garden.supply_flow) +
               " feeds any " + std::to_string(fed) +
               " of them: valves that need more together are planned one after the other",
       .mend = {}});
}

/// The first day after the week on which the pattern breaks the valve's rules.
std::optional<Date> first_wrong_day(const ValveRules& rules, const DayPattern& days, Date from) {
  for (int d = week_days; d < longest_look_days; ++d) {
    const Date date = from + std::chrono::days{d};
    if (waters_on(days, date) && !allowed_on(rules, date)) return date;
  }
  return std::nullopt;
}

/// Where a rule or wish on the valve's days stands.
Place place_of_days(const Garden& garden, int valve) {
  for (const ValveLimit& limit : limits_of(garden, valve))
    if (limit.odd_dates || !limit.weekdays.all()) return limit.at;
  return in_file(garden.file);
}

}  // namespace

Constraints constraints_of(const Garden& garden, const AssumedWeather& weather,
                           std::span<const PreparedZone> zones, Date from,
                           std::vector<Finding>& findings, int away_days) {
  std::map<int, ValveLimit> allowed;
  const WallTime behind = timer_behind(garden, from, away_days);
  for (const int valve : valves_of(garden)) {
    ValveLimit& limit = allowed.emplace(valve, allowance_of(garden, valve)).first->second;
    if (behind.count() != 0) limit.minutes = by_both_clocks(limit.minutes, behind);
  }
  if (away_days > 0) doubt_rules_on_forecasts(garden, findings);
  Constraints constraints{.hours = cut_for_all(usable_hours(garden, from), allowed),
                          .timer = garden.timer};
  for (const auto& [valve, limit] : allowed)
    constraints.rules.emplace(valve, ValveRules{.hours = narrowed(constraints.hours, limit.minutes),
                                                .weekdays = limit.weekdays,
                                                .odd_dates = limit.odd_dates,
                                                .most_minutes_a_day = limit.most_minutes_a_day,
                                                .most_minutes_a_week = limit.most_minutes_a_week});
  add_shut_days(garden, weather, from, constraints, findings);
  doubt_weeks_without_day(garden, constraints, from, findings);
  constraints.litres = litre_limits(garden);
  add_supply(garden, zones, constraints, findings);
  return constraints;
}

std::vector<Finding> days_to_set_anew(const Garden& garden, const Constraints& constraints,
                                      std::span<const ValveTimes> valves, Date from) {
  std::vector<Finding> doubts;
  for (const ValveTimes& times : valves) {
    if (times.openings.empty()) continue;
    const ValveRules rules = constraints.rules_of(times.valve);
    if (keeps_to(rules, times.days, from) != Keeps::this_week) continue;
    const auto wrong = first_wrong_day(rules, times.days, from);
    if (!wrong) continue;
    doubts.push_back(
        {.kind = Finding::Kind::doubt,
         .at = place_of_days(garden, times.valve),
         .says = "\"" + to_text(times.days) + "\" keeps " + zones_on(garden, times.valve) +
                 " to the days allowed for this week only: it would water on " + short_date(*wrong),
         .mend = "set the days anew before " + short_date(*wrong)});
  }
  return doubts;
}

}  // namespace runnel

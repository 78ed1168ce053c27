#include "log_since_plan.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "runnel/garden/meter.hpp"
#include "runnel/garden/water_taken.hpp"
#include "runnel/units/number.hpp"

namespace runnel {
namespace {

using std::chrono::days;

constexpr int no_valve = 0;  // valves count from 1

void say(std::vector<Finding>& findings, Finding::Kind kind, const Place& at, std::string says,
         std::string mend) {
  findings.push_back({.kind = kind, .at = at, .says = std::move(says), .mend = std::move(mend)});
}

bool is_none(const LogAmount& amount) {
  if (const auto* run = std::get_if<Duration>(&amount)) return run->minutes() == 0.0;
  if (const auto* volume = std::get_if<Volume>(&amount)) return volume->litres() == 0.0;
  return std::get<Depth>(amount).mm() == 0.0;
}

std::string entries(std::ptrdiff_t count, const std::string& which) {
  return std::to_string(count) + (count == 1 ? " entry " : " entries ") + which +
         (count == 1 ? " is" : " are");
}

void doubt_later(const WaterLog& log, Date date, std::vector<Finding>& findings) {
  const auto first = std::find_if(log.entries.begin(), log.entries.end(),
                                  [&](const LogEntry& entry) { return entry.date >= date; });
  if (first == log.entries.end()) return;
  say(findings, Finding::Kind::doubt, first->at,
      entries(log.entries.end() - first, "from " + iso_date(first->date) + " on") +
          " not looked at: the plan begins on " + iso_date(date),
      "check the dates; or add the weather of these days, or plan --from a later day");
}

/// Of the evening before the plan before, or of any day, and of use all the same.
bool counts_before(const LogEntry& entry, const SavedPlan& plan) {
  const bool evening = entry.date + days{1} == plan.from;
  switch (entry.what) {
    case LogWhat::rain:
      return entry.zones.empty();
    case LogWhat::meter:
    case LogWhat::depletion:
    case LogWhat::feel:
      return evening;
    default:
      return false;
  }
}

void remark_earlier(const WaterLog& log, const SavedPlan& plan, std::vector<Finding>& findings) {
  const auto earlier = [&](const LogEntry& entry) {
    return entry.date < plan.from && !counts_before(entry, plan);
  };
  const auto count = std::count_if(log.entries.begin(), log.entries.end(), earlier);
  if (count == 0) return;
  const auto first = std::find_if(log.entries.begin(), log.entries.end(), earlier);
  say(findings, Finding::Kind::remark, first->at,
      entries(count, "before " + iso_date(plan.from)) + " not looked at: taken to be in " +
          plan.file + ", which begins that day",
      "if one was added since, feel the soil of that zone and log it");
}

void doubt_falling_out_of_nothing(const Garden& garden, const SavedPlan& plan,
                                  const LogEntry& entry, const PastWater& water,
                                  std::vector<Finding>& findings) {
  const auto planned = [&](std::size_t zone) {
    const SavedZone* saved = plan.zone_named(garden.zones[zone].name);
    return saved != nullptr &&
           std::any_of(water.runs.begin(), water.runs.end(), [&](const PastRun& run) {
             return !run.by_hand && run.valve == saved->valve && run.date == entry.date;
           });
  };
  if (std::any_of(entry.zones.begin(), entry.zones.end(), planned)) return;
  say(findings, Finding::Kind::doubt, entry.at,
      "nothing was planned for " + short_date(entry.date) +
          (entry.zones.size() == 1 ? " in " + garden.zones[entry.zones[0]].name : "") +
          " that could fall out",
      "check the date and the zone");
}

/// What a "by hand" entry does to runs by hand that the plan asked for; doubts none of nothing.
void remark_by_hand(const Garden& garden, const SavedPlan& plan, const LogEntry& entry,
                    const PastWater& water, std::vector<Finding>& findings) {
  const auto in_place_of = [&](const PastRun& run) {
    return run.by_hand && run.date == entry.date &&
           std::any_of(entry.zones.begin(), entry.zones.end(), [&](std::size_t zone) {
             const SavedZone* saved = plan.zone_named(garden.zones[zone].name);
             return saved != nullptr && saved->valve == run.valve;
           });
  };
  const auto planned = std::find_if(water.runs.begin(), water.runs.end(), in_place_of);
  if (planned != water.runs.end())
    return say(findings, Finding::Kind::remark, entry.at,
               "taken in place of the " + shortest(planned->minutes) + " min by hand that " +
                   plan.file + " asked for on " + short_date(entry.date),
               "if these were given too, add a by hand row with them");
  if (is_none(entry.amount))
    say(findings, Finding::Kind::doubt, entry.at,
        "no run by hand was asked for on " + short_date(entry.date) + " that could fall out",
        "one that the plan asked for is logged under that plan's first day");
}

void doubt_rain_in_the_dry(const Garden& garden, const LogEntry& entry,
                           std::vector<Finding>& findings) {
  for (const std::size_t z : entry.zones) {
    const Zone& zone = garden.zones[z];
    if (zone.rain_reaches > 0.0 || std::get<Depth>(entry.amount).mm() <= 0.0) continue;
    say(findings, Finding::Kind::doubt, entry.at,
        zone.name +
            ": its gauge caught rain, but the garden file says that none reaches it: "
            "taken as none",
        "write rain reaches: ... for this zone");
  }
}

/// [zones of the garden] Those of the plan.
std::vector<int> valves_of(const Garden& garden, const SavedPlan& plan) {
  std::vector<int> valves;
  for (const Zone& zone : garden.zones) {
    const SavedZone* saved = plan.zone_named(zone.name);
    valves.push_back(saved == nullptr ? no_valve : saved->valve);
  }
  return valves;
}

/// Why the garden's meter cannot be compared, if it cannot.
std::optional<std::string> not_comparable(const Garden& garden, const SavedPlan& plan) {
  for (const SavedZone& saved : plan.zones) {
    const bool is_there = std::any_of(garden.zones.begin(), garden.zones.end(),
                                      [&](const Zone& zone) { return zone.name == saved.name; });
    if (!is_there)
      return "the flow of " + quoted(saved.name) +
             ", which is no longer in the garden, is not known";
  }
  return std::nullopt;
}

/// Readings of those days that stand alone, or follow one from before the plan.
void remark_lone_readings(const WaterLog& log, const SavedPlan& plan, Date date,
                          std::vector<Finding>& findings) {
  const LogEntry* before = nullptr;
  for (const LogEntry& entry : log.entries) {
    if (entry.what != LogWhat::meter) continue;
    const LogEntry* first = std::exchange(before, &entry);
    if (entry.date < plan.from || entry.date >= date) continue;
    if (first == nullptr || first->date + days{1} < plan.from)
      say(findings, Finding::Kind::remark, entry.at,
          "the meter of " + short_date(entry.date) + " is not compared: there is no reading of " +
              short_date(plan.from - days{1}) + " or later before it",
          "read it on the evening before each plan's first day");
  }
}

}  // namespace

void doubt_log(const Garden& garden, const SavedPlan& plan, Date date, const PastWater& water,
               std::vector<Finding>& findings) {
  remark_earlier(water.log, plan, findings);
  doubt_later(water.log, date, findings);
  for (const LogEntry& entry : water.log.entries) {
    if (entry.date < plan.from || entry.date >= date) continue;
    if (entry.what == LogWhat::did_not_run)
      doubt_falling_out_of_nothing(garden, plan, entry, water, findings);
    if (entry.what == LogWhat::by_hand) remark_by_hand(garden, plan, entry, water, findings);
    if (entry.what == LogWhat::rain) doubt_rain_in_the_dry(garden, entry, findings);
  }
}

void compare_meter(const Garden& garden, const SavedPlan& plan, Date date, const PastWater& water,
                   std::span<const PreparedZone> zones, std::vector<Finding>& findings) {
  const auto read = [&](const LogEntry& entry) {
    return entry.what == LogWhat::meter && entry.date >= plan.from && entry.date < date;
  };
  const auto reading = std::find_if(water.log.entries.begin(), water.log.entries.end(), read);
  if (reading == water.log.entries.end()) return;
  if (const auto why = not_comparable(garden, plan))
    return say(findings, Finding::Kind::remark, reading->at, "the meter is not compared: " + *why,
               "");
  std::vector<Delivery> deliveries;
  for (const PreparedZone& zone : zones) deliveries.push_back(zone.task.delivery);
  const WaterTaken taken = what_really_ran(
      water.log, by_day(water.runs, valves_of(garden, plan), plan.from, (date - plan.from).count()),
      deliveries);
  for (const MeterCheck& check : check_meter(water.log, taken, deliveries))
    findings.push_back(meter_finding(check, garden.display));
  remark_lone_readings(water.log, plan, date, findings);
}

}  // namespace runnel

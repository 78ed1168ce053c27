#include "valve_limits.hpp"

#include <algorithm>
#include <set>

#include "read_garden_parts.hpp"
#include "runnel/units/calendar.hpp"

namespace runnel {
namespace {

constexpr std::size_t day_min = std::size_t{24} * 60;

void add_wishes(const ZoneWishes& wishes, std::vector<ValveLimit>& limits) {
  if (!wishes.hours.empty())
    limits.push_back({.at = wishes.hours_at, .minutes = minutes_in(wishes.hours)});
  if (wishes.finish_by)
    limits.push_back({.at = wishes.finish_by_at,
                      .minutes = minutes_in(
                          std::vector{Window{.opens = WallTime{0}, .closes = *wishes.finish_by}})});
  if (wishes.not_on.any()) limits.push_back({.at = wishes.not_on_at, .weekdays = ~wishes.not_on});
}

ValveLimit limit_of(const WateringRule& rule) {
  ValveLimit limit{.at = rule.at,
                   .odd_dates = rule.odd_dates,
                   .most_minutes_a_day = rule.most_minutes_a_day,
                   .most_minutes_a_week = rule.most_minutes_a_week};
  if (!rule.hours.empty()) limit.minutes = minutes_in(rule.hours);
  limit.minutes &= ~minutes_in(rule.not_between);
  if (rule.days) limit.weekdays = *rule.days;
  return limit;
}

std::optional<int> least(std::optional<int> a, std::optional<int> b) {
  if (!a || !b) return a ? a : b;
  return std::min(*a, *b);
}

std::string hours_in_words(const DayMinutes& minutes) {
  std::string text;
  for (const Window& stretch : stretches_of(minutes)) {
    if (!text.empty()) text += ", ";
    text += clock_span({}, stretch.opens, stretch.closes);
  }
  return text;
}

std::string days_in_words(const ValveLimit& limit) {
  std::string text = to_text(Weekdays{limit.weekdays});
  if (limit.odd_dates) text += *limit.odd_dates ? ", odd dates" : ", even dates";
  return text;
}

/// What a limit leaves to nobody, and how to mend that; nothing when it leaves something.
struct Contradiction {
  std::string says, mend;
};
std::optional<Contradiction> contradiction(const ValveLimit& before, const ValveLimit& limit,
                                           const Timer& timer) {
  const ValveLimit after = both(before, limit);
  if (after.minutes.none())
    return Contradiction{
        .says = "leaves no watering hours",
        .mend = "before it there were " + hours_in_words(before.minutes) + ": allow some of them"};
  if (after.weekdays.none())
    return Contradiction{
        .says = "leaves no day for watering",
        .mend = "before it there were " + days_in_words(before) + ": allow some of them"};
  const auto most = least(limit.most_minutes_a_day, limit.most_minutes_a_week);
  const std::vector<RunLength> lengths = run_lengths(timer);
  if (most && !lengths.empty() && lengths.front().runs.count() > *most)
    return Contradiction{.says = "leaves no run",
                         .mend = "the timer's shortest is " +
                                 std::to_string(lengths.front().runs.count()) +
                                 " minutes: allow as much"};
  return std::nullopt;
}

/// The first limit that leaves the valve nothing; one error for each limit, however many valves.
void check_valve(const Garden& garden, int valve, std::set<std::pair<int, int>>& said,
                 FindingList& list) {
  ValveLimit allowed{.minutes = minutes_in(garden.watering_hours)};
  if (allowed.minutes.none()) return;
  for (const ValveLimit& limit : limits_of(garden, valve)) {
    if (const auto fault = contradiction(allowed, limit, garden.timer)) {
      if (said.insert({limit.at.line, limit.at.column}).second)
        list.add(Finding::Kind::error, limit.at, fault->says + " to " + zones_on(garden, valve),
                 fault->mend);
      return;
    }
    allowed = both(allowed, limit);
  }
}

}  // namespace

DayMinutes minutes_in(std::span<const Window> stretches) {
  DayMinutes minutes;
  for (const Window& stretch : stretches)
    for (auto minute = stretch.opens; minute < stretch.closes; ++minute)
      minutes.set(static_cast<std::size_t>(minute.count()) % day_min);
  return minutes;
}

std::vector<Window> stretches_of(const DayMinutes& minutes) {
  std::vector<Window> stretches;
  for (std::size_t m = 0; m < day_min; ++m) {
    if (!minutes.test(m)) continue;
    const WallTime time{static_cast<int>(m)};
    if (stretches.empty() || stretches.back().closes != time)
      stretches.push_back({.opens = time, .closes = time});
    ++stretches.back().closes;
  }
  return stretches;
}

std::vector<int> valves_of(const Garden& garden) {
  std::set<int> valves;
  for (const Zone& zone : garden.zones) valves.insert(zone.valve);
  return {valves.begin(), valves.end()};
}

std::string zones_on(const Garden& garden, int valve) {
  std::string text;
  for (const Zone& zone : garden.zones) {
    if (zone.valve != valve) continue;
    if (!text.empty()) text += ", ";
    text += quoted(zone.name);
  }
  return text;
}

bool is_for(const WateringRule& rule, const Garden& garden, int valve) {
  return std::any_of(rule.zones.begin(), rule.zones.end(),
                     [&](std::size_t z) { return garden.zones[z].valve == valve; });
}

std::vector<ValveLimit> limits_of(const Garden& garden, int valve) {
  std::vector<ValveLimit> limits;
  for (const Zone& zone : garden.zones)
    if (zone.valve == valve) add_wishes(zone.wishes, limits);
  for (const WateringRule& rule : garden.rules)
    if (is_for(rule, garden, valve)) limits.push_back(limit_of(rule));
  return limits;
}

ValveLimit both(const ValveLimit& a, const ValveLimit& b) {
  ValveLimit all{.at = a.at,
                 .minutes = a.minutes & b.minutes,
                 .weekdays = a.weekdays & b.weekdays,
                 .odd_dates = a.odd_dates ? a.odd_dates : b.odd_dates,
                 .most_minutes_a_day = least(a.most_minutes_a_day, b.most_minutes_a_day),
                 .most_minutes_a_week = least(a.most_minutes_a_week, b.most_minutes_a_week)};
  if (a.odd_dates && b.odd_dates && *a.odd_dates != *b.odd_dates) all.weekdays.reset();
  return all;
}

ValveLimit allowance_of(const Garden& garden, int valve) {
  ValveLimit allowed{.minutes = minutes_in(garden.watering_hours)};
  for (const ValveLimit& limit : limits_of(garden, valve)) allowed = both(allowed, limit);
  return allowed;
}

void check_rules(const Garden& garden, FindingList& list) {
  const DayMinutes watering = minutes_in(garden.watering_hours);
  for (const Zone& zone : garden.zones) {
    const DayMinutes wished = minutes_in(zone.wishes.hours);
    if ((wished & watering).any() && (wished & ~watering).any())
      list.add(Finding::Kind::doubt, zone.wishes.hours_at,
               "hours that lie outside the watering hours are not used",
               "write hours within " + hours_in_words(watering));
  }
  std::set<std::pair<int, int>> said;
  for (const int valve : valves_of(garden))
    if (valve > 0) check_valve(garden, valve, said, list);
}

}  // namespace runnel

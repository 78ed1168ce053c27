#include "runnel/garden/plan_file.hpp"

#include <algorithm>
#include <variant>

#include "runnel/garden/digest.hpp"
#include "runnel/units/number.hpp"

namespace runnel {
namespace {

/// A YAML double-quoted scalar: safe for any name.
std::string yaml_text(std::string_view text) {
  static constexpr std::string_view digits = "0123456789abcdef";
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (byte < 0x20 || byte == 0x7F) {
      out += "\\x";
      out += digits[byte >> 4U];
      out += digits[byte & 0xFU];
    } else {
      out += c;
    }
  }
  return out + "\"";
}

template <class Items, class ToText>
std::string in_brackets(const Items& items, const ToText& to_text) {
  std::string text;
  for (const auto& item : items) text += (text.empty() ? "" : ", ") + to_text(item);
  return "[" + text + "]";
}

/// A list of its own lines, or [] on one.
template <class Items, class ToText>
std::string list_text(const std::string& key, const Items& items, const ToText& to_text) {
  if (items.empty()) return key + ": []\n";
  std::string text = key + ":\n";
  for (const auto& item : items) text += to_text(item);
  return text;
}

std::string days_text(const DayPattern& days) {
  if (const auto* every = std::get_if<EveryN>(&days))
    return "{every: " + std::to_string(every->n) + (every->n == 1 ? " day" : " days") +
           ", from: " + iso_date(every->first) + "}";
  if (const auto* dates = std::get_if<DateParity>(&days))
    return dates->odd ? "odd dates" : "even dates";
  const auto& on = std::get<Weekdays>(days).on;
  std::vector<int> watered;
  for (int day = 0; day < 7; ++day)
    if (on[static_cast<std::size_t>(day)]) watered.push_back(day);
  return in_brackets(watered, [](int day) { return std::string(weekday_name(day)); });
}

std::string run_text(const Run& run) {
  const auto number = [](int minutes) { return std::to_string(minutes); };
  return "      - {valve: " + number(run.valve) + ", minutes: " +
         (run.typed_min.size() == 1 ? number(run.typed_min.front())
                                    : in_brackets(run.typed_min, number)) +
         "}\n";
}

std::string programme_text(const Programme& programme) {
  return "  - days: " + days_text(programme.days) + "\n    starts: " +
         in_brackets(programme.starts, [](WallTime start) { return '"' + clock(start) + '"'; }) +
         "\n" + list_text("    runs", programme.runs, run_text);
}

std::string state_text(const SoilState& state) {
  return "{depletion: " + shortest(state.depletion_mm) +
         " mm, dry part: " + shortest(state.dry_mm) +
         " mm, surface: " + shortest(state.surface_mm) +
         " mm, surface wetted: " + shortest(state.surface_fw) + "}";
}

std::string zone_text(const SavedZone& zone) {
  return "  - zone: " + yaml_text(zone.name) + "\n    valve: " + std::to_string(zone.valve) +
         "\n    litres: " + shortest(zone.litres) + " L\n    demand: " + shortest(zone.demand_mm) +
         " mm\n    start: " + state_text(zone.start) + "\n    end: " + state_text(zone.end) +
         "\n    expected: " +
         in_brackets(zone.expected_mm,
                     [](double depletion_mm) { return shortest(depletion_mm) + " mm"; }) +
         "\n";
}

std::string hand_text(const HandWatering& watering) {
  return "  - {date: " + iso_date(watering.date) + ", valve: " + std::to_string(watering.valve) +
         ", minutes: " + std::to_string(watering.minutes) + "}\n";
}

std::string weather_text(const SavedPlan& plan) {
  std::string text = "weather:\n";
  Date date = plan.from;
  for (const SavedDay& day : plan.weather) {
    text += "  - {date: " + iso_date(date) + ", reference et: " + shortest(day.eto_mm) +
            " mm, rain: " + shortest(day.rain_mm) +
            " mm, from: " + std::string(to_text(day.source)) + "}\n";
    date += std::chrono::days{1};
  }
  return text;
}

constexpr std::string_view heading =
    "# Written by runnel plan, and read again by runnel plan --after. Do not edit it: what ran\n"
    "# otherwise than planned goes into the water log.\n";

}  // namespace

SavedPlan saved_plan(const Garden& garden, const GardenPlan& planned) {
  const Plan& plan = planned.plan;
  SavedPlan saved{.file = {},
                  .garden = garden.name,
                  .garden_at = {},
                  .from_at = {},
                  .from = plan.from,
                  .until = plan.until,
                  .programmes = plan.programmes,
                  .percentage = garden.timer.percentage,
                  .pause_minutes = garden.timer.pause_minutes,
                  .by_hand = {},
                  .zones = {},
                  .weather = {},
                  .garden_digest = garden.digest,
                  .observed_digest = planned.observed_digest};
  for (std::size_t z = 0; z < plan.zones.size(); ++z) {
    const ZonePlan& zone = plan.zones[z];
    SavedZone& as_saved = saved.zones.emplace_back(SavedZone{.name = zone.name,
                                                             .valve = zone.valve,
                                                             .litres = zone.gross_litres,
                                                             .demand_mm = zone.demand_mm,
                                                             .start = planned.zones[z].task.start,
                                                             .end = zone.end,
                                                             .expected_mm = {}});
    as_saved.expected_mm.assign(zone.expected_mm.begin(), zone.expected_mm.end());
    // A mean of shares can pass 1 by its last digit.
    as_saved.end.surface_fw = std::min(1.0, as_saved.end.surface_fw);
  }
  for (const HandRun& run : plan.by_hand)
    saved.by_hand.push_back({.date = plan.from, .valve = run.valve, .minutes = run.minutes});
  for (std::size_t day = 0; day < planned.weather.source.size(); ++day) {
    const auto row = static_cast<Eigen::Index>(day);
    saved.weather.push_back({.eto_mm = planned.weather.eto_mm[row],
                             .rain_mm = planned.weather.rain_mm[row],
                             .source = planned.weather.source[day]});
  }
  return saved;
}

std::string plan_file_text(const SavedPlan& plan) {
  std::string text(heading);
  text += "format: 2\ngarden: " + yaml_text(plan.garden) + "\n";
  text += "from: " + iso_date(plan.from) + "\nuntil: " + iso_date(plan.until) + "\n";
  text += "timer: {percentage: " + std::to_string(plan.percentage) +
          ", pause between valves: " + std::to_string(plan.pause_minutes) + " min}\n";
  text += list_text("programmes", plan.programmes, programme_text);
  text += list_text("by hand", plan.by_hand, hand_text);
  text += list_text("zones", plan.zones, zone_text);
  text += weather_text(plan);
  text += "digests:\n  garden file: " + yaml_text(plan.garden_digest) +
          "\n  observed days before: " + yaml_text(plan.observed_digest) + "\n";
  return with_digest(std::move(text));
}

std::string plan_file_text(const Garden& garden, const GardenPlan& planned) {
  return plan_file_text(saved_plan(garden, planned));
}

std::string with_digest(std::string text) {
  const std::string of_text = digest(text);
  return std::move(text) + "  text above: \"" + of_text + "\"\n";
}

}  // namespace runnel

#include "runnel/garden/plan_file.hpp"

#include <algorithm>

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
    } else if (byte < 0x20) {
      out += "\\x";
      out += digits[byte >> 4U];
      out += digits[byte & 0xFU];
    } else {
      out += c;
    }
  }
  return out + "\"";
}

std::string zone_text(const ZonePlan& zone, const Plan& plan) {
  const ValveTimes& times =
      *std::find_if(plan.valves.begin(), plan.valves.end(),
                    [&](const ValveTimes& v) { return v.valve == zone.valve; });
  std::string starts;
  std::string lengths;
  for (const ValveTimes::Opening& opening : times.openings) {
    starts += (starts.empty() ? "\"" : ", \"") + clock(opening.start) + "\"";
    lengths += (lengths.empty() ? "" : ", ") + std::to_string(opening.length.count());
  }
  std::string text = "  - zone: " + yaml_text(zone.name) + "\n";
  text += "    valve: " + std::to_string(zone.valve) + "\n";
  text += "    days: " + yaml_text(times.openings.empty() ? "none" : to_text(times.days)) + "\n";
  text += "    starts: [" + starts + "]\n";
  text += "    minutes: [" + lengths + "]\n";
  text += "    litres: " + shortest(zone.gross_litres) + "\n";
  text += "    depletion at start: " + shortest(zone.start_depletion_mm) + " mm\n";
  text += "    depletion at end: " + shortest(zone.end_depletion_mm) + " mm\n";
  return text;
}

}  // namespace

std::string plan_file_text(const Garden& garden, const GardenPlan& planned) {
  std::string text = "format: 1\ngarden: " + yaml_text(garden.name) + "\n";
  text +=
      "from: " + iso_date(planned.plan.from) + "\nuntil: " + iso_date(planned.plan.until) + "\n";
  text += "weather:\n";
  for (Eigen::Index day = 0; day < 7; ++day) {
    text += "  - {date: " + iso_date(planned.weather.first_day + std::chrono::days{day}) +
            ", reference et: " + shortest(planned.weather.eto_mm[day]) +
            " mm, rain: " + shortest(planned.weather.rain_mm[day]) + " mm, from: " +
            std::string(to_text(planned.weather.source[static_cast<std::size_t>(day)])) + "}\n";
  }
  text += "zones:\n";
  for (const ZonePlan& zone : planned.plan.zones) text += zone_text(zone, planned.plan);
  return text;
}

}  // namespace runnel

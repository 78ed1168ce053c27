#pragma once

#include <bitset>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "runnel/garden/garden.hpp"

namespace runnel {

/// Minutes of a calendar day in which something may run.
using DayMinutes = std::bitset<std::size_t{24} * 60>;
/// What lies beyond midnight counts for the beginning of the day.
[[nodiscard]] DayMinutes minutes_in(std::span<const Window> stretches);
/// The stretches of which they are made, in order.
[[nodiscard]] std::vector<Window> stretches_of(const DayMinutes& minutes);

/// One wish or rule that narrows when a valve may water, and where it stands.
struct ValveLimit {
  Place at = {};
  DayMinutes minutes = DayMinutes{}.set();
  std::bitset<7> weekdays = std::bitset<7>{0x7F};
  std::optional<bool> odd_dates = {};
  std::optional<int> most_minutes_a_day = {}, most_minutes_a_week = {};
};
/// Of every zone on the valve: the wishes in the garden's order, then the rules.
[[nodiscard]] std::vector<ValveLimit> limits_of(const Garden& garden, int valve);

/// Both at once: the strictest of each. Odd and even dates together leave no day.
[[nodiscard]] ValveLimit both(const ValveLimit& a, const ValveLimit& b);
/// All limits of a valve and the watering hours.
[[nodiscard]] ValveLimit allowance_of(const Garden& garden, int valve);

/// The numbers of the valves that zones have, rising.
[[nodiscard]] std::vector<int> valves_of(const Garden& garden);
/// "terrace bed", or "pots, strip" when they share the valve.
[[nodiscard]] std::string zones_on(const Garden& garden, int valve);
/// Whether the rule is for a zone on that valve.
[[nodiscard]] bool is_for(const WateringRule& rule, const Garden& garden, int valve);

}  // namespace runnel

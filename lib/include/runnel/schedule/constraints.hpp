#pragma once

#include <bitset>
#include <map>
#include <optional>
#include <vector>

#include "runnel/schedule/timer.hpp"
#include "runnel/units/quantity.hpp"

namespace runnel {

/// What one valve may do beside what the timer can: local rules and the gardener's wishes.
struct ValveRules {
  /// [windows] The garden's watering hours, each narrowed to what this valve may use of it.
  WateringHours hours;
  std::bitset<7> weekdays = std::bitset<7>{0x7F};  ///< allowed; 0 = Monday
  std::optional<bool> odd_dates = {};  ///< only odd (true) or only even dates of the month
  std::vector<Date> shut_on = {};      ///< single days without water: wind or frost in the forecast
  std::optional<int> most_minutes_a_day = {};
  std::optional<int> most_minutes_a_week = {};  ///< in any seven days running
};
/// Whether the valve may water on that day.
[[nodiscard]] bool allowed_on(const ValveRules& rules, Date date);

/// Water that some valves may bring together, L.
struct LitreLimit {
  std::vector<int> valves;              ///< their numbers
  std::optional<double> a_day, a_week;  ///< a_week: in any seven days running
};

/// All that a timetable must keep to.
struct Constraints {
  WateringHours hours;
  Timer timer;
  std::map<int, ValveRules> rules = {};  ///< by valve; without an entry: all hours, any day
  std::map<int, Flow> flows = {};        ///< by valve, while it is open; without an entry: none
  std::optional<Flow> supply = {};       ///< for all valves open at once; nothing: enough
  std::vector<LitreLimit> litres = {};

  /// The valve's own rules, else all hours on any day.
  [[nodiscard]] ValveRules rules_of(int valve) const;
  /// Flow of the open valve, L/min; 0 where it is not known.
  [[nodiscard]] double litres_per_minute(int valve) const;
};

/// How far ahead a day pattern keeps to a valve's days.
enum class Keeps { always, this_week, not_at_all };
/// Single days shut count for the week from `from` alone. @param days_ahead looked at for
/// `this_week`.
[[nodiscard]] Keeps keeps_to(const ValveRules& rules, const DayPattern& days, Date from,
                             int days_ahead = 7);

}  // namespace runnel

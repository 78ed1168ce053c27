#include "timetable_limits.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace runnel {
namespace {

// Sums of flows are rounded: what fits to the last digit must not fail by it.
constexpr double kRounding = 1e-9;

WateringHours own_hours_of(int valve, const Constraints& constraints) {
  WateringHours own = constraints.rules_of(valve).hours;
  const WateringHours& hours = constraints.hours;
  const bool within =
      std::equal(own.begin(), own.end(), hours.begin(), hours.end(),
                 [](const Window& narrow, const Window& wide) {
                   return narrow.opens >= narrow.closes ||
                          (narrow.opens >= wide.opens && narrow.closes <= wide.closes);
                 });
  if (!within) throw std::invalid_argument("pack: a valve's hours are not part of the garden's");
  return own;
}

/// How many valves the supply feeds at once at the most: those that need least. Those that need
/// nothing do not count, nor does what one needs that is alone.
int most_fed(std::vector<double> litres_per_minute, double supply_l_min) {
  std::sort(litres_per_minute.begin(), litres_per_minute.end());
  double sum = 0.0;
  int fed = 0;
  for (const double flow : litres_per_minute) {
    if (sum > 0.0 && sum + flow > supply_l_min) break;
    sum += flow;
    ++fed;
  }
  return std::max(fed, 1);
}

LitreCap cap_of(const LitreLimit& limit, std::span<const int> valve_numbers) {
  constexpr double no_end = std::numeric_limits<double>::infinity();
  LitreCap cap{
      .valves = {}, .a_day = limit.a_day.value_or(no_end), .a_week = limit.a_week.value_or(no_end)};
  for (std::size_t v = 0; v < valve_numbers.size(); ++v) {
    if (std::find(limit.valves.begin(), limit.valves.end(), valve_numbers[v]) != limit.valves.end())
      cap.valves.set(v);
  }
  return cap;
}

}  // namespace

Limits::Limits(std::span<const int> valve_numbers, const Constraints& constraints)
    : hours(constraints.hours),
      supply_l_min(std::numeric_limits<double>::infinity()),
      together(std::max(constraints.timer.together, 1)),
      pause_min(std::max(constraints.timer.pause_minutes, 0)) {
  for (const int valve : valve_numbers) {
    own_hours.push_back(own_hours_of(valve, constraints));
    litres_per_minute.push_back(constraints.litres_per_minute(valve));
  }
  for (const LitreLimit& limit : constraints.litres) litres.push_back(cap_of(limit, valve_numbers));
  if (!constraints.supply || together == 1) return;
  supply_l_min = constraints.supply->litres_per_hour() / 60.0 * (1.0 + kRounding);
  // A pause counts as open for the number of valves, not for the supply.
  if (pause_min == 0) together = std::min(together, most_fed(litres_per_minute, supply_l_min));
  if (together == 1) supply_l_min = std::numeric_limits<double>::infinity();
}

bool Limits::supply_counts() const { return std::isfinite(supply_l_min); }

}  // namespace runnel

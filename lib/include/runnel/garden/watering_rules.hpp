#pragma once

#include <bitset>
#include <cstddef>
#include <optional>
#include <vector>

#include "runnel/schedule/timer.hpp"
#include "runnel/units/finding.hpp"

namespace runnel {

/// When the gardener wishes one zone to be watered, within the watering hours. As written.
struct ZoneWishes {
  std::vector<Window> hours = {};          ///< empty: all watering hours
  std::optional<WallTime> finish_by = {};  ///< no run later on that day
  std::bitset<7> not_on = {};              ///< 0 = Monday
  bool evening_fine = false;               ///< leaves may stay wet over night
  Place hours_at = {}, finish_by_at = {}, not_on_at = {};
};

/// A local rule, or one that the gardener keeps. What it does not say is empty.
struct WateringRule {
  std::optional<std::bitset<7>> days = {};  ///< only these; 0 = Monday
  std::optional<bool> odd_dates = {};       ///< only odd (true) or only even ones
  std::vector<Window> hours = {};           ///< only these
  std::vector<Window> not_between = {};
  std::optional<int> most_minutes_a_day = {}, most_minutes_a_week = {};  ///< for each valve
  std::optional<double> most_litres_a_day = {},
                        most_litres_a_week = {};  ///< for all its zones together
  /// By the forecast: mean wind of the day at 2 m, and the day's lowest temperature.
  std::optional<double> not_in_wind_above_m_s = {}, not_below_c = {};
  std::vector<std::size_t> zones = {};  ///< whom it is for: their places in the garden's list
  Place at;
};

}  // namespace runnel

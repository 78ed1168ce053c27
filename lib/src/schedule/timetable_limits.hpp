#pragma once

#include <bitset>
#include <span>
#include <vector>

#include "runnel/schedule/constraints.hpp"

namespace runnel {

constexpr std::size_t kMostValves = 128;
using ValveSet = std::bitset<kMostValves>;

/// A LitreLimit, L; infinite where there is none.
struct LitreCap {
  ValveSet valves;  ///< by index
  double a_day, a_week;
};

/// The constraints as the search asks them: by the index of the valve.
struct Limits {
  /// @throws std::invalid_argument when a valve's own hours are not part of the garden's.
  Limits(std::span<const int> valve_numbers, const Constraints& constraints);

  WateringHours hours;                    ///< the garden's
  std::vector<WateringHours> own_hours;   ///< [valves][windows]
  std::vector<double> litres_per_minute;  ///< [valves] while open
  double supply_l_min;                    ///< infinite where it does not matter
  int together;                           ///< valves open at once
  int pause_min;
  std::vector<LitreCap> litres;

  /// Whether valves that may be open at once can ask more of the supply than it brings.
  [[nodiscard]] bool supply_counts() const;
};

}  // namespace runnel

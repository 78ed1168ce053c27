// Invented gardens of the size that people have: 4-7 mm a day, beds and pots.
#pragma once

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "runnel/schedule/candidates.hpp"

namespace runnel::bench {

inline const Date monday = std::chrono::local_days{std::chrono::year{2026} / 7 / 13};

inline WateringHours two_windows() {
  return {{.opens = WallTime{270}, .closes = WallTime{480}, .after_et = false},
          {.opens = WallTime{1230}, .closes = WallTime{1350}, .after_et = true}};
}

inline Timer household_timer(int valves) {
  Timer timer;
  timer.valves = valves;
  timer.every_n_days = 8;  // 127 sets of weekdays and 35 intervals with their first days
  timer.odd_even = true;
  return timer;
}

inline double share_before(WallTime time) {
  return std::clamp((static_cast<double>(time.count()) / 60.0 - 6.5) / 13.0, 0.0, 1.0);
}

/// Every tenth zone is pots, every third a bed on ground that takes in little: forty of them fill
/// the hours to about 85 %.
inline ZoneTask zone(int number, Eigen::Index members, std::mt19937& random) {
  const auto unit = [&random] { return static_cast<double>(random() % 1000U) / 1000.0; };
  const bool is_pots = number % 10 == 2;
  const double taw_mm = is_pots ? 28.0 : 60.0 + 40.0 * unit();
  Lanes et_mm(members, horizon_days);
  Lanes rain_mm = Lanes::Zero(members, horizon_days);
  for (Eigen::Index day = 0; day < horizon_days; ++day)
    for (Eigen::Index member = 0; member < members; ++member) {
      et_mm(member, day) = 4.0 + 3.0 * unit();
      if (members > 1 && random() % 10U == 0) rain_mm(member, day) = 10.0 * unit();
    }
  return {.name = "zone " + std::to_string(number + 1),
          .valve = number + 1,
          .root_zone = {.p = is_pots ? 0.3 : 0.5,
                        .adjust_p = false,
                        .aim_ks = 1.0,
                        .surplus = is_pots ? Surplus::at_once : Surplus::end_of_day},
          .start = {.depletion_mm = (is_pots ? 0.15 : 0.25) * taw_mm},
          .model = {.kc = Column::Constant(horizon_days, is_pots ? 1.0 : 0.5),
                    .taw_mm = Column::Constant(horizon_days, taw_mm)},
          .horizon = {.et_mm = et_mm, .rain_mm = rain_mm},
          .delivery = {.flow = Flow::litres_per_hour(is_pots ? 36.0 : 700.0),
                       .area = Area::m2(is_pots ? 1.43 : 20.0),
                       .multiplier = 1.1,
                       .leaching_share = is_pots ? 0.1 : 0.0},
          .intake = {.basic_rate = Rate::mm_per_hour(number % 3 == 1 ? 9.0 : 50.0),
                     .surface_storage = Depth::mm(5.0)},
          .et_share_before = share_before};
}

inline std::vector<ZoneTask> garden(int zones, Eigen::Index members, unsigned seed = 3) {
  std::mt19937 random(seed);
  std::vector<ZoneTask> tasks;
  for (int i = 0; i < zones; ++i) tasks.push_back(zone(i, members, random));
  return tasks;
}

}  // namespace runnel::bench

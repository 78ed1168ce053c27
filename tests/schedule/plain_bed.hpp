#pragma once

#include <algorithm>

#include "runnel/schedule/candidates.hpp"

namespace runnel {

/// The run of a candidate whose runs are all alike; 0 without watering.
inline std::chrono::minutes run_of(const Candidate& candidate) {
  return candidate.run_in.empty()
             ? std::chrono::minutes{0}
             : *std::max_element(candidate.run_in.begin(), candidate.run_in.end());
}
inline ValveTimes times_at(const DayPattern& days, const std::vector<WallTime>& starts,
                           std::chrono::minutes run) {
  ValveTimes times{.valve = 1, .days = days, .openings = {}};
  for (const WallTime start : starts) times.openings.push_back({.start = start, .length = run});
  return times;
}

inline const Date monday = std::chrono::local_days{std::chrono::year{2026} / 7 / 13};
inline const WateringHours morning{
    {.opens = WallTime{4 * 60}, .closes = WallTime{10 * 60}, .after_et = false}};

/// 10 m2, 1 mm a minute, no losses, RAW half of TAW; ground that takes in any rate, so that there
/// are no cycles.
inline ZoneTask bed(double taw_mm, double start_mm, const Column& et_mm, const Column& rain_mm) {
  ZoneTask task;
  task.name = "bed";
  task.valve = 1;
  task.root_zone = {.p = 0.5, .adjust_p = false, .aim_ks = 1.0, .surplus = Surplus::end_of_day};
  task.start = {.depletion_mm = start_mm};
  task.model = {.kc = Column::Constant(horizon_days, 1.0),
                .taw_mm = Column::Constant(horizon_days, taw_mm)};
  task.horizon = {.et_mm = et_mm.transpose(), .rain_mm = rain_mm.transpose()};
  task.delivery = {.flow = Flow::litres_per_hour(600.0),
                   .area = Area::m2(10.0),
                   .multiplier = 1.0,
                   .leaching_share = 0.0};
  task.intake = {.basic_rate = Rate::mm_per_hour(1000.0), .surface_storage = Depth::mm(10.0)};
  task.et_share_before = [](WallTime) { return 0.0; };
  return task;
}

}  // namespace runnel

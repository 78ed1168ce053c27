#pragma once

#include <vector>

#include "runnel/schedule/candidates.hpp"

namespace runnel {

/// Whether each day is watered, of so many.
[[nodiscard]] std::vector<bool> watered_days(const DayPattern& days, Date from,
                                             int length = horizon_days);
/// Whether each day of the task's horizon is.
[[nodiscard]] std::vector<bool> watered_days(const DayPattern& days, Date from,
                                             const ZoneTask& task);

/// A watering after a share of the day's ET, and for how long in all its cycles.
struct Slot {
  double et_share;
  std::chrono::minutes length;
};
/// The slots of cycles whose times are not known yet: each stands at the end of its window, or so
/// many intervals before, whatever its length, so that more minutes never do worse. In order of the
/// share, cycles of one share together.
[[nodiscard]] std::vector<Slot> slots_of(const ZoneTask& task, const Candidate& candidate,
                                         const WateringHours& hours);

/// On each day watered, each slot's water.
[[nodiscard]] Waterings waterings(const std::vector<Slot>& slots, const std::vector<bool>& on,
                                  double net_mm_per_minute);

}  // namespace runnel

#include "slots.hpp"

#include <algorithm>
#include <map>

namespace runnel {
namespace {

using std::chrono::minutes;

/// Cycles of one day that fall on the same share of its ET, together, in order.
std::vector<Slot> merged(std::vector<Slot> slots) {
  std::map<double, minutes> by_share;
  for (const Slot& slot : slots) by_share[slot.et_share] += slot.length;
  slots.clear();
  for (const auto& [share, length] : by_share)
    slots.push_back({.et_share = share, .length = length});
  return slots;
}

double share_before(const ZoneTask& task, const Window& window, WallTime start) {
  if (task.root_zone.surplus == Surplus::at_once) return task.et_share_before(start);
  return window.after_et ? 1.0 : 0.0;
}

}  // namespace

std::vector<bool> watered_days(const DayPattern& days, Date from, int length) {
  std::vector<bool> on(static_cast<std::size_t>(length));
  for (int d = 0; d < length; ++d)
    on[static_cast<std::size_t>(d)] = waters_on(days, from + std::chrono::days{d});
  return on;
}

std::vector<bool> watered_days(const DayPattern& days, Date from, const ZoneTask& task) {
  return watered_days(days, from, static_cast<int>(task.horizon.et_mm.cols()));
}

Waterings waterings(const std::vector<Slot>& slots, const std::vector<bool>& on,
                    double net_mm_per_minute) {
  Waterings result{.et_share_before = std::vector<double>(slots.size()),
                   .net_mm = Eigen::ArrayXXd::Zero(static_cast<Eigen::Index>(slots.size()),
                                                   static_cast<Eigen::Index>(on.size()))};
  for (std::size_t s = 0; s < slots.size(); ++s) {
    result.et_share_before[s] = slots[s].et_share;
    for (std::size_t d = 0; d < on.size(); ++d)
      if (on[d])
        result.net_mm(static_cast<Eigen::Index>(s), static_cast<Eigen::Index>(d)) =
            static_cast<double>(slots[s].length.count()) * net_mm_per_minute;
  }
  return result;
}

std::vector<Slot> slots_of(const ZoneTask& task, const Candidate& candidate,
                           const WateringHours& hours) {
  std::vector<Slot> slots;
  for (std::size_t w = 0; w < hours.size(); ++w) {
    for (int after = 0; after < candidate.cycles_in[w]; ++after) {
      const WallTime start = std::max(hours[w].opens, hours[w].closes - after * candidate.repeat);
      slots.push_back(
          {.et_share = share_before(task, hours[w], start), .length = candidate.run_in[w]});
    }
  }
  return merged(std::move(slots));
}

double et_share_before(const ZoneTask& task, WallTime start, const WateringHours& hours) {
  const auto window = std::find_if(hours.begin(), hours.end(), [start](const Window& one) {
    return start >= one.opens && start < one.closes;
  });
  return window == hours.end() ? task.et_share_before(start) : share_before(task, *window, start);
}

Waterings waterings_of(const ZoneTask& task, const ValveTimes& times, const WateringHours& hours,
                       Date from) {
  std::vector<Slot> slots;
  for (const ValveTimes::Opening& opening : times.openings)
    slots.push_back(
        {.et_share = et_share_before(task, opening.start, hours), .length = opening.length});
  return waterings(merged(std::move(slots)), watered_days(times.days, from, task),
                   task.delivery.net_mm_per_minute());
}

}  // namespace runnel

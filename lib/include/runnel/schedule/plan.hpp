#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "runnel/schedule/candidates.hpp"
#include "runnel/schedule/timetable.hpp"
#include "runnel/units/display.hpp"
#include "runnel/units/finding.hpp"

namespace runnel {

/// What a programme does to one zone over the week planned.
struct ZonePlan {
  std::string name;
  int valve;
  Delivery delivery;
  int waterings = 0;  ///< runs in the week, cycles counted each
  int watering_days = 0;
  double gross_litres = 0;    ///< in the week
  double gross_mm = 0;        ///< in the week, over the zone's area
  double demand_mm = 0;       ///< ETc without stress in the week, mean of futures
  double rain_mm = 0;         ///< entering the root zone in the week, mean of futures
  double drained_mm = 0;      ///< in the week, mean of futures
  double evaporated_mm = 0;   ///< from the soil surface in the week, mean of futures, part of what
                              ///< was used; 0 with the single coefficient
  double wetted_share = 1.0;  ///< of the root zone; depletions and the limit are of that part
  double start_depletion_mm = 0, end_depletion_mm = 0;  ///< at the plan's ends, mean of futures
  Column expected_mm;  ///< depletion at the end of each day planned, mean of futures
  SoilState end{.depletion_mm = 0,
                .surface_fw = 0};  ///< all the state at the plan's end, mean of futures
  double limit_mm = 0;             ///< least of the week
  int days_judged = 0;             ///< through which harm counts: two weeks; of an absence all of
                                   ///< it and the day of coming home
  int futures = 1;                 ///< looked at
  int futures_beyond = 0;          ///< of them, beyond the limit on some day judged
  // Over the days judged, of the worst future that counts; 0 = unharmed.
  double beyond_mm = 0;  ///< depletion beyond the limit, summed over the days
  int days_beyond = 0;
  double unmet_mm = 0;               ///< ET that plants go without
  std::optional<Date> first_beyond;  ///< when the futures beyond the limit are more than may be
  BalanceTrace trace;                ///< of the first future, all days looked at
  Waterings waterings_mm;            ///< as credited, all days looked at
  /// How far beyond the limit on a day that is; 0 = unharmed.
  [[nodiscard]] double beyond_mm_a_day() const;
};

/// A valve to be opened by hand once, before the plan's first day.
struct HandRun {
  int valve;
  int minutes;
};

/// A week's programmes, or those of an absence, and what they come to.
struct Plan {
  Date from{}, until{};               ///< first and last day planned
  std::vector<Programme> programmes;  ///< to type, by valve
  std::vector<ValveTimes> valves;     ///< [valves in use], by valve: what they come to
  std::vector<HandRun> by_hand;       ///< beside the programmes
  std::vector<ZonePlan> zones;        ///< in the garden's order
  /// Minutes to run that valve by hand, 0 for none.
  [[nodiscard]] int by_hand_min(int valve) const;
  Cost cost, bound;
  bool proven = false;
  /// Whether every zone stays within its limit, in all but the futures that may not.
  [[nodiscard]] bool unharmed() const;
};

/// Of each zone that cannot be kept within its limit, by how much and from when.
[[nodiscard]] std::vector<Finding> shortfalls(const Plan& plan, const Display& display = {});

/// What a valve's times do to one of its zones, after a run by hand (0: none) on the first day.
[[nodiscard]] ZonePlan zone_plan(const ZoneTask& task, const ValveTimes& times, int by_hand_min,
                                 const Constraints& constraints, Date from,
                                 const SearchOptions& options);

/// From zone tasks to the week's programme: candidates, timetable, independent check, outcome per
/// zone.
/// @param in_force by valve, in any order: what the timer is set to. Where a valve has one, each
/// setting that is changed has its price (schedule/changes.hpp), and start times are kept where
/// that can be. Not looked at where valves share programmes.
/// @param by_hand already decided for before the first day: they stay, and none is added on such a
/// valve.
/// @throws std::logic_error should the independent check find a violation (a defect, not an input
/// fault).
[[nodiscard]] Plan plan_week(std::span<const ZoneTask> tasks, const Constraints& constraints,
                             Date from, const SearchOptions& options,
                             std::span<const ValveTimes> in_force = {},
                             std::span<const HandRun> by_hand = {});

}  // namespace runnel

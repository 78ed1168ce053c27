#pragma once

#include <chrono>
#include <compare>
#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "runnel/delivery/cycle_soak.hpp"
#include "runnel/delivery/delivery.hpp"
#include "runnel/schedule/constraints.hpp"
#include "runnel/schedule/programme.hpp"
#include "runnel/soil/balance.hpp"

namespace runnel {

/// Days a programme is looked at, at least: its week, and a second one, since it runs on until
/// someone changes it.
inline constexpr int horizon_days = 14;

/// All that choosing minutes for one zone needs. Horizon and model cover `horizon_days`, or for an
/// absence all of its days and the one after.
struct ZoneTask {
  std::string name;
  int valve;
  RootZone root_zone;
  SoilState start;
  ZoneModel model;
  Horizon horizon;
  Delivery delivery;
  Intake intake;
  bool overhead = false;  ///< wets the leaves
  /// Share of the day's ET that is over at a wall-clock time; for pots (Surplus::at_once). Beds go
  /// by Window::after_et.
  std::function<double(WallTime)> et_share_before;
};

/// Harm first, then one price in water; whole numbers, so that the order is total. Adds over
/// valves.
struct Cost {
  /// What plants suffer in futures that go beyond the limit, micrometres: depletion beyond it (each
  /// day's worst, of the wetted part) and the ET they go without, without which a zone that is
  /// beyond its limit anyhow would not be worth watering. Stress within the limit is what the aim
  /// accepts: no harm. The mean of the futures left when the allowed worst are not counted.
  std::int64_t harm_um = 0;
  /// Centilitres a week: losses (uneven watering, what drains or evaporates beyond what does
  /// without watering), water missing from the wetted part at the end (of several futures only what
  /// would be lost with it), 2 % of the weekly need per watering day; where leaves are sprayed, the
  /// weekly need times the evening's part in the watering.
  std::int64_t price_cl = 0;
  /// Harm decides; between equal harms the price.
  friend auto operator<=>(const Cost&, const Cost&) = default;
  /// Of both valves together.
  friend Cost operator+(Cost a, Cost b) { return {a.harm_um + b.harm_um, a.price_cl + b.price_cl}; }
};

/// One way of watering a valve: days, how many cycles in each window, how long they run there, the
/// least pause between cycles.
struct Candidate {
  DayPattern days;
  std::vector<int> cycles_in;                ///< [windows]
  std::vector<std::chrono::minutes> run_in;  ///< [windows] all alike unless the timer has a length
                                             ///< for each start; 0 without cycles
  std::chrono::minutes soak{0};
  std::chrono::hours repeat{0};  ///< from start to start, all round the day, where the timer has
                                 ///< one start and an interval; 0: each start is free
  std::vector<WallTime> keep_starts = {};  ///< in order of time: taken, where they are free, before
                                           ///< any others
  int by_hand_min = 0;                     ///< run once by hand before the first day
  bool in_force = false;                   ///< what the timer is set to, start times and all
  Cost cost;
};

/// What a search for programmes may risk and propose.
struct SearchOptions {
  double risk = 0.10;    ///< stated share of futures that may go beyond the limit
  bool by_hand = false;  ///< a run by hand before the first day may be proposed
  /// Days on which nobody is there to change the programme; 0: it is planned for its week.
  int away_days = 0;
  /// The absence, else a week.
  [[nodiscard]] int planned_days() const { return away_days > 0 ? away_days : 7; }
};
/// How many of `members` futures may: max(0, floor(risk (n + 1)) - 1).
[[nodiscard]] Eigen::Index allowed_beyond(Eigen::Index members, double risk);
/// Mean over futures and days of the depletion that still counts as unharmed, mm of the wetted
/// part.
[[nodiscard]] double mean_limit_mm(const ZoneTask& task);
/// ETc without stress, mm over the zone, mean of the futures. With a dual coefficient as if the
/// ground were wetted twice a week, since what it evaporates depends on that. [days]
[[nodiscard]] Column usual_demand_mm(const ZoneTask& task);

/// Every sensible candidate of a valve, cheapest first (ties by a fixed order), never empty: lesser
/// shares of some and "no watering" are among them. All keep to the valve's days (for good where
/// the timer has such patterns, else in the week from `from` or through the absence), windows and
/// minutes; below 450 where a valve has a programme of its own.
///
/// For each day pattern and spread of cycles over the windows: the fewest minutes (a multiple of
/// the timer's step) with which the programme, run over all days of the horizon, stays within the
/// limit in all but the allowed number of futures and leaves the root zone, in the mean of the
/// futures, no drier at their end than max(start, the limit), or with one future max(start, half
/// the limit). A future that first goes beyond its limit after the days planned and the next on
/// which the valve may be watered counts as a fifth of one: a plan in five runs on so long (design
/// decision, no source). Where that cannot be had: the fewest minutes that do the least harm and
/// leave the root zone as moist as that pattern can, so that no watering brings more than fills it.
/// Where the timer takes a length for each start, the cheapest are then shortened window by window,
/// the last one first, as long as that does as well and costs no more.
/// @param tasks the zones on this valve; the neediest decides.
[[nodiscard]] std::vector<Candidate> candidates(std::span<const ZoneTask> tasks,
                                                const ValveRules& rules, const Timer& timer,
                                                Date from, const SearchOptions& options);

/// The same candidate with other runs [windows]: its soak and cost anew.
[[nodiscard]] Candidate with_runs(std::span<const ZoneTask> tasks, const Candidate& candidate,
                                  std::vector<std::chrono::minutes> run_in, const ValveRules& rules,
                                  const Timer& timer, Date from, const SearchOptions& options);

/// The longest single run that the timer takes and the ground of every zone takes in, in whole
/// minutes; 0 when water runs off within the first.
[[nodiscard]] std::chrono::minutes longest_run(std::span<const ZoneTask> tasks, const Timer& timer);

/// The pause after each cycle of that length on this valve, in whole minutes: the zone that takes
/// longest decides.
[[nodiscard]] std::chrono::minutes soak_minutes(std::span<const ZoneTask> tasks,
                                                std::chrono::minutes run);

/// The share of the day's ET before water that starts then: of a pot by the sun, of a bed none
/// before solar noon and all after it; in none of the windows, by the sun.
[[nodiscard]] double et_share_before(const ZoneTask& task, WallTime start,
                                     const WateringHours& hours);
/// The waterings that a valve's times mean for a zone. [slots, days]
[[nodiscard]] Waterings waterings_of(const ZoneTask& task, const ValveTimes& times,
                                     const WateringHours& hours, Date from);

}  // namespace runnel

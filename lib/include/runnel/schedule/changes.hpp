#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "runnel/schedule/candidates.hpp"
#include "runnel/schedule/constraints.hpp"
#include "runnel/schedule/programme.hpp"

namespace runnel {

/// A watering day a week more, or a setting to type anew, must be worth this share of a zone's
/// weekly water (design decision, no source).
inline constexpr double setting_share = 0.02;

/// Whether the two water on the same days and are set alike: of intervals the first date may
/// differ by whole intervals.
[[nodiscard]] bool same_days(const DayPattern& a, const DayPattern& b);

/// Start times to set anew: one that goes and one that comes are one that moves. Both rising.
[[nodiscard]] int starts_changed(std::span<const WallTime> before, std::span<const WallTime> after);

/// Lengths to set anew: where all are alike before and after, they are one setting.
[[nodiscard]] int lengths_changed(std::span<const int> before_min, std::span<const int> after_min);

/// What a person must set anew on the timer for one valve: the days count one; so does each start
/// time added, dropped or moved; lengths that are alike for all starts count one together, others
/// one for each that differs, in order of time. A valve that is to stay shut loses its starts, its
/// days and lengths can stay as they are. Starts of an interval are counted each.
[[nodiscard]] int settings_changed(const ValveTimes& before, const ValveTimes& after);

/// The candidates of a valve whose times in force are known, cheapest first: each at the price of
/// the settings it changes (`setting_share` of its zones' weekly litres each) and told to keep the
/// start times. Added to them, where timer, rules and ground still allow it: what is in force, with
/// the harm it does at its own start times.
/// With `options.by_hand`, where that goes beyond its limit, the same after one run by hand before
/// the first day, of the fewest minutes with which there is the least harm, and the candidates
/// after a run of such minutes or of those that fill the root zone, each at the price of one
/// setting more. No run by hand is longer than the ground takes in, nor proposed where the valve
/// must stay shut on that day or the one before, beyond its minutes, or where litres are limited;
/// beside a change not where minutes are.
/// @param by_hand_min of a run by hand that is decided already: all candidates come after it, and
/// no other is proposed.
/// @param list from candidates().
[[nodiscard]] std::vector<Candidate> with_changes_priced(
    std::span<const ZoneTask> tasks, std::vector<Candidate> list, const ValveTimes& in_force,
    const Constraints& constraints, Date from, const SearchOptions& options, int by_hand_min = 0);

/// The candidate at the price of what it changes; its cost is without.
[[nodiscard]] Candidate at_price_of_change(std::span<const ZoneTask> tasks, Candidate candidate,
                                           const ValveTimes& in_force, const WateringHours& hours);

/// What starts cost that the timetable has moved though the candidate hoped to keep them: other
/// valves took their time. As `Cost::price_cl`.
[[nodiscard]] std::int64_t price_of_moved_cl(std::span<const ZoneTask> tasks,
                                             const Candidate& candidate, const ValveTimes& in_force,
                                             const ValveTimes& placed, const WateringHours& hours);

/// A zone's waterings and a run by hand before the first day's ET. [slots, days]
[[nodiscard]] Waterings with_hand_run(const ZoneTask& task, Waterings waterings, int minutes);

}  // namespace runnel

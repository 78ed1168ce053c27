#pragma once

#include <span>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/site_weather.hpp"
#include "runnel/garden/zone_task.hpp"
#include "runnel/schedule/constraints.hpp"
#include "runnel/schedule/programme.hpp"

namespace runnel {

/// All that a timetable must keep to, from the garden's hours, timer, supply, rules and wishes and
/// from the forecast of the week that begins `from`.
///
/// A valve of several zones keeps to the strictest of each. Where rules leave a valve two pieces of
/// one of the garden's windows, that window is cut, for all valves, so that no valve has more than
/// one piece of any. A valve that draws more than the supply gives is reckoned with the supply: it
/// brings no more.
/// @param zones as prepare_zone made them, in the garden's order.
/// @param away_days on which nobody is there: where the clocks change within them, the timer goes
/// on by the old clock, and only hours are left that are allowed by both; a rule that waits for
/// what the forecast says is doubted.
/// @param findings get remarks on rules that wait for a forecast and on what the supply feeds at
/// once; doubts on days shut by the forecast, where a valve draws more than the supply, or has no
/// day this week.
[[nodiscard]] Constraints constraints_of(const Garden& garden, const AssumedWeather& weather,
                                         std::span<const PreparedZone> zones, Date from,
                                         std::vector<Finding>& findings, int away_days = 0);

/// A doubt for each valve whose days keep to its rules this week and not for always, with the date
/// before which they must be set anew: odd dates typed as days of the week, or as every second day
/// past the end of a month of 31.
[[nodiscard]] std::vector<Finding> days_to_set_anew(const Garden& garden,
                                                    const Constraints& constraints,
                                                    std::span<const ValveTimes> valves, Date from);

}  // namespace runnel

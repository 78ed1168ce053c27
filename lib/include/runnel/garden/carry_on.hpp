#pragma once

#include <map>
#include <optional>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/saved_plan.hpp"
#include "runnel/garden/site_weather.hpp"
#include "runnel/soil/balance.hpp"

namespace runnel {

/// Once that a valve was open.
struct PastRun {
  Date date;
  int valve;
  WallTime start;
  double minutes;
};

/// What came down on a garden in the days since a plan began, where that is not as the weather says
/// or was decided by people.
struct PastWater {
  std::vector<PastRun> runs;
  std::map<Date, double> rain_mm = {};  ///< in the garden's own gauge, in place of the weather's
};

/// What the plan's programmes make the valves do on the days before `date`, over and over beyond
/// its last day, and what it says is started by hand. A run by hand counts as early in the day.
[[nodiscard]] PastWater planned_water(const SavedPlan& plan, Date date);

/// How dry each zone of the garden is on the morning of `date`: from the plan's start through the
/// days since, with the weather observed, plants as they were on those days, and the water that
/// ran. Nothing for a zone of which the plan knows nothing, which is remarked. Days that were not
/// observed are as the plan assumed, which is doubted; their ET in shade is that of the most alike
/// of the last seven days observed. Days observed from `date` on are not looked at.
/// @return [zones of the garden]
/// @throws InputError when `date` is before the plan's first day or a year after it, or a day
/// before `date` was neither observed nor planned.
[[nodiscard]] std::vector<std::optional<SoilState>> states_at(const Garden& garden,
                                                              const SiteWeather& weather,
                                                              const SavedPlan& plan, Date date,
                                                              const PastWater& water,
                                                              std::vector<Finding>& findings);

/// Whether the plan is one to carry on from on the morning of `date`; remarks what has changed
/// since it was made: the garden file, the observed days before it.
/// @throws InputError when it is another garden's, or begins after `date` or a year before it.
void compare_with_plan(const Garden& garden, const SiteWeather& weather, const SavedPlan& plan,
                       Date date, std::vector<Finding>& findings);

}  // namespace runnel

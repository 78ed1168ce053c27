#pragma once

#include <optional>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/saved_plan.hpp"
#include "runnel/garden/site_weather.hpp"
#include "runnel/garden/water_log.hpp"
#include "runnel/soil/balance.hpp"

namespace runnel {

/// Once that a valve was open.
struct PastRun {
  Date date;
  int valve;
  WallTime start;
  double minutes;
  bool by_hand = false;  ///< started by a person, as the plan asked
};

/// The water of the days since a plan began, as far as people decide it or have found otherwise.
struct PastWater {
  std::vector<PastRun> runs;  ///< as planned
  WaterLog log = {};  ///< what it says goes before the runs, the weather's rain and the state
};

/// What the plan's programmes make the valves do on the days before `date`, over and over beyond
/// its last day, and what it says is started by hand. A run by hand counts as early in the day.
[[nodiscard]] PastWater planned_water(const SavedPlan& plan, Date date);

/// How dry each zone of the garden is on the morning of `date`: from the plan's start through the
/// days since, with the weather observed, plants as they were on those days, the water that ran by
/// plan and log, and the gauges' rain. From a moisture reading of one of the evenings since, or of
/// that before the plan's first day, the zone goes on with what was found. A plan that begins on
/// `date` has its own state. Nothing for a zone of which the plan knows nothing, which is remarked.
/// Days that were not observed are as the plan assumed, which is doubted; their ET in shade is that
/// of the most alike of the last seven days observed. Days from `date` on are not looked at.
/// @return [zones of the garden]
/// @throws InputError when `date` is before the plan's first day or a year after it, or a day
/// before `date` was neither observed nor planned.
[[nodiscard]] std::vector<std::optional<SoilState>> states_at(const Garden& garden,
                                                              const SiteWeather& weather,
                                                              const SavedPlan& plan, Date date,
                                                              const PastWater& water,
                                                              std::vector<Finding>& findings);

/// A day of a zone that is over.
struct PastDay {
  Date date;
  double end_mm;     ///< depletion in the evening
  double limit_mm;   ///< of that day
  double beyond_mm;  ///< how far it went beyond the limit where that is judged: a bed after the
                     ///< morning's water, a pot before each watering; 0: it did not
  std::optional<double> found_mm = {};  ///< by a moisture reading in the evening: it goes on so
  /// Whether it went beyond the limit.
  [[nodiscard]] bool beyond() const { return beyond_mm > 0.0; }
};
/// The days that `states_at` goes through, zone by zone; none of a zone that the plan does not
/// know. [zones of the garden] @throws InputError as states_at.
[[nodiscard]] std::vector<std::vector<PastDay>> days_until(const Garden& garden,
                                                           const SiteWeather& weather,
                                                           const SavedPlan& plan, Date date,
                                                           const PastWater& water);

/// Whether the plan is one to carry on from on the morning of `date`; remarks what has changed
/// since it was made: the garden file, the observed days before it.
/// @throws InputError when it is another garden's, or begins after `date` or a year before it.
void compare_with_plan(const Garden& garden, const SiteWeather& weather, const SavedPlan& plan,
                       Date date, std::vector<Finding>& findings);

}  // namespace runnel

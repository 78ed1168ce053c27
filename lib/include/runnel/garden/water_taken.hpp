#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <span>
#include <vector>

#include "runnel/delivery/delivery.hpp"
#include "runnel/garden/carry_on.hpp"
#include "runnel/garden/site_weather.hpp"
#include "runnel/garden/water_log.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/column.hpp"

namespace runnel {

/// Water on each zone on each of some days: what a plan meant, or what really was.
struct WaterTaken {
  Date first_day;
  Lanes timer_min;    ///< [zones, days]; how long the timer had the zone's valve open
  Lanes by_hand_min;  ///< [zones, days]; how long a person had
  Lanes by_hand_mm;   ///< [zones, days]; besides, from a can or a hose: mean over the zone

  /// No water on any of those zones and days.
  [[nodiscard]] static WaterTaken none(Date first_day, std::size_t zones, Eigen::Index days);
  /// How long the valve was open in all. [zones, days]
  [[nodiscard]] Lanes valve_min() const { return timer_min + by_hand_min; }
  /// Of that zone, all that entered its root zone: the valve's minutes times the net depth a minute
  /// brings, and what came from a can or a hose in full, mm. [days]
  [[nodiscard]] Column net_mm(std::size_t zone, const Delivery& delivery) const;
};

/// Minutes of each day. @param runs on the days from `first_day` on, others are left out.
/// @param valves of the zones; of a zone of which nothing is known, one that no run is on.
[[nodiscard]] WaterTaken by_day(std::span<const PastRun> runs, std::span<const int> valves,
                                Date first_day, Eigen::Index days);

/// What really ran: the log where it says something, else what was planned. "ran" and "did not run"
/// take the place of all that the timer was to do for that zone and day, "by hand" of the run that
/// the plan asked a person for; several "ran", or "by hand", in one day add up. Litres and depths
/// of "ran" are taken as the valve's (minutes at its flow), those of "by hand" as poured. Entries
/// of other days are passed over.
/// @param planned as meant, by the programme of each day; its zones in the garden's order.
/// @param deliveries of the zones, flow and area > 0; as many as `planned` has.
/// @throws std::invalid_argument when there are not as many, or an entry names another zone.
[[nodiscard]] WaterTaken what_really_ran(const WaterLog& log, WaterTaken planned,
                                         std::span<const Delivery> deliveries);

/// The same for the runs of one zone's valve, which keep their hours: what ran instead is taken to
/// have begun when the timer's first run of that day would have, and what came by hand early in
/// the day; litres and depths by hand as minutes that bring as much to the root zone. Runs of other
/// valves are left out.
[[nodiscard]] std::vector<PastRun> runs_of_zone(const WaterLog& log, std::size_t zone, int valve,
                                                std::span<const PastRun> planned,
                                                const Delivery& delivery);

/// What the garden's own gauge caught, by day.
[[nodiscard]] std::map<Date, double> garden_rain_mm(const WaterLog& log);

/// Puts what it caught in place of the weather's rain, on the days that there are.
void take_gauge(const WaterLog& log, DailyWeather& weather);

/// read_site_weather, the observed rain that of the log's own gauge where it has some.
/// @throws InputError as read_site_weather.
[[nodiscard]] SiteWeather read_weather_with_gauge(const Garden& garden, const WaterLog& log,
                                                  std::vector<Finding>& findings);

/// Rain for that zone: the log's gauge in place of the weather's on the days that have one. A gauge
/// of the zone, which has caught only what reached it, goes before the garden's, and is divided by
/// `rain_reaches` (> 0, else the weather's is kept), which the balance multiplies with.
/// @param rain_mm the weather's, from `first_day` on. [days]
[[nodiscard]] Column rain_with_gauges(const WaterLog& log, std::size_t zone, double rain_reaches,
                                      Date first_day, Column rain_mm);

}  // namespace runnel

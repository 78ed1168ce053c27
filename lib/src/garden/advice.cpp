#include "runnel/garden/advice.hpp"

#include <algorithm>
#include <chrono>
#include <set>

#include "forecast_rules.hpp"
#include "runnel/garden/plan_garden.hpp"
#include "runnel/schedule/days_within.hpp"
#include "runnel/soil/rain.hpp"

namespace runnel {
namespace {

using std::chrono::days;

constexpr int week_days = 7;
/// Rain that a gardener still has in mind; the balance decides what is left of it.
constexpr Eigen::Index recent_rain_days = 7;

/// One valve with its zones, and the days of the horizon on which its water is left out.
class ValveWaterings {
 public:
  ValveWaterings(const GardenPlan& planned, const ValveTimes& times, double risk)
      : planned_(planned), times_(times), risk_(risk) {
    for (std::size_t z = 0; z < planned.zones.size(); ++z)
      if (planned.zones[z].task.valve == times.valve) zones_.push_back(z);
  }

  [[nodiscard]] bool waters(int day) const {
    return waters_on(times_.days, planned_.plan.from + days{day});
  }
  /// Whether it waters then in the morning (`after_noon` false), or after solar noon.
  [[nodiscard]] bool waters(int day, bool after_noon) const {
    return waters(day) && std::any_of(times_.openings.begin(), times_.openings.end(),
                                      [&](const ValveTimes::Opening& opening) {
                                        return is_after_noon(opening.start) == after_noon;
                                      });
  }
  [[nodiscard]] bool is_left_out(int day) const { return left_out_.contains(day); }
  [[nodiscard]] const std::vector<std::size_t>& zones() const { return zones_; }

  /// The last day on which leaving it out that day, too, is judged.
  [[nodiscard]] int judged_until(int day) const {
    const auto looked_at = static_cast<int>(planned_.weather.source.size());
    for (int next = day + 1; next < looked_at; ++next)
      if (waters(next) && !is_left_out(next)) return std::max(next, week_days - 1);
    return looked_at - 1;
  }
  /// Leaves it out where all zones stay within their limits.
  bool leave_out(int day) {
    left_out_.insert(day);
    const int until = judged_until(day);
    const bool all_keep = std::all_of(zones_.begin(), zones_.end(), [&](std::size_t z) {
      return days_within(planned_.zones[z].task, given(z), risk_) > until;
    });
    if (!all_keep) left_out_.erase(day);
    return all_keep;
  }

  [[nodiscard]] WateringAdvice about(int day, WateringAdvice::Why why) const {
    WateringAdvice advice{
        .why = why, .date = planned_.plan.from + days{day}, .valve = times_.valve, .zones = zones_};
    for (const std::size_t z : zones_) {
      const ZonePlan& zone = planned_.plan.zones[z];
      if (zone.watering_days > 0)
        advice.litres += (zone.gross_litres - by_hand_litres(zone)) / zone.watering_days;
      advice.start_assumed = advice.start_assumed || planned_.zones[z].start_assumed;
    }
    return advice;
  }

 private:
  [[nodiscard]] bool is_after_noon(WallTime start) const {
    const WateringHours& hours = planned_.constraints.hours;
    return std::any_of(hours.begin(), hours.end(), [start](const Window& window) {
      return window.after_et && start >= window.opens && start < window.closes;
    });
  }
  [[nodiscard]] Waterings given(std::size_t zone) const {
    Waterings given = planned_.plan.zones[zone].waterings_mm;
    // What is run by hand stands first, and is not the timer's.
    const Eigen::Index by_hand = by_hand_min() > 0 ? 1 : 0;
    for (const int day : left_out_)
      given.net_mm.col(day).tail(given.net_mm.rows() - by_hand).setZero();
    return given;
  }
  [[nodiscard]] int by_hand_min() const { return planned_.plan.by_hand_min(times_.valve); }
  [[nodiscard]] double by_hand_litres(const ZonePlan& zone) const {
    return (zone.delivery.flow * Duration::minutes(by_hand_min())).litres();
  }

  const GardenPlan& planned_;
  const ValveTimes& times_;
  double risk_;
  std::vector<std::size_t> zones_;
  std::set<int> left_out_;
};

std::vector<FrostDay> frost_days(const GardenPlan& planned) {
  std::vector<FrostDay> frost;
  const auto days_planned = static_cast<int>((planned.plan.until - planned.plan.from).count()) + 1;
  for (int day = 0; day < days_planned; ++day) {
    const Date date = planned.plan.from + days{day};
    const auto lowest_c = forecast_of(planned.weather, date).lowest_c;
    if (lowest_c && *lowest_c <= frost_caution_c)
      frost.push_back({.date = date, .lowest_c = *lowest_c});
  }
  return frost;
}

/// Days of the week whose water would lie there on a frosty morning.
std::set<int> days_into_frost(const ValveWaterings& valve, const std::vector<FrostDay>& frost,
                              Date from) {
  std::set<int> into_frost;
  for (const FrostDay& night : frost) {
    const int day = static_cast<int>((night.date - from).count());
    if (valve.waters(day, false)) into_frost.insert(day);
    if (day > 0 && valve.waters(day - 1, true)) into_frost.insert(day - 1);
  }
  return into_frost;
}

/// Rain of the last observed days that was more than leaves hold.
double rained_mm(const AssumedWeather& weather) {
  const Eigen::Index known = weather.rain_before_mm.size();
  const Eigen::Index recent = std::min(known, recent_rain_days);
  if (recent == 0) return 0.0;
  return rain_on_zone(weather.rain_before_mm.tail(recent).transpose(),
                      weather.eto_before_mm.tail(recent).transpose(), 1.0, 0.0)
      .entering_mm.sum();
}

/// Rain of the forecast up to a day of the plan, likewise.
double expected_mm(const AssumedWeather& weather, int until) {
  const Lanes rain_mm =
      rain_on_zone(weather.rain_mm.transpose(), weather.eto_mm.transpose(), 1.0, 0.0).entering_mm;
  double sum_mm = 0.0;
  for (int day = 0; day <= until; ++day)
    if (weather.source[static_cast<std::size_t>(day)] == DaySource::forecast)
      sum_mm += rain_mm(0, day);
  return sum_mm;
}

/// The week's first watering that is still given.
std::optional<int> first_watering(const ValveWaterings& valve) {
  for (int day = 0; day < week_days; ++day)
    if (valve.waters(day) && !valve.is_left_out(day)) return day;
  return std::nullopt;
}

/// The week's first watering, where rain makes it needless.
std::optional<WateringAdvice> rain_advice(const Garden& garden, const GardenPlan& planned,
                                          ValveWaterings& valve) {
  const bool rain_reaches =
      std::any_of(valve.zones().begin(), valve.zones().end(),
                  [&](std::size_t z) { return garden.zones[z].rain_reaches > 0.0; });
  const auto day = first_watering(valve);
  if (!day || !rain_reaches) return std::nullopt;
  WateringAdvice advice = valve.about(*day, WateringAdvice::Why::rain);
  advice.rained_mm = rained_mm(planned.weather);
  advice.rain_expected_mm = expected_mm(planned.weather, valve.judged_until(*day));
  if (advice.rained_mm + advice.rain_expected_mm <= 0.0) return std::nullopt;
  advice.leave_out = valve.leave_out(*day);
  if (!advice.leave_out) return std::nullopt;
  return advice;
}

}  // namespace

Advice advice(const Garden& garden, const GardenPlan& planned, double risk) {
  Advice all{.frost = frost_days(planned)};
  std::vector<WateringAdvice> for_rain;
  for (const ValveTimes& times : planned.plan.valves) {
    if (times.openings.empty()) continue;
    ValveWaterings valve(planned, times, risk);
    for (const int day : days_into_frost(valve, all.frost, planned.plan.from)) {
      all.waterings.push_back(valve.about(day, WateringAdvice::Why::frost));
      all.waterings.back().leave_out = valve.leave_out(day);
    }
    if (const auto advice = rain_advice(garden, planned, valve)) for_rain.push_back(*advice);
  }
  all.waterings.insert(all.waterings.end(), for_rain.begin(), for_rain.end());
  return all;
}

}  // namespace runnel

#include "runnel/garden/away.hpp"

#include <algorithm>
#include <set>

#include "garden_changes.hpp"
#include "runnel/garden/plan_garden.hpp"
#include "runnel/schedule/changes.hpp"
#include "runnel/schedule/days_within.hpp"
#include "start_states.hpp"

namespace runnel {
namespace {

using Eigen::Index;
using std::chrono::days;

/// Past years in which the futures begin; 0 when there is one future only.
int years_of_record(const AssumedWeather& weather) {
  if (weather.futures() < 2) return 0;
  std::set<int> years;
  const std::size_t first = weather.forecast() == nullptr ? 0 : 1;
  for (std::size_t s = first; s < weather.stretches.size(); ++s)
    years.insert(year_of(weather.stretches[s].first_day));
  return static_cast<int>(years.size());
}

/// Futures in which some of the first days goes down to where frost is near; 0 where temperatures
/// are not known.
int frosty_futures(const AssumedWeather& weather, Index length) {
  Column lowest_c(weather.rows());
  Index row = 0;
  for (const DailyWeather& stretch : weather.stretches) {
    if (!stretch.inputs) return 0;
    lowest_c.segment(row, stretch.days()) = stretch.inputs->t_min_c;
    row += stretch.days();
  }
  const double recent_c = weather.recent_days == 0
                              ? 0.0
                              : lowest_c.segment(weather.recent_first, weather.recent_days).mean();
  const Lanes of_futures = weather.by_future(lowest_c, recent_c).leftCols(length);
  return static_cast<int>((of_futures.rowwise().minCoeff() <= frost_caution_c).count());
}

/// The task in one future alone.
ZoneTask in_future(const ZoneTask& task, Index future) {
  ZoneTask alone = task;
  alone.horizon = {.et_mm = task.horizon.et_mm.row(future),
                   .rain_mm = task.horizon.rain_mm.row(future)};
  return alone;
}

/// The waterings left of those given, each of the timer's left out in turn without which the zone
/// stays within its limit through its next one, or to the end.
Waterings without_needless(const ZoneTask& alone, Waterings given, bool by_hand) {
  const Index length = given.net_mm.cols();
  // What is run by hand stands first, and has run before anyone leaves.
  const Index timer_slots = given.net_mm.rows() - (by_hand ? 1 : 0);
  const auto of_timer = [&given, timer_slots](Index day) {
    return given.net_mm.col(day).tail(timer_slots);
  };
  const auto waters = [&of_timer](Index day) { return of_timer(day).sum() > 0.0; };
  for (Index day = 0; day < length; ++day) {
    if (!waters(day)) continue;
    Index next = day + 1;
    while (next < length && !waters(next)) ++next;
    const Eigen::ArrayXd watered_mm = of_timer(day);
    of_timer(day).setZero();
    const Index judged = std::min(next + 1, length);
    if (!stays_within(first_days(alone, given, judged), 0.0)) of_timer(day) = watered_mm;
  }
  return given;
}

/// Mean of the futures, over the whole zone.
double needless_mm(const ZoneTask& task, const Waterings& given, bool by_hand, Index length) {
  if (given.net_mm.size() == 0) return 0.0;
  const Index futures = task.horizon.et_mm.rows();
  double sum_mm = 0.0;
  for (Index future = 0; future < futures; ++future) {
    if (task.horizon.rain_mm.row(future).head(length).sum() <= 0.0) continue;
    const ZoneTask alone = in_future(task, future);
    const auto drained_mm = [&](const Waterings& waterings) {
      return first_days(alone, waterings, length).drained_mm[0];
    };
    sum_mm +=
        std::max(0.0, drained_mm(given) - drained_mm(without_needless(alone, given, by_hand)));
  }
  return sum_mm / static_cast<double>(futures);
}

double minutes_in(const ValveTimes& times, Date from, int length) {
  int watered = 0;
  for (int day = 0; day < length; ++day) watered += waters_on(times.days, from + days{day}) ? 1 : 0;
  return static_cast<double>(times.a_day().count()) * watered;
}

const ValveTimes& times_of(const Plan& plan, int valve) { return *find_times(plan.valves, valve); }

double litres_of(const ZonePlan& zone, const Plan& plan) {
  const auto length = static_cast<int>((plan.until - plan.from).count()) + 1;
  const double minutes =
      minutes_in(times_of(plan, zone.valve), plan.from, length) + plan.by_hand_min(zone.valve);
  return (zone.delivery.flow * Duration::minutes(minutes)).litres();
}

AwayZone away_zone(const ZoneTask& task, const ZonePlan& zone, const Plan& plan, int length) {
  const double litres_a_mm = task.delivery.area.m2() * task.delivery.multiplier;
  const bool by_hand = plan.by_hand_min(zone.valve) > 0;
  return {.brought_l = litres_of(zone, plan),
          .needless_l = litres_a_mm * needless_mm(task, zone.waterings_mm, by_hand, length)};
}

int unharmed_futures(const GardenPlan& planned) {
  Eigen::ArrayXi beyond = Eigen::ArrayXi::Zero(planned.weather.futures());
  for (std::size_t z = 0; z < planned.zones.size(); ++z) {
    const ZonePlan& zone = planned.plan.zones[z];
    beyond += first_days(planned.zones[z].task, zone.waterings_mm, zone.days_judged).days_beyond;
  }
  return static_cast<int>((beyond == 0).count());
}

std::vector<int> beyond_by_zone(const Plan& plan) {
  std::vector<int> beyond;
  for (const ZonePlan& zone : plan.zones) beyond.push_back(zone.futures_beyond);
  return beyond;
}

int most(const std::vector<int>& beyond) { return *std::max_element(beyond.begin(), beyond.end()); }

std::optional<ChanceRaised> by_more_water(const Garden& garden, const GardenPlan& planned,
                                          PlanRequest request) {
  request.risk = 0.0;
  const Plan wetter = plan_again(garden, planned, {}, request);
  ChanceRaised raised{.does = "more water: plan with --risk 0%",
                      .futures_beyond = beyond_by_zone(wetter),
                      .litres = planned_litres(wetter)};
  if (most(raised.futures_beyond) >= most(beyond_by_zone(planned.plan))) return std::nullopt;
  return raised;
}

/// How many futures go beyond the limit of the changed zone under the programme as it is.
int beyond_when_changed(const Garden& changed, std::size_t z, const GardenPlan& planned) {
  std::vector<Finding> said_before;
  const ZoneTask task = prepare_zone(changed, changed.zones[z], planned.weather, said_before,
                                     start_again(planned.zones[z]))
                            .task;
  const Plan& plan = planned.plan;
  const Waterings given = with_hand_run(
      task, waterings_of(task, times_of(plan, task.valve), planned.constraints.hours, plan.from),
      plan.by_hand_min(task.valve));
  return static_cast<int>(futures_beyond(first_days(task, given, plan.zones[z].days_judged)));
}

/// The least size that does most; nothing where none does anything.
std::optional<ChanceRaised> by_change(const Garden& garden, const GardenPlan& planned,
                                      const GardenChange& change, std::size_t z) {
  std::vector<int> beyond = beyond_by_zone(planned.plan);
  std::optional<ChanceRaised> best;
  for (int size = 1; size <= change.sizes && beyond[z] > 0; ++size) {
    const ChangedGarden changed = change.make(garden, size);
    const int then = beyond_when_changed(changed.garden, z, planned);
    if (then >= beyond[z]) continue;
    beyond[z] = then;
    best = ChanceRaised{.does = changed.does + ", the timer set as above",
                        .futures_beyond = beyond,
                        .litres = planned_litres(planned.plan)};
  }
  return best;
}

std::vector<ChanceRaised> raised(const Garden& garden, const GardenPlan& planned,
                                 const PlanRequest& request) {
  std::vector<ChanceRaised> all;
  const auto add = [&all](std::optional<ChanceRaised> one) {
    if (one) all.push_back(*std::move(one));
  };
  const std::vector<int> now = beyond_by_zone(planned.plan);
  if (most(now) == 0) return all;
  if (planned.plan.unharmed()) add(by_more_water(garden, planned, request));
  for (std::size_t z = 0; z < garden.zones.size(); ++z) {
    if (now[z] == 0) continue;
    for (const GardenChange& change : changes_of_zone(garden, planned, z))
      if (keeps_programme(change.ease)) add(by_change(garden, planned, change, z));
  }
  return all;
}

}  // namespace

int absence_days(Date from, const std::optional<Date>& until) {
  if (!until) return 0;
  if (*until < from)
    throw WrongDays("--until " + iso_date(*until) + " is before the first day planned, " +
                    iso_date(from) + " (give the last day away, and --from if you leave earlier)");
  const auto length = static_cast<int>((*until - from).count()) + 1;
  if (length > longest_absence_days)
    throw WrongDays("--until " + iso_date(*until) + " makes " + std::to_string(length) +
                    " days from " + iso_date(from) + ", and at most " +
                    std::to_string(longest_absence_days) +
                    " are planned for (have someone set the timer anew by " +
                    iso_date(from + days{longest_absence_days - 1}) + ")");
  return length;
}

int absence_horizon_days(int away_days) { return std::max(horizon_days, away_days + 1); }

double planned_litres(const Plan& plan) {
  double sum_l = 0.0;
  for (const ZonePlan& zone : plan.zones) sum_l += litres_of(zone, plan);
  return sum_l;
}

Away away(const Garden& garden, const GardenPlan& planned, const PlanRequest& request) {
  const Plan& plan = planned.plan;
  Away away{.days = absence_days(plan.from, request.until),
            .futures = static_cast<int>(planned.weather.futures()),
            .record_years = years_of_record(planned.weather),
            .unharmed_futures = unharmed_futures(planned)};
  away.frosty_futures = frosty_futures(planned.weather, away.days);
  for (std::size_t z = 0; z < planned.zones.size(); ++z)
    away.zones.push_back(away_zone(planned.zones[z].task, plan.zones[z], plan, away.days));
  away.raised = raised(garden, planned, request);
  return away;
}

}  // namespace runnel

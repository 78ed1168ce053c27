#include "plan_days.hpp"

#include <algorithm>
#include <tuple>

namespace runnel::cli {

Eigen::Index days_planned(const Plan& plan) { return (plan.until - plan.from).count() + 1; }

std::optional<WallTime> first_start(const Plan& plan) {
  std::optional<WallTime> first;
  for (const ValveTimes& times : plan.valves) {
    if (times.openings.empty() || !waters_on(times.days, plan.from)) continue;
    first = std::min(first.value_or(times.openings.front().start), times.openings.front().start);
  }
  return first;
}

std::vector<DatedRun> dated_runs(const Plan& plan) {
  std::vector<DatedRun> runs;
  for (Date date = plan.from; date <= plan.until; date += std::chrono::days{1})
    for (const ValveTimes& times : plan.valves)
      if (waters_on(times.days, date))
        for (const ValveTimes::Opening& opening : times.openings)
          runs.push_back({.date = date,
                          .valve = times.valve,
                          .start = opening.start,
                          .length = opening.length});
  std::sort(runs.begin(), runs.end(), [](const DatedRun& a, const DatedRun& b) {
    return std::tie(a.date, a.start, a.valve) < std::tie(b.date, b.start, b.valve);
  });
  return runs;
}

ZoneDays zone_days(const PreparedZone& prepared, const ZonePlan& zone, Eigen::Index days) {
  const ZoneTask& task = prepared.task;
  const Eigen::Index futures = task.horizon.et_mm.rows();
  const Column none = Column::Zero(days);
  ZoneDays sum{.use_mm = none,
               .rain_mm = none,
               .water_mm = none,
               .drained_mm = none,
               .morning_mm = none,
               .end_mm = none,
               .limit_mm = none};
  for (Eigen::Index future = 0; future < futures; ++future) {
    const BalanceTrace one =
        trace(task.root_zone, task.start, task.model, task.horizon, zone.waterings_mm, future);
    sum.use_mm += one.etc_mm.head(days);
    sum.rain_mm += one.rain_mm.head(days);
    sum.water_mm += one.net_irrigation_mm.head(days);
    sum.drained_mm += one.drained_mm.head(days);
    sum.morning_mm += one.after_morning_mm.head(days);
    sum.end_mm += one.end_mm.head(days);
    sum.limit_mm += one.limit_mm.head(days);
  }
  for (Column* column : {&sum.use_mm, &sum.rain_mm, &sum.water_mm, &sum.drained_mm, &sum.morning_mm,
                         &sum.end_mm, &sum.limit_mm})
    *column /= static_cast<double>(futures);
  return sum;
}

void write_runs(JsonWriter& json, const Plan& plan) {
  json.begin_array("runs");
  for (const DatedRun& run : dated_runs(plan)) {
    json.begin_object();
    json.value("date", iso_date(run.date));
    json.value("valve", run.valve);
    json.value("start", clock(run.start));
    json.value("run_min", static_cast<int>(run.length.count()));
    json.end();
  }
  json.end();
}

void write_days(JsonWriter& json, const Plan& plan, const ZoneDays& days) {
  json.begin_array("by_day");
  for (Eigen::Index day = 0; day < days.end_mm.size(); ++day) {
    json.begin_object();
    json.value("date", iso_date(plan.from + std::chrono::days{day}));
    json.value("use_mm", days.use_mm[day]);
    json.value("rain_mm", days.rain_mm[day]);
    json.value("water_mm", days.water_mm[day]);
    json.value("drained_mm", days.drained_mm[day]);
    json.value("morning_depletion_mm", days.morning_mm[day]);
    json.value("end_depletion_mm", days.end_mm[day]);
    json.value("limit_mm", days.limit_mm[day]);
    json.end();
  }
  json.end();
}

}  // namespace runnel::cli

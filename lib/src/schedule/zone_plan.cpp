#include <algorithm>

#include "harm.hpp"
#include "runnel/schedule/changes.hpp"
#include "runnel/schedule/days_within.hpp"
#include "runnel/schedule/plan.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

constexpr int week_days = 7;

int watering_days(const ValveTimes& times, Date from) {
  int days = 0;
  if (times.openings.empty()) return days;
  for (int d = 0; d < week_days; ++d)
    if (waters_on(times.days, from + std::chrono::days{d})) ++days;
  return days;
}

/// Adds one future's week and its state after the days planned, by its share of all. What a zone
/// makes no use of stays as it started.
void add_week(ZonePlan& plan, const SoilState& start, const BalanceTrace& t, int planned_days,
              double share) {
  const auto sum = [](const Column& days) { return days.head(week_days).sum(); };
  const auto last = [planned_days](const Column& days, double otherwise) {
    return days.size() == 0 ? otherwise : days[planned_days - 1];
  };
  plan.demand_mm += share * (sum(t.etc_mm) + sum(t.unmet_mm));
  plan.rain_mm += share * sum(t.rain_mm);
  plan.drained_mm += share * sum(t.drained_mm);
  if (t.e_mm.size() > 0) plan.evaporated_mm += share * sum(t.e_mm);
  plan.expected_mm += share * t.end_mm.head(planned_days);
  plan.end.depletion_mm += share * last(t.end_mm, start.depletion_mm);
  plan.end.dry_mm += share * last(t.dry_end_mm, start.dry_mm);
  plan.end.surface_mm += share * last(t.surface_end_mm, start.surface_mm);
  plan.end.surface_fw += share * last(t.surface_fw, start.surface_fw);
}

/// Through which harm counts: all looked at; of an absence the day of coming home the last.
int days_judged(const ZoneTask& task, const SearchOptions& options) {
  const auto all = static_cast<int>(task.horizon.et_mm.cols());
  return options.away_days > 0 ? std::min(all, options.away_days + 1) : all;
}

}  // namespace

ZonePlan zone_plan(const ZoneTask& task, const ValveTimes& times, int by_hand_min,
                   const Constraints& constraints, Date from, const SearchOptions& options) {
  ZonePlan plan;
  plan.name = task.name;
  plan.valve = task.valve;
  plan.delivery = task.delivery;
  plan.watering_days = watering_days(times, from);
  plan.waterings = plan.watering_days * static_cast<int>(times.openings.size());
  const auto run = Duration::minutes(
      static_cast<double>(times.a_day().count()) * plan.watering_days + by_hand_min);
  plan.gross_litres = (task.delivery.flow * run).litres();
  plan.gross_mm = (task.delivery.rate() * run).mm();
  plan.waterings_mm =
      with_hand_run(task, waterings_of(task, times, constraints.hours, from), by_hand_min);
  plan.trace = trace(task.root_zone, task.start, task.model, task.horizon, plan.waterings_mm, 0);

  plan.expected_mm = Column::Zero(options.planned_days());
  const Eigen::Index members = task.horizon.et_mm.rows();
  for (Eigen::Index member = 0; member < members; ++member)
    add_week(plan, task.start,
             trace(task.root_zone, task.start, task.model, task.horizon, plan.waterings_mm, member),
             options.planned_days(), 1.0 / static_cast<double>(members));
  plan.end_depletion_mm = plan.end.depletion_mm;
  plan.start_depletion_mm = task.start.depletion_mm;
  plan.wetted_share = task.root_zone.wetted_share;
  plan.limit_mm = plan.trace.limit_mm.head(week_days).minCoeff();

  plan.days_judged = days_judged(task, options);
  const Outcome outcome = first_days(task, plan.waterings_mm, plan.days_judged);
  plan.futures = static_cast<int>(members);
  plan.futures_beyond = static_cast<int>(futures_beyond(outcome));
  const int certain = days_certain(task, constraints.rules_of(task.valve), from, options);
  const Harm harm(task, plan.waterings_mm, outcome, certain, options.risk);
  if (harm.allowed()) return plan;
  const Eigen::Index worst = harm.worst();
  plan.days_beyond = outcome.days_beyond[worst];
  plan.beyond_mm = outcome.beyond_mm[worst];
  plan.unmet_mm = outcome.unmet_mm[worst];
  plan.first_beyond = from + std::chrono::days{days_within(task, plan.waterings_mm, options.risk)};
  return plan;
}

double ZonePlan::beyond_mm_a_day() const { return days_beyond > 0 ? beyond_mm / days_beyond : 0.0; }

}  // namespace runnel

#include "harm.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "runnel/schedule/changes.hpp"
#include "runnel/schedule/days_within.hpp"

namespace runnel {
namespace {

constexpr int week_days = 7;
/// Plans that are not replaced after their week (design decision, no source): a fifth. What they
/// risk after it is that share of it.
constexpr double share_that_runs_on = 0.2;
/// Sums of shares that differ by less are the same.
constexpr double same_share = 1e-9;

struct Future {
  Eigen::Index number;
  double chance;  // that its harm comes to pass
  double harm_mm;
};

/// Those beyond the limit.
std::vector<Future> harmed(const ZoneTask& task, const Waterings& waterings, const Outcome& outcome,
                           Eigen::Index days_certain, Eigen::Index may_be) {
  // Where none may be, each counts, whatever its chance.
  const bool by_chance = may_be > 0 && days_certain < task.horizon.et_mm.cols();
  Eigen::ArrayXi certainly = outcome.days_beyond;
  if (by_chance) certainly = first_days(task, waterings, days_certain).days_beyond;
  std::vector<Future> all;
  for (Eigen::Index future = 0; future < certainly.size(); ++future)
    if (outcome.days_beyond[future] > 0)
      all.push_back({.number = future,
                     .chance = certainly[future] > 0 ? 1.0 : share_that_runs_on,
                     .harm_mm = outcome.beyond_mm[future] + outcome.unmet_mm[future]});
  return all;
}

/// Takes off the worst, until their chances come to what may be. @return how many.
std::size_t take_off(std::vector<Future>& worst_first, double may_be) {
  std::size_t taken = 0;
  while (taken < worst_first.size() && worst_first[taken].chance <= may_be + same_share)
    may_be -= worst_first[taken++].chance;
  worst_first.erase(worst_first.begin(), worst_first.begin() + static_cast<std::ptrdiff_t>(taken));
  return taken;
}

}  // namespace

int days_certain(const ZoneTask& task, const ValveRules& rules, Date from,
                 const SearchOptions& options) {
  const auto all = static_cast<int>(task.horizon.et_mm.cols());
  for (int day = std::max(week_days, options.planned_days()); day < all; ++day)
    if (allowed_on(rules, from + std::chrono::days{day})) return day + 1;
  return all;
}

Harm::Harm(const ZoneTask& task, const Waterings& waterings, const Outcome& outcome,
           int days_certain, double risk) {
  const Eigen::Index futures = outcome.days_beyond.size();
  const Eigen::Index may_be = allowed_beyond(futures, risk);
  if (futures_beyond(outcome) <= may_be) return;
  std::vector<Future> counted = harmed(task, waterings, outcome, days_certain, may_be);
  const auto worse = [&outcome](const Future& a, const Future& b) {
    const auto key = [&outcome](const Future& one) {
      return std::tuple(one.harm_mm, outcome.days_beyond[one.number], one.number);
    };
    return key(a) > key(b);
  };
  std::sort(counted.begin(), counted.end(), worse);
  const std::size_t taken = take_off(counted, static_cast<double>(may_be));
  double sum_mm = 0.0;
  for (const Future& future : counted) sum_mm += future.harm_mm;
  mm_ = sum_mm / static_cast<double>(futures - static_cast<Eigen::Index>(taken));
  for (const Future& future : counted) worst_first_.push_back(future.number);
}

Harm harm_at(const ZoneTask& task, const ValveTimes& times, int by_hand_min,
             const Constraints& constraints, Date from, const SearchOptions& options) {
  const Waterings given =
      with_hand_run(task, waterings_of(task, times, constraints.hours, from), by_hand_min);
  const Outcome outcome = balance(task.root_zone, task.start, task.model, task.horizon, given);
  const int certain = days_certain(task, constraints.rules_of(task.valve), from, options);
  return {task, given, outcome, certain, options.risk};
}

std::int64_t harm_um(std::span<const ZoneTask> tasks, const ValveTimes& times, int by_hand_min,
                     const Constraints& constraints, Date from, const SearchOptions& options) {
  double sum_um = 0.0;
  for (const ZoneTask& task : tasks)
    sum_um += 1000.0 * harm_at(task, times, by_hand_min, constraints, from, options).mm();
  return std::llround(sum_um);
}

}  // namespace runnel

#include "runnel/schedule/candidates.hpp"

#include <algorithm>
#include <set>

#include "candidate_search.hpp"
#include "slots.hpp"
#include "spread.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

/// Alternatives handed on to the timetable, cheapest first, beside those that keep_some adds.
constexpr std::size_t most_candidates = 400;
bool are_pots(const ZoneTask& task) { return task.root_zone.surplus == Surplus::at_once; }

/// Whether these are pots that on their hottest day use more than that share of what they can
/// spare.
bool pots_use_over(double share, const ZoneTask& task) {
  if (!are_pots(task)) return false;
  const double most_used_mm =
      (task.horizon.et_mm.rowwise() * task.model.kc.transpose()).colwise().mean().maxCoeff();
  return most_used_mm > share * mean_limit_mm(task);
}

// Common practice: pots in hot weather once or twice a day (no source for the shares). A pot that
// uses over half of what it can spare in a day is watered daily, since one dry hot day more would
// cost its plants; one that uses over four fifths in several windows, since a hotter day than
// expected would; others in one, since each start is one more to set.
bool must_be_daily(const ZoneTask& task) { return pots_use_over(0.5, task); }
bool must_be_in_parts(const ZoneTask& task) { return pots_use_over(0.8, task); }

/// The patterns worth trying: every one, or those that skip no day where a pot must have its water
/// daily and the timer can.
std::vector<DayPattern> patterns_for(std::span<const ZoneTask> tasks, const Timer& timer,
                                     Date from) {
  std::vector<DayPattern> all = day_patterns(timer, from);
  if (!std::any_of(tasks.begin(), tasks.end(), must_be_daily)) return all;
  std::vector<DayPattern> daily;
  for (const DayPattern& days : all) {
    const std::vector<bool> on = watered_days(days, from);
    if (std::count(on.begin(), on.end(), true) == horizon_days) daily.push_back(days);
  }
  return daily.empty() ? all : daily;
}

/// The spreads of cycles worth trying first: every one, or of pots those that use one window, or
/// several where a pot must have its water in parts.
std::vector<Spread> spreads_for(std::span<const ZoneTask> tasks, std::vector<Spread> all) {
  const bool in_parts = std::any_of(tasks.begin(), tasks.end(), must_be_in_parts);
  if (!in_parts && !std::all_of(tasks.begin(), tasks.end(), are_pots)) return all;
  std::erase_if(all, [in_parts](const Spread& spread) {
    const std::vector<bool> used = spread.used();
    return (std::count(used.begin(), used.end(), true) > 1) != in_parts;
  });
  return all;
}

/// The best candidate of each pattern and spread that the timer can run.
std::vector<Candidate> best_of_each(const CandidateSearch& search,
                                    const std::vector<DayPattern>& patterns,
                                    const std::vector<Spread>& spreads, Date from) {
  std::vector<Candidate> found;
  std::vector<double> week_minutes(spreads.size(), 0.0);
  for (const DayPattern& days : patterns) {
    const std::vector<bool> on = watered_days(days, from);
    std::set<std::vector<bool>> enough;  // windows used: more cycles would only cut the run up
    for (std::size_t i = 0; i < spreads.size(); ++i) {
      if (enough.contains(spreads[i].used())) continue;
      const auto candidate = search.best(days, on, spreads[i], week_minutes[i]);
      if (!candidate) continue;
      if (!search.at_longest(*candidate, spreads[i])) enough.insert(spreads[i].used());
      found.push_back(*candidate);
    }
  }
  return found;
}

/// The cheapest, and beside them the cheapest of each kind of load on the hours (cycles in each
/// window, days), so that a crowded week is not left without a choice.
void keep_some(std::vector<Candidate>& sorted, Date from) {
  if (sorted.size() <= most_candidates) return;
  std::set<std::pair<std::vector<int>, std::ptrdiff_t>> kinds;
  std::vector<Candidate> kept;
  for (Candidate& candidate : sorted) {
    const std::vector<bool> on = watered_days(candidate.days, from);
    const bool first =
        kinds.emplace(candidate.cycles_in, std::count(on.begin(), on.end(), true)).second;
    if (first || kept.size() < most_candidates) kept.push_back(std::move(candidate));
  }
  sorted = std::move(kept);
}

}  // namespace

Candidate with_runs(std::span<const ZoneTask> tasks, const Candidate& candidate,
                    std::vector<minutes> run_in, const ValveRules& rules, const Timer& timer,
                    Date from, const SearchOptions& options) {
  return CandidateSearch(tasks, rules, timer, from, options.risk)
      .with_runs(candidate, std::move(run_in));
}

std::vector<Candidate> candidates(std::span<const ZoneTask> tasks, const ValveRules& rules,
                                  const Timer& timer, Date from, const SearchOptions& options) {
  const CandidateSearch search(tasks, rules, timer, from, options.risk);
  if (!search.needs_water()) return {search.none()};

  const std::vector<Spread> all = spreads(rules.hours.size(), timer.starts_per_valve);
  const std::vector<DayPattern> patterns = patterns_for(tasks, timer, from);
  std::vector<Candidate> found = best_of_each(search, patterns, spreads_for(tasks, all), from);
  const bool harmless = std::any_of(found.begin(), found.end(), [](const Candidate& candidate) {
    return candidate.cost.harm_um == 0;
  });
  if (!harmless) found = best_of_each(search, patterns, all, from);
  const auto cheaper = [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; };
  std::stable_sort(found.begin(), found.end(), cheaper);
  keep_some(found, from);
  if (!found.empty()) {
    const Candidate whole = found.front();
    for (const double share : {0.75, 0.5, 0.25}) found.push_back(search.shortened(whole, share));
  }
  found.push_back(search.none());
  std::stable_sort(found.begin(), found.end(), cheaper);
  return found;
}

}  // namespace runnel

#include "runnel/schedule/candidates.hpp"

#include <algorithm>
#include <iterator>
#include <set>

#include "candidate_search.hpp"
#include "slots.hpp"
#include "spread.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

constexpr int week_days = 7;

/// Alternatives handed on to the timetable, beside lesser shares and "no watering"; of these at
/// most so many for being the cheapest of their kind.
constexpr std::size_t most_candidates = 410;
constexpr std::size_t most_kinds = 200;
/// Of these the cheapest that get a length for each start, where the timer takes them.
constexpr std::size_t most_refined = 40;
/// Kinds of candidates of which lesser shares are handed on.
constexpr std::size_t most_shared_kinds = 4;
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

bool waters_daily(const DayPattern& days, Date from) {
  const std::vector<bool> on = watered_days(days, from);
  return std::count(on.begin(), on.end(), true) == horizon_days;
}

template <class Keep>
std::vector<DayPattern> those(const std::vector<DayPattern>& patterns, const Keep& keep) {
  std::vector<DayPattern> kept;
  std::copy_if(patterns.begin(), patterns.end(), std::back_inserter(kept), keep);
  return kept;
}

/// Patterns that keep to the rules for good; where the timer has none, such as a timer without "odd
/// dates" where water is allowed on these, those that do in the days planned.
std::vector<DayPattern> allowed_patterns(const ValveRules& rules, const Timer& timer, Date from,
                                         int days_ahead) {
  const std::vector<DayPattern> all = day_patterns(timer, from);
  const auto keeping = [&](Keeps keeps) {
    return those(all, [&](const DayPattern& days) {
      return keeps_to(rules, days, from, days_ahead) == keeps;
    });
  };
  std::vector<DayPattern> always = keeping(Keeps::always);
  return always.empty() ? keeping(Keeps::this_week) : always;
}

/// The patterns worth trying: every one allowed, or those that skip no day where a pot must have
/// its water daily and that can be had.
std::vector<DayPattern> patterns_for(std::span<const ZoneTask> tasks, const ValveRules& rules,
                                     const Timer& timer, Date from, int days_ahead) {
  std::vector<DayPattern> all = allowed_patterns(rules, timer, from, days_ahead);
  if (!std::any_of(tasks.begin(), tasks.end(), must_be_daily)) return all;
  std::vector<DayPattern> daily =
      those(all, [from](const DayPattern& days) { return waters_daily(days, from); });
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
                                    const std::vector<Spread>& spreads) {
  std::vector<Candidate> found;
  std::vector<double> week_minutes(spreads.size(), 0.0);
  for (const DayPattern& days : patterns) {
    const std::vector<bool> on = search.watered(days);
    std::set<std::vector<bool>> enough;  // windows used
    for (std::size_t i = 0; i < spreads.size(); ++i) {
      if (enough.contains(spreads[i].used())) continue;
      const auto candidate = search.best(days, on, spreads[i], week_minutes[i]);
      if (!candidate) continue;
      if (search.more_cycles_only_divide(*candidate, spreads[i])) enough.insert(spreads[i].used());
      found.push_back(*candidate);
    }
  }
  return found;
}

std::ptrdiff_t days_watered(const Candidate& candidate, Date from) {
  const std::vector<bool> on = watered_days(candidate.days, from);
  return std::count(on.begin(), on.end(), true);
}

/// The cheapest of each kind of load on the hours (cycles in each window, days), so that a crowded
/// week is not left without a choice, and of the rest the cheapest.
void keep_some(std::vector<Candidate>& sorted, Date from) {
  if (sorted.size() <= most_candidates) return;
  std::set<std::pair<std::vector<int>, std::ptrdiff_t>> kinds;
  std::vector<bool> first_of_kind;
  for (const Candidate& candidate : sorted)
    first_of_kind.push_back(
        kinds.size() < most_kinds &&
        kinds.emplace(candidate.cycles_in, days_watered(candidate, from)).second);
  std::size_t others = most_candidates - kinds.size();
  std::vector<Candidate> kept;
  for (std::size_t i = 0; i < sorted.size(); ++i) {
    if (!first_of_kind[i] && others == 0) continue;
    if (!first_of_kind[i]) --others;
    kept.push_back(std::move(sorted[i]));
  }
  sorted = std::move(kept);
}

/// The cheapest candidates get a length of their own in each window.
void refine_lengths(std::vector<Candidate>& sorted, const CandidateSearch& search) {
  for (std::size_t i = 0; i < std::min(sorted.size(), most_refined); ++i)
    if (sorted[i].repeat.count() == 0) sorted[i] = search.with_own_lengths(sorted[i]);
}

/// Nine tenths to one tenth of the cheapest of a few kinds that differ in their watering days:
/// for the timetable where minutes or litres are limited. Of pots eight tenths to one: plan_week
/// would take nine tenths for enough and find at the start times that it is not, which costs a
/// timetable more.
std::vector<Candidate> lesser_shares(std::span<const ZoneTask> tasks,
                                     const std::vector<Candidate>& sorted,
                                     const CandidateSearch& search, Date from) {
  const int most_tenths = std::any_of(tasks.begin(), tasks.end(), are_pots) ? 8 : 9;
  std::set<std::ptrdiff_t> kinds;
  std::vector<Candidate> lesser;
  for (const Candidate& whole : sorted) {
    if (kinds.size() == most_shared_kinds) break;
    if (!kinds.insert(days_watered(whole, from)).second) continue;
    std::vector<minutes> last = whole.run_in;
    for (int tenths = most_tenths; tenths > 0; --tenths) {
      Candidate part = search.shortened(whole, tenths / 10.0);
      if (part.run_in == last) continue;
      last = part.run_in;
      lesser.push_back(std::move(part));
    }
  }
  return lesser;
}

/// The best of each pattern and spread; where none of those looked at first is harm-free, of all
/// spreads.
std::vector<Candidate> best_of_all(std::span<const ZoneTask> tasks, const CandidateSearch& search,
                                   const std::vector<DayPattern>& patterns,
                                   const std::vector<Spread>& all) {
  const std::vector<Spread> first = spreads_for(tasks, all);
  std::vector<Candidate> found = best_of_each(search, patterns, first);
  const bool harmless = std::any_of(found.begin(), found.end(), [](const Candidate& candidate) {
    return candidate.cost.harm_um == 0;
  });
  return harmless || first.size() == all.size() ? found : best_of_each(search, patterns, all);
}

void sort_by_cost(std::vector<Candidate>& list) {
  std::stable_sort(list.begin(), list.end(),
                   [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; });
}

}  // namespace

Candidate with_runs(std::span<const ZoneTask> tasks, const Candidate& candidate,
                    std::vector<minutes> run_in, const ValveRules& rules, const Timer& timer,
                    Date from, const SearchOptions& options) {
  return CandidateSearch(tasks, rules, timer, from, options)
      .with_runs(candidate, std::move(run_in));
}

std::vector<Candidate> candidates(std::span<const ZoneTask> tasks, const ValveRules& rules,
                                  const Timer& timer, Date from, const SearchOptions& options) {
  const CandidateSearch search(tasks, rules, timer, from, options);
  if (!search.needs_water()) return {search.none()};

  const std::vector<DayPattern> patterns =
      patterns_for(tasks, rules, timer, from, std::max(week_days, options.planned_days()));
  const std::vector<Spread> all = spreads(rules.hours, timer);
  // A valve that shares a programme may have to take any days and cycles.
  const bool sharing = timer.programmes > 0;
  std::vector<Candidate> found =
      sharing ? best_of_each(search, patterns, all) : best_of_all(tasks, search, patterns, all);
  sort_by_cost(found);
  if (!sharing) keep_some(found, from);
  if (timer.length_per_start) {
    refine_lengths(found, search);
    sort_by_cost(found);
  }
  std::vector<Candidate> lesser = lesser_shares(tasks, found, search, from);
  std::move(lesser.begin(), lesser.end(), std::back_inserter(found));
  found.push_back(search.none());
  sort_by_cost(found);
  return found;
}

}  // namespace runnel

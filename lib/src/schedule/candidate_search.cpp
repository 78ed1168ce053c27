#include "candidate_search.hpp"

#include <algorithm>
#include <cmath>

#include "fewest.hpp"
#include "run_limits.hpp"
#include "slots.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

std::vector<minutes> alike(const Spread& spread, minutes run) {
  std::vector<minutes> run_in;
  for (const int cycles : spread.cycles_in) run_in.push_back(cycles > 0 ? run : minutes{0});
  return run_in;
}

minutes longest_of(const std::vector<minutes>& run_in) {
  return *std::max_element(run_in.begin(), run_in.end());
}

}  // namespace

CandidateSearch::CandidateSearch(std::span<const ZoneTask> tasks, const ValveRules& rules,
                                 const Timer& timer, Date from, const SearchOptions& options)
    : tasks_(tasks),
      rules_(rules),
      timer_(timer),
      lengths_(run_lengths(timer)),
      from_(from),
      assessor_(tasks, rules, from, options) {}

Candidate CandidateSearch::none() const {
  return {.days = {},
          .cycles_in = std::vector<int>(rules_.hours.size(), 0),
          .run_in = std::vector<minutes>(rules_.hours.size()),
          .cost = assessor_.without_water().cost};
}

bool CandidateSearch::needs_water() const {
  const Assessment without = assessor_.without_water();
  return !without.within || without.short_mm > same_depth_mm;
}

std::vector<bool> CandidateSearch::watered(const DayPattern& days) const {
  return watered_days(days, from_, tasks_.front());
}

std::optional<Candidate> CandidateSearch::best(const DayPattern& days, const std::vector<bool>& on,
                                               const Spread& spread, double& week_minutes) const {
  const int most = lengths_up_to(longest_on(days, spread)) - 1;  // into the lengths
  if (most < 0) return std::nullopt;
  Candidate candidate{.days = days,
                      .cycles_in = spread.cycles_in,
                      .run_in = alike(spread, length(most)),
                      .repeat = spread.repeat,
                      .cost = {}};
  // The shortest as good as the longest: harm-free if that can be had, else the least harm.
  const Assessment at_most = assessor_.of(candidate, on);
  candidate.cost = at_most.cost;
  const auto as_good = [&](int i) {
    candidate.run_in = alike(spread, length(i));
    const Assessment now = assessor_.of(candidate, on);
    const bool good = (now.within || !at_most.within) &&
                      now.cost.harm_um <= at_most.cost.harm_um + 1 &&
                      now.short_mm <= at_most.short_mm + same_depth_mm;
    if (good) candidate.cost = now.cost;
    return good;
  };
  const auto cycles_in_week =
      static_cast<double>(spread.starts() * std::count(on.begin(), on.end(), true)) * 7.0 /
      static_cast<double>(on.size());
  const minutes about{static_cast<int>(std::ceil(week_minutes / cycles_in_week))};
  const int guess = std::clamp(lengths_up_to(about), 0, most);
  const minutes run = length(fewest(0, most, guess, as_good));
  week_minutes = static_cast<double>(run.count()) * cycles_in_week;
  candidate.run_in = alike(spread, run);
  candidate.soak = soak_minutes(tasks_, run);
  return candidate;
}

Candidate CandidateSearch::with_runs(const Candidate& whole, std::vector<minutes> run_in) const {
  Candidate other = whole;
  other.soak = soak_minutes(tasks_, longest_of(run_in));
  other.run_in = std::move(run_in);
  other.cost = assessor_.of(other, watered(whole.days)).cost;
  return other;
}

Candidate CandidateSearch::with_own_lengths(const Candidate& alike) const {
  const std::vector<bool> on = watered(alike.days);
  const Assessment whole = assessor_.of(alike, on);
  Candidate shorter = alike;
  for (std::size_t w = shorter.run_in.size(); w-- > 0;) {
    if (shorter.cycles_in[w] == 0) continue;
    const auto as_good = [&](int i) {
      Candidate now = shorter;
      now.run_in[w] = length(i);
      const Assessment does = assessor_.of(now, on);
      return (does.within || !whole.within) && does.cost <= whole.cost &&
             does.short_mm <= whole.short_mm + same_depth_mm;
    };
    const int most = lengths_up_to(shorter.run_in[w]) - 1;
    shorter.run_in[w] = length(fewest(0, most, most, as_good));
  }
  return with_runs(shorter, shorter.run_in);
}

Candidate CandidateSearch::shortened(const Candidate& whole, double share) const {
  std::vector<minutes> run_in = whole.run_in;
  for (minutes& run : run_in) {
    if (run.count() == 0) continue;
    const minutes shorter{static_cast<int>(share * static_cast<double>(run.count()))};
    run = length(std::max(lengths_up_to(shorter) - 1, 0));
  }
  return with_runs(whole, std::move(run_in));
}

bool CandidateSearch::more_cycles_only_divide(const Candidate& candidate,
                                              const Spread& spread) const {
  if (!timer_.minutes_choices.empty() || spread.repeat.count() > 0) return false;
  // Valves that share a programme need as many cycles as each other.
  if (timer_.programmes > 0) return false;
  return lengths_up_to(longest_of(candidate.run_in)) <
         lengths_up_to(longest_on(candidate.days, spread));
}

/// The longest run that fits the windows of a spread and the minutes allowed on such days.
minutes CandidateSearch::longest_on(const DayPattern& days, const Spread& spread) const {
  minutes longest = std::min(longest_run(tasks_, timer_), spread.longest);
  if (const auto a_day = most_minutes_a_day(rules_, days))
    longest = std::min(longest, minutes{*a_day / spread.starts()});
  while (longest.count() > 0 && !fits(spread, longest)) --longest;
  return longest;
}

/// Whether the cycles fit their windows, or their interval, together with the soaks between them.
bool CandidateSearch::fits(const Spread& spread, minutes run) const {
  const minutes soak = soak_minutes(tasks_, run);
  if (spread.repeat.count() > 0) return run + soak <= spread.repeat;
  for (std::size_t w = 0; w < rules_.hours.size(); ++w) {
    const int cycles = spread.cycles_in[w];
    if (cycles * run + (cycles - 1) * soak > rules_.hours[w].closes - rules_.hours[w].opens &&
        cycles > 0)
      return false;
  }
  return true;
}

/// How many of the timer's lengths are no longer than that.
int CandidateSearch::lengths_up_to(minutes most) const {
  const auto end =
      std::upper_bound(lengths_.begin(), lengths_.end(), most,
                       [](minutes limit, const RunLength& one) { return limit < one.runs; });
  return static_cast<int>(end - lengths_.begin());
}

}  // namespace runnel

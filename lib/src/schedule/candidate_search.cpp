#include "candidate_search.hpp"

#include <algorithm>
#include <cmath>

#include "fewest.hpp"
#include "slots.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

constexpr double weeks = horizon_days / 7.0;

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
                                 const Timer& timer, Date from, double risk)
    : tasks_(tasks),
      rules_(rules),
      timer_(timer),
      lengths_(run_lengths(timer)),
      from_(from),
      assessor_(tasks, rules.hours, risk) {}

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

std::optional<Candidate> CandidateSearch::best(const DayPattern& days, const std::vector<bool>& on,
                                               const Spread& spread, double& week_minutes) const {
  const int most = lengths_up_to(longest_in(spread)) - 1;  // into the lengths
  if (most < 0) return std::nullopt;
  Candidate candidate{.days = days,
                      .cycles_in = spread.cycles_in,
                      .run_in = alike(spread, length(most)),
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
      static_cast<double>(spread.starts() * std::count(on.begin(), on.end(), true)) / weeks;
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
  other.cost = assessor_.of(other, watered_days(whole.days, from_)).cost;
  return other;
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

bool CandidateSearch::at_longest(const Candidate& candidate, const Spread& spread) const {
  return lengths_up_to(longest_of(candidate.run_in)) == lengths_up_to(longest_in(spread));
}

/// The longest run whose cycles and soaks fit the windows of a spread.
minutes CandidateSearch::longest_in(const Spread& spread) const {
  minutes longest = longest_run(tasks_, timer_);
  for (std::size_t w = 0; w < rules_.hours.size(); ++w) {
    if (spread.cycles_in[w] == 0) continue;
    const minutes window = rules_.hours[w].closes - rules_.hours[w].opens;
    const int cycles = spread.cycles_in[w];
    longest = std::min(longest, window / cycles);
    while (longest.count() > 0 &&
           cycles * longest + (cycles - 1) * soak_minutes(tasks_, longest) > window)
      --longest;
  }
  return longest;
}

/// How many of the timer's lengths are no longer than that.
int CandidateSearch::lengths_up_to(minutes most) const {
  const auto end =
      std::upper_bound(lengths_.begin(), lengths_.end(), most,
                       [](minutes limit, const RunLength& one) { return limit < one.runs; });
  return static_cast<int>(end - lengths_.begin());
}

minutes longest_run(std::span<const ZoneTask> tasks, const Timer& timer) {
  const std::vector<RunLength> lengths = run_lengths(timer);
  double longest = lengths.empty() ? 0.0 : static_cast<double>(lengths.back().runs.count());
  for (const ZoneTask& task : tasks)
    longest =
        std::min(longest, cycle_limit(task.delivery.rate(), task.intake).longest_cycle.minutes());
  return minutes{static_cast<int>(longest)};
}

minutes soak_minutes(std::span<const ZoneTask> tasks, minutes run) {
  double longest = 0.0;
  for (const ZoneTask& task : tasks) {
    const auto cycle = Duration::minutes(static_cast<double>(run.count()));
    longest = std::max(longest, soak_after(cycle, task.delivery.rate(), task.intake).minutes());
  }
  return minutes{static_cast<int>(std::ceil(longest))};
}

}  // namespace runnel

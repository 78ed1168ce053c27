#include "runnel/schedule/candidates.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>
#include <set>

#include "fewest.hpp"
#include "slots.hpp"
#include "spread.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

constexpr double weeks = horizon_days / 7.0;
/// One watering day a week more must be worth this share of a zone's weekly water (design decision,
/// no source).
constexpr double watering_day_share = 0.02;
/// Alternatives handed on to the timetable, cheapest first, beside those that keep_some adds.
constexpr std::size_t most_candidates = 400;
/// Two depths that differ by less are the same: far below what a timer's minute brings.
constexpr double same_depth_mm = 1e-3;

/// What does not change from candidate to candidate.
struct Need {
  double weekly_litres;          // gross, to meet the mean demand
  double drained_without_mm;     // by rain alone, mean of the futures
  double evaporated_without_mm;  // from the surface, likewise; 0 with the single coefficient
  double most_end_mm;            // depletion after two weeks that a programme may leave
};

double gross_per_net(const Delivery& delivery) {
  return delivery.multiplier / (1.0 - delivery.leaching_share);
}

/// Waterings under which a zone's use of water is usual. What a dual coefficient evaporates depends
/// on how often the ground is wetted: twice a week, so that its surface is full each time (what
/// FAO-56 Table 9 calls under a week between wettings; the days are our choice). None with the
/// single coefficient, whose demand does not depend on them.
Waterings usual_waterings(const ZoneTask& task) {
  if (task.model.kc_max.size() == 0) return {};
  Waterings usual{.et_share_before = {0.0}, .net_mm = Eigen::ArrayXXd::Zero(1, horizon_days)};
  const SoilSurface& surface = task.root_zone.surface.value();
  for (const Eigen::Index day : {0, 3, 7, 10}) usual.net_mm(0, day) = surface.fw * surface.tew_mm;
  return usual;
}

/// What evaporates from the surface, with what is about to when the days looked at are over: else a
/// watering on the last evening would seem to cost nothing. Mean of the futures; 0 with the single
/// coefficient.
double mean_evaporated_mm(const Outcome& outcome) {
  if (outcome.evaporated_mm.size() == 0) return 0.0;
  return (outcome.evaporated_mm + outcome.evaporable_mm).mean();
}

Need need_of(const ZoneTask& task) {
  const Outcome without =
      balance(task.root_zone, task.start, task.model, task.horizon, Waterings{});
  const Outcome usual =
      balance(task.root_zone, task.start, task.model, task.horizon, usual_waterings(task));
  const double demand_mm = (usual.etc_mm + usual.unmet_mm).mean();
  return {
      .weekly_litres = demand_mm / weeks * task.delivery.area.m2() * gross_per_net(task.delivery),
      .drained_without_mm = without.drained_mm.mean(),
      .evaporated_without_mm = mean_evaporated_mm(without),
      .most_end_mm = std::max(task.start.depletion_mm, 0.5 * mean_limit_mm(task))};
}

/// The search for one valve.
class Search {
 public:
  Search(std::span<const ZoneTask> tasks, const ValveRules& rules, const Timer& timer, Date from,
         double risk)
      : tasks_(tasks),
        hours_(rules.hours),
        lengths_(run_lengths(timer)),
        timer_(timer),
        from_(from),
        risk_(risk) {
    for (const ZoneTask& task : tasks_) needs_.push_back(need_of(task));
  }

  [[nodiscard]] Candidate none() const {
    Candidate candidate;
    candidate.cycles_in.assign(hours_.size(), 0);
    candidate.run_in.assign(hours_.size(), minutes{0});
    candidate.cost = dry().cost;
    return candidate;
  }
  [[nodiscard]] bool needs_water() const {
    const Assessment without = dry();
    return !without.within || without.short_mm > same_depth_mm;
  }

  /// The fewest minutes for this pattern and spread, or nothing when the timer cannot run so short
  /// or so long. `week_minutes` is where the search begins and then what it found: it changes
  /// how long the search takes, not what it finds.
  [[nodiscard]] std::optional<Candidate> best(const DayPattern& days, const std::vector<bool>& on,
                                              const Spread& spread, double& week_minutes) const {
    const int most = lengths_up_to(longest_in(spread)) - 1;  // into the lengths
    if (most < 0) return std::nullopt;
    // The shortest as good as the longest: harm-free if that can be had, else the least harm.
    const Assessment at_most = assess(on, spread.cycles_in, alike(spread, length(most)));
    Cost cost = at_most.cost;
    const auto as_good = [&](int i) {
      const Assessment now = assess(on, spread.cycles_in, alike(spread, length(i)));
      const bool good = (now.within || !at_most.within) &&
                        now.cost.harm_um <= at_most.cost.harm_um + 1 &&
                        now.short_mm <= at_most.short_mm + same_depth_mm;
      if (good) cost = now.cost;
      return good;
    };
    const auto cycles_in_week =
        static_cast<double>(spread.starts() * std::count(on.begin(), on.end(), true)) / weeks;
    const minutes about{static_cast<int>(std::ceil(week_minutes / cycles_in_week))};
    const int guess = std::clamp(lengths_up_to(about), 0, most);
    const minutes run = length(fewest(0, most, guess, as_good));
    week_minutes = static_cast<double>(run.count()) * cycles_in_week;
    return Candidate{.days = days,
                     .cycles_in = spread.cycles_in,
                     .run_in = alike(spread, run),
                     .soak = soak_minutes(tasks_, run),
                     .cost = cost};
  }

  [[nodiscard]] Candidate with_runs(const Candidate& whole, std::vector<minutes> run_in) const {
    Candidate other = whole;
    other.soak = soak_minutes(tasks_, *std::max_element(run_in.begin(), run_in.end()));
    other.cost = assess(watered_days(whole.days, from_), whole.cycles_in, run_in).cost;
    other.run_in = std::move(run_in);
    return other;
  }
  [[nodiscard]] Candidate shortened(const Candidate& whole, double share) const {
    std::vector<minutes> run_in = whole.run_in;
    for (minutes& run : run_in) {
      if (run.count() == 0) continue;
      const minutes shorter{static_cast<int>(share * static_cast<double>(run.count()))};
      run = length(std::max(lengths_up_to(shorter) - 1, 0));
    }
    return with_runs(whole, std::move(run_in));
  }

  /// Whether a longer run is ruled out, so that more cycles bring more water.
  [[nodiscard]] bool at_longest(const Candidate& candidate, const Spread& spread) const {
    const minutes run = *std::max_element(candidate.run_in.begin(), candidate.run_in.end());
    // Valves that share a programme need as many cycles as each other.
    return timer_.programmes > 0 || lengths_up_to(run) == lengths_up_to(longest_in(spread));
  }

 private:
  struct Assessment {
    bool within = true;     ///< the limit, in all but the allowed futures
    double short_mm = 0.0;  ///< by how much the root zones are too dry after two weeks
    Cost cost;
  };

  /// The longest run whose cycles and soaks fit the windows of a spread.
  [[nodiscard]] minutes longest_in(const Spread& spread) const {
    minutes longest = longest_run(tasks_, timer_);
    for (std::size_t w = 0; w < hours_.size(); ++w) {
      if (spread.cycles_in[w] == 0) continue;
      const minutes length = hours_[w].closes - hours_[w].opens;
      const int cycles = spread.cycles_in[w];
      longest = std::min(longest, length / cycles);
      while (longest.count() > 0 &&
             cycles * longest + (cycles - 1) * soak_minutes(tasks_, longest) > length)
        --longest;
    }
    return longest;
  }

  /// How many of the timer's lengths are no longer than that.
  [[nodiscard]] int lengths_up_to(minutes most) const {
    const auto end = std::upper_bound(
        lengths_.begin(), lengths_.end(), most,
        [](minutes limit, const RunLength& length) { return limit < length.runs; });
    return static_cast<int>(end - lengths_.begin());
  }
  [[nodiscard]] minutes length(int i) const { return lengths_[static_cast<std::size_t>(i)].runs; }

  [[nodiscard]] static std::vector<minutes> alike(const Spread& spread, minutes run) {
    std::vector<minutes> run_in;
    for (const int cycles : spread.cycles_in) run_in.push_back(cycles > 0 ? run : minutes{0});
    return run_in;
  }

  [[nodiscard]] Assessment dry() const {
    return assess(std::vector<bool>(horizon_days, false), std::vector<int>(hours_.size(), 0),
                  std::vector<minutes>(hours_.size(), minutes{0}));
  }

  [[nodiscard]] Assessment assess(const std::vector<bool>& on, const std::vector<int>& cycles_in,
                                  const std::vector<minutes>& run_in) const {
    Assessment sum;
    const auto days_watered = static_cast<double>(std::count(on.begin(), on.end(), true));
    double price_l = 0.0;
    double harm_um = 0.0;
    for (std::size_t z = 0; z < tasks_.size(); ++z) {
      const ZoneTask& task = tasks_[z];
      const Delivery& delivery = task.delivery;
      const Waterings given =
          waterings(slots_of(task, cycles_in, run_in, hours_), on, delivery.net_mm_per_minute());
      const Outcome outcome = balance(task.root_zone, task.start, task.model, task.horizon, given);
      const double end_mm = outcome.end_mm.mean();
      if ((outcome.days_beyond > 0).count() > allowed_beyond(outcome.end_mm.size(), risk_))
        sum.within = false;
      sum.short_mm += std::max(0.0, end_mm - needs_[z].most_end_mm);
      harm_um += 1000.0 * harm_mm(outcome, risk_);

      const double area_m2 = delivery.area.m2();
      const double net_l = given.net_mm.sum() * area_m2;
      const double drained_mm =
          std::max(0.0, outcome.drained_mm.mean() - needs_[z].drained_without_mm);
      const double evaporated_mm =
          std::max(0.0, mean_evaporated_mm(outcome) - needs_[z].evaporated_without_mm);
      const double lost_l =
          net_l * (gross_per_net(delivery) - 1.0) + (drained_mm + evaporated_mm) * area_m2;
      // Depletion is of the ground that irrigation reaches: what it lacks is over that share alone.
      const double missing_l = std::max(0.0, end_mm - task.start.depletion_mm) *
                               task.root_zone.wetted_share * area_m2 * gross_per_net(delivery);
      price_l += (lost_l + missing_l) / weeks +
                 watering_day_share * needs_[z].weekly_litres * days_watered / weeks;
    }
    sum.cost = {.harm_um = std::llround(harm_um), .price_cl = std::llround(100.0 * price_l)};
    return sum;
  }

  std::span<const ZoneTask> tasks_;
  const WateringHours& hours_;
  std::vector<RunLength> lengths_;
  const Timer& timer_;
  Date from_;
  double risk_;
  std::vector<Need> needs_;
};

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
std::vector<Candidate> best_of_each(const Search& search, const std::vector<DayPattern>& patterns,
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

Eigen::Index allowed_beyond(Eigen::Index members, double risk) {
  return std::max<Eigen::Index>(
      0, static_cast<Eigen::Index>(std::floor(risk * static_cast<double>(members + 1))) - 1);
}

double mean_limit_mm(const ZoneTask& task) {
  const Waterings usual = usual_waterings(task);
  double sum = 0.0;
  for (Eigen::Index member = 0; member < task.horizon.et_mm.rows(); ++member)
    sum +=
        trace(task.root_zone, task.start, task.model, task.horizon, usual, member).limit_mm.mean();
  return sum / static_cast<double>(task.horizon.et_mm.rows());
}

Column usual_demand_mm(const ZoneTask& task) {
  const Waterings usual = usual_waterings(task);
  const Eigen::Index members = task.horizon.et_mm.rows();
  Column sum_mm = Column::Zero(task.horizon.et_mm.cols());
  for (Eigen::Index member = 0; member < members; ++member) {
    const BalanceTrace days =
        trace(task.root_zone, task.start, task.model, task.horizon, usual, member);
    sum_mm += days.etc_mm + days.unmet_mm;
  }
  return sum_mm / static_cast<double>(members);
}

double harm_mm(const Outcome& outcome, double risk) {
  const Eigen::ArrayXd all_mm =
      (outcome.days_beyond > 0).select(outcome.beyond_mm + outcome.unmet_mm, 0.0);
  std::vector<double> harm(all_mm.begin(), all_mm.end());
  std::sort(harm.begin(), harm.end());
  const auto counted = harm.size() - static_cast<std::size_t>(allowed_beyond(all_mm.size(), risk));
  return std::accumulate(harm.begin(), harm.begin() + static_cast<std::ptrdiff_t>(counted), 0.0) /
         static_cast<double>(counted);
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

Candidate with_runs(std::span<const ZoneTask> tasks, const Candidate& candidate,
                    std::vector<minutes> run_in, const ValveRules& rules, const Timer& timer,
                    Date from, const SearchOptions& options) {
  return Search(tasks, rules, timer, from, options.risk).with_runs(candidate, std::move(run_in));
}

std::vector<Candidate> candidates(std::span<const ZoneTask> tasks, const ValveRules& rules,
                                  const Timer& timer, Date from, const SearchOptions& options) {
  const Search search(tasks, rules, timer, from, options.risk);
  if (!search.needs_water()) return {search.none()};

  const std::vector<Spread> all = spreads(rules.hours.size(), timer.starts_per_valve);
  const std::vector<DayPattern> patterns = patterns_for(tasks, timer, from);
  const bool sharing = timer.programmes > 0;  // then a valve may have to take any days and cycles
  std::vector<Candidate> found =
      best_of_each(search, patterns, sharing ? all : spreads_for(tasks, all), from);
  const bool harmless = std::any_of(found.begin(), found.end(), [](const Candidate& candidate) {
    return candidate.cost.harm_um == 0;
  });
  if (!harmless) found = best_of_each(search, patterns, all, from);
  const auto cheaper = [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; };
  std::stable_sort(found.begin(), found.end(), cheaper);
  if (!sharing) keep_some(found, from);
  if (!found.empty()) {
    const Candidate whole = found.front();
    for (const double share : {0.75, 0.5, 0.25}) found.push_back(search.shortened(whole, share));
  }
  found.push_back(search.none());
  std::stable_sort(found.begin(), found.end(), cheaper);
  return found;
}

}  // namespace runnel

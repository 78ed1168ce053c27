#include "runnel/schedule/changes.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <iterator>
#include <optional>

#include "assessment.hpp"
#include "candidate_search.hpp"
#include "fewest.hpp"
#include "harm.hpp"
#include "run_limits.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;
using Openings = std::vector<ValveTimes::Opening>;

constexpr int week_days = 7;

bool alike(std::span<const int> lengths) {
  return std::adjacent_find(lengths.begin(), lengths.end(), std::not_equal_to<>()) == lengths.end();
}

std::vector<int> lengths_of(const Openings& openings) {
  std::vector<int> lengths_min;
  for (const ValveTimes::Opening& opening : openings)
    lengths_min.push_back(static_cast<int>(opening.length.count()));
  return lengths_min;
}

std::vector<WallTime> starts_of(const Openings& openings) {
  std::vector<WallTime> starts;
  for (const ValveTimes::Opening& opening : openings) starts.push_back(opening.start);
  return starts;
}

bool within(const Window& window, WallTime time) {
  return time >= window.opens && time < window.closes;
}

/// The candidate's times when all starts in force that it has a cycle for can be kept.
ValveTimes hoped_for(const Candidate& candidate, const ValveTimes& in_force,
                     const WateringHours& hours) {
  ValveTimes times{.valve = in_force.valve, .days = candidate.days, .openings = {}};
  const std::vector<WallTime> old = starts_of(in_force.openings);
  for (std::size_t w = 0; w < hours.size(); ++w) {
    std::vector<WallTime> starts;
    for (const WallTime start : old)
      if (within(hours[w], start)) starts.push_back(start);
    const auto cycles = static_cast<std::size_t>(candidate.cycles_in[w]);
    // Any other times stand for those that have to be found.
    for (WallTime other = hours[w].opens; starts.size() < cycles; ++other)
      if (std::find(starts.begin(), starts.end(), other) == starts.end()) starts.push_back(other);
    starts.resize(cycles);
    std::sort(starts.begin(), starts.end());
    for (const WallTime start : starts)
      times.openings.push_back({.start = start, .length = candidate.run_in[w]});
  }
  return times;
}

std::int64_t price_cl(std::span<const ZoneTask> tasks, int settings) {
  double litres = 0.0;
  for (const ZoneTask& task : tasks) litres += weekly_litres(task);
  return std::llround(100.0 * setting_share * litres * settings);
}

bool timer_has(const Timer& timer, const DayPattern& days) {
  if (std::holds_alternative<Weekdays>(days)) return timer.weekdays;
  if (std::holds_alternative<DateParity>(days)) return timer.odd_even;
  return std::get<EveryN>(days).n <= timer.every_n_days;
}

bool timer_has(const Timer& timer, minutes length) {
  const std::vector<RunLength> lengths = run_lengths(timer);
  return std::any_of(lengths.begin(), lengths.end(),
                     [length](const RunLength& offered) { return offered.runs == length; });
}

/// Cycles and runs in each window, or nothing when a run is not within one or one window has
/// several lengths.
std::optional<Candidate> by_window(const ValveTimes& times, const WateringHours& hours) {
  Candidate candidate{.days = times.days,
                      .cycles_in = std::vector<int>(hours.size(), 0),
                      .run_in = std::vector<minutes>(hours.size()),
                      .keep_starts = starts_of(times.openings),
                      .cost = {}};
  for (const ValveTimes::Opening& opening : times.openings) {
    const auto window = std::find_if(hours.begin(), hours.end(), [&](const Window& one) {
      return within(one, opening.start) && opening.start + opening.length <= one.closes;
    });
    if (window == hours.end()) return std::nullopt;
    const auto w = static_cast<std::size_t>(window - hours.begin());
    if (candidate.cycles_in[w] > 0 && candidate.run_in[w] != opening.length) return std::nullopt;
    ++candidate.cycles_in[w];
    candidate.run_in[w] = opening.length;
  }
  return candidate;
}

/// Whether the interval between the starts is one the timer has; sets it.
bool take_interval(Candidate& candidate, const Timer& timer) {
  const std::vector<WallTime>& starts = candidate.keep_starts;
  if (timer.repeat_hours.empty())
    return starts.size() <= static_cast<std::size_t>(timer.starts_per_valve);
  if (starts.size() < 2) return true;
  const minutes apart = starts[1] - starts[0];
  candidate.repeat = std::chrono::duration_cast<std::chrono::hours>(apart);
  return candidate.repeat == apart &&
         std::find(timer.repeat_hours.begin(), timer.repeat_hours.end(),
                   candidate.repeat.count()) != timer.repeat_hours.end();
}

/// One valve whose times in force are known.
class InForce {
 public:
  InForce(std::span<const ZoneTask> tasks, const ValveTimes& times, const Constraints& constraints,
          Date from, const SearchOptions& options)
      : tasks_(tasks),
        times_(times),
        constraints_(constraints),
        rules_(constraints.rules_of(times.valve)),
        from_(from),
        options_(options),
        search_(tasks, rules_, constraints.timer, from, options) {}

  /// What is in force, after that run by hand; nothing when it can no longer be set.
  [[nodiscard]] std::optional<Candidate> unchanged(int by_hand_min) const {
    if (times_.openings.empty()) return judged(search_.none(), by_hand_min);
    const Timer& timer = constraints_.timer;
    std::optional<Candidate> candidate = by_window(times_, rules_.hours);
    if (!candidate || !take_interval(*candidate, timer) || !timer_has(timer, times_.days) ||
        keeps_to(rules_, times_.days, from_, days_ahead()) == Keeps::not_at_all ||
        !keeps_minutes(rules_, times_) ||
        (!timer.length_per_start && !alike(lengths_of(times_.openings))))
      return std::nullopt;
    const minutes longest = longest_run(tasks_, timer);
    for (const ValveTimes::Opening& opening : times_.openings)
      if (opening.length > longest || !timer_has(timer, opening.length)) return std::nullopt;
    candidate->in_force = true;
    return judged(*candidate, by_hand_min);
  }

  /// Those of its zones after so long a run by hand, cheapest first.
  [[nodiscard]] std::vector<Candidate> programmes_after(int by_hand_min) const {
    std::vector<Candidate> list =
        candidates(wetter(by_hand_min), rules_, constraints_.timer, from_, options_);
    for (Candidate& candidate : list) {
      candidate.by_hand_min = by_hand_min;
      candidate = search_.with_runs(candidate, candidate.run_in);
    }
    std::stable_sort(list.begin(), list.end(),
                     [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; });
    return list;
  }

  /// After the fewest minutes by hand with which it does the least harm.
  [[nodiscard]] std::optional<Candidate> after_hand_run(const Candidate& unchanged) const {
    int most = most_by_hand();
    if (rules_.most_minutes_a_day)
      most = std::min(
          most, *rules_.most_minutes_a_day - (waters_on(times_.days, from_) ? minutes_a_day() : 0));
    if (rules_.most_minutes_a_week)
      most = std::min(
          most, *rules_.most_minutes_a_week - most_days_in_seven(times_.days) * minutes_a_day());
    const auto fewest_min = least_harm(most, [this](int by_hand) { return harm_um(by_hand); });
    if (!fewest_min || harm_um(*fewest_min) >= unchanged.cost.harm_um) return std::nullopt;
    return judged(unchanged, *fewest_min);
  }

  /// Other programmes after a run by hand: the fewest minutes with which one of them does the least
  /// harm, and those that fill the root zone, after which shorter runs may do.
  [[nodiscard]] std::vector<Candidate> changed_after_hand_run() const {
    const int most = most_by_hand();
    if (most < 1 || rules_.most_minutes_a_day || rules_.most_minutes_a_week) return {};
    const int full = std::clamp(minutes_to_fill(), 1, most);
    std::vector<Candidate> list = programmes_after(full);
    const int least = *least_harm(
        full, [this](int by_hand) { return programmes_after(by_hand).front().cost.harm_um; });
    if (least < full)
      for (Candidate& candidate : programmes_after(least)) list.push_back(std::move(candidate));
    return list;
  }

 private:
  /// Its cost, with the harm at the start times in force.
  [[nodiscard]] Candidate judged(Candidate candidate, int by_hand_min) const {
    candidate.by_hand_min = by_hand_min;
    Candidate whole = search_.with_runs(candidate, candidate.run_in);
    whole.cost.harm_um = harm_um(by_hand_min);
    return whole;
  }

  /// A rule counts for as long as the programme is to run.
  [[nodiscard]] int days_ahead() const { return std::max(week_days, options_.planned_days()); }

  [[nodiscard]] std::int64_t harm_um(int by_hand_min) const {
    return runnel::harm_um(tasks_, times_, by_hand_min, constraints_, from_, options_);
  }

  /// The fewest minutes that do as little harm as the most.
  template <class HarmUm>
  [[nodiscard]] static std::optional<int> least_harm(int most, const HarmUm& harm_um) {
    if (most < 1) return std::nullopt;
    const std::int64_t least_um = harm_um(most);
    return fewest(1, most, most, [&](int by_hand) { return harm_um(by_hand) <= least_um; });
  }

  [[nodiscard]] int minutes_to_fill() const {
    double most_min = 0.0;
    for (const ZoneTask& task : tasks_)
      most_min = std::max(most_min, task.start.depletion_mm * task.root_zone.wetted_share /
                                        task.delivery.net_mm_per_minute());
    return static_cast<int>(std::ceil(std::min(most_min, 1440.0)));
  }

  /// The zones after a run by hand, as far as the choice of days and minutes asks.
  [[nodiscard]] std::vector<ZoneTask> wetter(int by_hand_min) const {
    std::vector<ZoneTask> tasks(tasks_.begin(), tasks_.end());
    for (ZoneTask& task : tasks) {
      const double net_mm = by_hand_min * task.delivery.net_mm_per_minute();
      task.start.depletion_mm =
          std::max(0.0, task.start.depletion_mm - net_mm / task.root_zone.wetted_share);
    }
    return tasks;
  }

  [[nodiscard]] int minutes_a_day() const { return static_cast<int>(times_.a_day().count()); }

  [[nodiscard]] int most_by_hand() const {
    const bool litres_limited = std::any_of(
        constraints_.litres.begin(), constraints_.litres.end(), [this](const LitreLimit& limit) {
          return std::find(limit.valves.begin(), limit.valves.end(), times_.valve) !=
                 limit.valves.end();
        });
    // It is made on the evening before, or early on the day.
    const bool allowed =
        allowed_on(rules_, from_) && allowed_on(rules_, from_ - std::chrono::days{1});
    if (litres_limited || !allowed) return 0;
    return static_cast<int>(longest_run(tasks_, constraints_.timer).count());
  }

  std::span<const ZoneTask> tasks_;
  const ValveTimes& times_;
  const Constraints& constraints_;
  ValveRules rules_;
  Date from_;
  const SearchOptions& options_;
  CandidateSearch search_;
};

}  // namespace

bool same_days(const DayPattern& a, const DayPattern& b) {
  const auto* every_a = std::get_if<EveryN>(&a);
  const auto* every_b = std::get_if<EveryN>(&b);
  if (every_a == nullptr || every_b == nullptr) return a == b;
  return every_a->n == every_b->n && (every_a->first - every_b->first).count() % every_a->n == 0;
}

int starts_changed(std::span<const WallTime> before, std::span<const WallTime> after) {
  std::vector<WallTime> kept;
  std::set_intersection(before.begin(), before.end(), after.begin(), after.end(),
                        std::back_inserter(kept));
  return static_cast<int>(std::max(before.size(), after.size()) - kept.size());
}

int lengths_changed(std::span<const int> before_min, std::span<const int> after_min) {
  if (before_min.empty() || after_min.empty()) return before_min.size() == after_min.size() ? 0 : 1;
  if (alike(before_min) && alike(after_min)) return before_min.front() != after_min.front() ? 1 : 0;
  int changed = 0;
  for (std::size_t i = 0; i < after_min.size(); ++i)
    if (i >= before_min.size() || before_min[i] != after_min[i]) ++changed;
  return changed;
}

int settings_changed(const ValveTimes& before, const ValveTimes& after) {
  if (after.openings.empty()) return static_cast<int>(before.openings.size());
  const bool new_days = before.openings.empty() || !same_days(before.days, after.days);
  return (new_days ? 1 : 0) +
         starts_changed(starts_of(before.openings), starts_of(after.openings)) +
         lengths_changed(lengths_of(before.openings), lengths_of(after.openings));
}

Candidate at_price_of_change(std::span<const ZoneTask> tasks, Candidate candidate,
                             const ValveTimes& in_force, const WateringHours& hours) {
  const int settings = settings_changed(in_force, hoped_for(candidate, in_force, hours)) +
                       (candidate.by_hand_min > 0 ? 1 : 0);
  candidate.keep_starts = starts_of(in_force.openings);
  candidate.cost.price_cl += price_cl(tasks, settings);
  return candidate;
}

std::int64_t price_of_moved_cl(std::span<const ZoneTask> tasks, const Candidate& candidate,
                               const ValveTimes& in_force, const ValveTimes& placed,
                               const WateringHours& hours) {
  const int hoped = settings_changed(in_force, hoped_for(candidate, in_force, hours));
  return price_cl(tasks, std::max(0, settings_changed(in_force, placed) - hoped));
}

std::vector<Candidate> with_changes_priced(std::span<const ZoneTask> tasks,
                                           std::vector<Candidate> list, const ValveTimes& in_force,
                                           const Constraints& constraints, Date from,
                                           const SearchOptions& options, int by_hand_min) {
  const InForce valve(tasks, in_force, constraints, from, options);
  if (by_hand_min > 0) list = valve.programmes_after(by_hand_min);
  if (const auto unchanged = valve.unchanged(by_hand_min)) {
    list.insert(list.begin(), *unchanged);
    if (options.by_hand && by_hand_min == 0 && unchanged->cost.harm_um > 0) {
      if (auto by_hand = valve.after_hand_run(*unchanged)) list.push_back(std::move(*by_hand));
      for (Candidate& candidate : valve.changed_after_hand_run())
        list.push_back(std::move(candidate));
    }
  }
  const WateringHours hours = constraints.rules_of(in_force.valve).hours;
  for (Candidate& candidate : list)
    candidate = at_price_of_change(tasks, std::move(candidate), in_force, hours);
  std::stable_sort(list.begin(), list.end(),
                   [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; });
  return list;
}

Waterings with_hand_run(const ZoneTask& task, Waterings waterings, int minutes) {
  if (minutes <= 0) return waterings;
  Waterings with{.et_share_before = {0.0},
                 .net_mm = Eigen::ArrayXXd::Zero(
                     static_cast<Eigen::Index>(waterings.et_share_before.size()) + 1,
                     task.horizon.et_mm.cols())};
  with.net_mm(0, 0) = minutes * task.delivery.net_mm_per_minute();
  if (!waterings.et_share_before.empty())
    with.net_mm.bottomRows(with.net_mm.rows() - 1) = waterings.net_mm;
  with.et_share_before.insert(with.et_share_before.end(), waterings.et_share_before.begin(),
                              waterings.et_share_before.end());
  return with;
}

}  // namespace runnel

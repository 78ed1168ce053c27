#include "sequence.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <map>
#include <numeric>

#include "sequence_search.hpp"

namespace runnel {
namespace {

constexpr int kDayMinutes = 24 * 60;
constexpr int kOddEven = 0;
constexpr long kMostDaysApart = 1'000'000;  // families that meet more seldom do not matter

int minutes_of(std::chrono::minutes duration) { return static_cast<int>(duration.count()); }

int soak_of(const Candidate& candidate) { return std::max(minutes_of(candidate.soak), 0); }

// The valves at a minute, none beyond the map's ends.
ValveSet at(const std::vector<ValveSet>& map, int i) {
  return i < 0 || i >= static_cast<int>(map.size()) ? ValveSet{} : map[static_cast<std::size_t>(i)];
}

double flow_of(const ValveSet& valves, const std::vector<double>& litres_per_minute) {
  constexpr std::size_t word = 64;
  static const ValveSet low{~std::uint64_t{0}};
  double sum = 0.0;
  for (std::size_t first = 0; first < kMostValves; first += word) {
    std::uint64_t left = ((valves >> first) & low).to_ullong();
    for (; left != 0; left &= left - 1)
      sum += litres_per_minute[first + static_cast<std::size_t>(std::countr_zero(left))];
  }
  return sum;
}

// Largest sum of the valves' minutes over families whose days meet pairwise: on each weekday its
// own valves; of the valves that drift through the weekdays the heaviest phase of each interval
// that has no factor in common with those taken before it (then all phases meet).
int heaviest_family(std::span<const Placed> placed, std::size_t window, int pause) {
  std::array<int, 7> on_weekday{};
  std::map<int, std::map<long, int>> drifting;  // interval or kOddEven -> phase -> minutes
  for (const Placed& one : placed) {
    const int load = held_minutes(*one.candidate, window, pause);
    if (load == 0) continue;
    if (const auto* weekdays = std::get_if<Weekdays>(&one.candidate->days)) {
      for (std::size_t d = 0; d < 7; ++d) {
        if (weekdays->on.test(d)) on_weekday[d] += load;
      }
    } else if (const auto* every = std::get_if<EveryN>(&one.candidate->days)) {
      if (every->n < 1) continue;
      const long since = every->first.time_since_epoch().count();
      drifting[every->n][((since % every->n) + every->n) % every->n] += load;
    } else {
      drifting[kOddEven][std::get<DateParity>(one.candidate->days).odd ? 1 : 0] += load;
    }
  }
  int sum = *std::max_element(on_weekday.begin(), on_weekday.end());
  long taken = 7;
  for (const auto& [interval, phases] : drifting) {
    if (interval != kOddEven) {
      if (taken > kMostDaysApart || std::gcd(taken, static_cast<long>(interval)) > 1) continue;
      taken *= interval;
    }
    int heaviest = 0;
    for (const auto& [phase, load] : phases) heaviest = std::max(heaviest, load);
    sum += heaviest;
  }
  return sum;
}

bool repeats(const Candidate& candidate) {
  return candidate.repeat.count() > 0 && cycles_of(candidate) > 0;
}

// The fixed orders in which first fit is tried; intervals, which cannot give way, before all
// others.
bool longest_chain_first(const Placed& a, const Placed& b) {
  return chain_minutes(*a.candidate) > chain_minutes(*b.candidate);
}
int longest_run(const Placed& one) {
  const auto& run_in = one.candidate->run_in;
  return run_in.empty() ? 0 : minutes_of(*std::max_element(run_in.begin(), run_in.end()));
}
bool longest_run_first(const Placed& a, const Placed& b) { return longest_run(a) > longest_run(b); }
bool most_cycles_first(const Placed& a, const Placed& b) {
  return cycles_of(*a.candidate) > cycles_of(*b.candidate);
}
bool shortest_run_first(const Placed& a, const Placed& b) {
  return longest_run(a) < longest_run(b);
}
using Order = bool (*)(const Placed&, const Placed&);
constexpr std::array<Order, 4> kOrders = {longest_chain_first, longest_run_first, most_cycles_first,
                                          shortest_run_first};

/// The starts in a window that a candidate would keep, as many as it has cycles there.
std::vector<int> kept_in(const Candidate& candidate, const Window& window, int cycles) {
  std::vector<int> kept;
  for (const WallTime start : candidate.keep_starts)
    if (start >= window.opens && start < window.closes && static_cast<int>(kept.size()) < cycles)
      kept.push_back(minutes_of(start));
  return kept;
}

bool first_fit_all(std::vector<Placed>& placed, MinuteMap& map, bool keep, long& visits) {
  map.clear();
  for (std::size_t i = 0; i < placed.size(); ++i) {
    ++visits;
    Placed& one = placed[i];
    const ValveSet conflicts = conflicts_with(one.candidate->days, std::span(placed).first(i));
    std::optional<Cycles> cycles = map.place(one.valve, *one.candidate, conflicts, keep);
    if (!cycles) return false;
    one.cycles = std::move(*cycles);
  }
  return true;
}

}  // namespace

int cycles_of(const Candidate& candidate, std::size_t window) {
  if (run_minutes(candidate, window) <= 0) return 0;
  return std::max(candidate.cycles_in[window], 0);
}

int run_minutes(const Candidate& candidate, std::size_t window) {
  return window < candidate.run_in.size() ? minutes_of(candidate.run_in[window]) : 0;
}

int minutes_a_day(const Candidate& candidate) {
  int sum = 0;
  for (std::size_t w = 0; w < candidate.run_in.size(); ++w)
    sum += cycles_of(candidate, w) * run_minutes(candidate, w);
  return sum;
}

int chain_minutes(const Candidate& candidate) {
  return minutes_a_day(candidate) +
         std::max(cycles_of(candidate) - 1, 0) * minutes_of(candidate.soak);
}

int cycles_of(const Candidate& candidate) {
  int sum = 0;
  for (std::size_t w = 0; w < candidate.cycles_in.size(); ++w) sum += cycles_of(candidate, w);
  return sum;
}

int held_minutes(const Candidate& candidate, std::size_t window, int pause) {
  const int cycles = cycles_of(candidate, window);
  if (cycles == 0) return 0;
  const int between = std::clamp(minutes_of(candidate.soak), 0, pause);
  return cycles * run_minutes(candidate, window) + (cycles - 1) * between + pause;
}

MinuteMap::MinuteMap(const Limits& limits)
    : limits_(&limits),
      pause_(limits.pause_min),
      together_(limits.together),
      supply_counts_(limits.supply_counts()) {
  const WateringHours& hours = limits.hours;
  if (hours.empty()) return;
  origin_ = minutes_of(hours.front().opens);
  const int end = minutes_of(hours.back().closes) + pause_;
  busy_.resize(static_cast<std::size_t>(std::max(end - origin_, 0)));
  if (supply_counts_) open_ = busy_;
  round_the_clock_ = end > origin_ + kDayMinutes;
}

void MinuteMap::clear() {
  std::fill(busy_.begin(), busy_.end(), ValveSet{});
  std::fill(open_.begin(), open_.end(), ValveSet{});
}

bool MinuteMap::blocked(int minute, const ValveSet& conflicts) const {
  const ValveSet& busy = busy_[static_cast<std::size_t>(minute - origin_)];
  if (!round_the_clock_) {
    return together_ == 1 ? (busy & conflicts).any()
                          : (busy & conflicts).count() >= static_cast<std::size_t>(together_);
  }
  return (busy & conflicts).count() + at(busy_, minute - origin_ - kDayMinutes).count() +
             at(busy_, minute - origin_ + kDayMinutes).count() >=
         static_cast<std::size_t>(together_);
}

bool MinuteMap::undersupplied(int minute, std::size_t valve, const ValveSet& conflicts) const {
  const std::vector<double>& flows = limits_->litres_per_minute;
  if (flows[valve] <= 0.0) return false;
  const int i = minute - origin_;
  double sum = flow_of(at(open_, i) & conflicts, flows);
  if (round_the_clock_)
    sum += flow_of(at(open_, i - kDayMinutes), flows) + flow_of(at(open_, i + kDayMinutes), flows);
  return sum > 0.0 && sum + flows[valve] > limits_->supply_l_min;
}

std::optional<int> MinuteMap::first_fit(std::size_t valve, const ValveSet& conflicts, int run,
                                        int earliest, int latest_end) const {
  const int held = run + pause_;
  int start = earliest;
  for (int minute = start; start + run <= latest_end; ++minute) {
    if (minute == start + held) return start;
    if (blocked(minute, conflicts) ||
        (supply_counts_ && minute < start + run && undersupplied(minute, valve, conflicts))) {
      start = minute + 1;
    }
  }
  return std::nullopt;
}

void MinuteMap::mark(std::size_t valve, int start, int run, bool taken) {
  const auto from = static_cast<std::size_t>(start - origin_);
  const auto until = from + static_cast<std::size_t>(run);
  for (std::size_t minute = from; minute < until + static_cast<std::size_t>(pause_); ++minute) {
    // Position and value, as std::bitset has them.
    // NOLINTNEXTLINE(readability-suspicious-call-argument)
    busy_[minute].set(valve, taken);
  }
  if (!supply_counts_) return;
  for (std::size_t minute = from; minute < until; ++minute) {
    // NOLINTNEXTLINE(readability-suspicious-call-argument)
    open_[minute].set(valve, taken);
  }
}

std::optional<Cycles> MinuteMap::free_cycles(std::size_t valve, const Candidate& candidate,
                                             const ValveSet& conflicts, bool keep) const {
  const int soak = soak_of(candidate);
  const WateringHours& own = limits_->own_hours[valve];
  Cycles cycles;
  for (std::size_t w = 0; w < own.size(); ++w) {
    const int opens = minutes_of(own[w].opens);
    const int closes = minutes_of(own[w].closes);
    const int run = run_minutes(candidate, w);
    const std::vector<int> kept =
        keep ? kept_in(candidate, own[w], cycles_of(candidate, w)) : std::vector<int>{};
    for (int cycle = 0; cycle < cycles_of(candidate, w); ++cycle) {
      const int earliest =
          cycles.empty() ? opens : std::max(opens, cycles.back().start + cycles.back().run + soak);
      const auto of_cycle = static_cast<std::size_t>(cycle);
      const int wanted = of_cycle < kept.size() ? std::max(kept[of_cycle], earliest) : earliest;
      std::optional<int> start = first_fit(valve, conflicts, run, wanted, closes);
      if (wanted > earliest && start != wanted)
        start = first_fit(valve, conflicts, run, earliest, closes);
      if (!start) return std::nullopt;
      cycles.push_back({.start = *start, .run = run});
    }
  }
  return cycles;
}

std::optional<int> MinuteMap::later_by(std::size_t valve, const Candidate& candidate,
                                       const ValveSet& conflicts, int first) const {
  const WateringHours& own = limits_->own_hours[valve];
  int start = first;
  for (std::size_t w = 0; w < own.size(); ++w) {
    const int opens = minutes_of(own[w].opens);
    const int closes = minutes_of(own[w].closes);
    for (int cycle = 0; cycle < cycles_of(candidate, w); ++cycle) {
      const std::optional<int> fits =
          first_fit(valve, conflicts, run_minutes(candidate, w), std::max(start, opens), closes);
      if (!fits) return std::nullopt;
      if (*fits > start) return *fits - start;
      start += minutes_of(candidate.repeat);
    }
  }
  return 0;
}

std::optional<Cycles> MinuteMap::repeated_cycles(std::size_t valve, const Candidate& candidate,
                                                 const ValveSet& conflicts, bool keep) const {
  int start = origin_;
  const auto fits = [&](WallTime kept) {
    return later_by(valve, candidate, conflicts, minutes_of(kept)) == 0;
  };
  const auto& kept = candidate.keep_starts;
  const auto free = keep ? std::find_if(kept.begin(), kept.end(), fits) : kept.end();
  if (free != kept.end()) start = minutes_of(*free);
  for (int later = 1; later > 0; start += later) {
    const std::optional<int> by = later_by(valve, candidate, conflicts, start);
    if (!by) return std::nullopt;
    later = *by;
  }
  Cycles cycles;
  for (std::size_t w = 0; w < limits_->hours.size(); ++w) {
    for (int cycle = 0; cycle < cycles_of(candidate, w); ++cycle) {
      cycles.push_back({.start = start, .run = run_minutes(candidate, w)});
      start += minutes_of(candidate.repeat);
    }
  }
  return cycles;
}

std::optional<Cycles> MinuteMap::cycles_for(std::size_t valve, const Candidate& candidate,
                                            const ValveSet& conflicts, bool keep) const {
  std::optional<Cycles> cycles = repeats(candidate)
                                     ? repeated_cycles(valve, candidate, conflicts, keep)
                                     : free_cycles(valve, candidate, conflicts, keep);
  // The first run of the next day needs its soak as well; on the safe side where that day is off.
  if (cycles && cycles->size() > 1 &&
      cycles->front().start + kDayMinutes <
          cycles->back().start + cycles->back().run + soak_of(candidate)) {
    return std::nullopt;
  }
  return cycles;
}

std::optional<Cycles> MinuteMap::place(std::size_t valve, const Candidate& candidate,
                                       const ValveSet& conflicts, bool keep) {
  std::optional<Cycles> cycles;
  if (keep && !candidate.keep_starts.empty())
    cycles = cycles_for(valve, candidate, conflicts, true);
  if (!cycles) cycles = cycles_for(valve, candidate, conflicts, false);
  if (!cycles) return std::nullopt;
  for (const Cycle& cycle : *cycles) take(valve, cycle.start, cycle.run);
  return cycles;
}

void MinuteMap::remove(const Placed& placed) {
  for (const Cycle& cycle : placed.cycles) release(placed.valve, cycle.start, cycle.run);
}

ValveSet conflicts_with(const DayPattern& days, std::span<const Placed> placed) {
  ValveSet conflicts;
  for (const Placed& one : placed) {
    if (can_meet(days, one.candidate->days)) conflicts.set(one.valve);
  }
  return conflicts;
}

bool overloaded(std::span<const Placed> placed, const Limits& limits) {
  for (std::size_t w = 0; w < limits.hours.size(); ++w) {
    const int open = minutes_of(limits.hours[w].closes - limits.hours[w].opens);
    const int room = (open + limits.pause_min) * limits.together;
    if (heaviest_family(placed, w, limits.pause_min) > room) return true;
  }
  return false;
}

bool days_touch(const Candidate& candidate, const MinuteMap& map) {
  if (map.round_the_clock()) return true;
  const WateringHours& hours = map.limits().hours;
  return cycles_of(candidate) > 1 && hours.front().opens + std::chrono::minutes(kDayMinutes) <
                                         hours.back().closes + candidate.soak;
}

Sequenced sequence(std::vector<Placed> placed, const Limits& limits, long most_looks,
                   long& visits) {
  if (overloaded(placed, limits)) return {.fits = Fits::no, .placed = {}};
  MinuteMap map(limits);
  const bool any_kept = std::any_of(placed.begin(), placed.end(), [](const Placed& one) {
    return !one.candidate->keep_starts.empty();
  });
  for (const bool keep : {true, false}) {
    if (keep && !any_kept) continue;
    for (const Order order : kOrders) {
      std::stable_sort(placed.begin(), placed.end(), order);
      std::stable_partition(placed.begin(), placed.end(),
                            [](const Placed& one) { return repeats(*one.candidate); });
      if (first_fit_all(placed, map, keep, visits))
        return {.fits = Fits::yes, .placed = std::move(placed)};
    }
  }
  const bool beyond_search = std::any_of(placed.begin(), placed.end(), [&map](const Placed& one) {
    return repeats(*one.candidate) || days_touch(*one.candidate, map);
  });
  // Several at once seldom gain by the branch and bound, and it cannot say no; where the supply
  // counts they do.
  if (beyond_search || (limits.together > 1 && !limits.supply_counts()))
    return {.fits = Fits::unknown, .placed = {}};
  map.clear();
  const Fits fits = search_order(placed, map, most_looks, visits);
  if (limits.together > 1 && fits == Fits::no) return {.fits = Fits::unknown, .placed = {}};
  return {.fits = fits, .placed = std::move(placed)};
}

}  // namespace runnel

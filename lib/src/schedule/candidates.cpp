#include "runnel/schedule/candidates.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>

namespace runnel {
namespace {

using std::chrono::minutes;

constexpr double weeks = horizon_days / 7.0;
/// One watering day a week more must be worth this share of a zone's weekly water (design decision,
/// no source).
constexpr double watering_day_share = 0.02;
/// Alternatives handed on to the timetable, cheapest first.
constexpr std::size_t most_candidates = 400;
/// Two depths that differ by less are the same: far below what a timer's minute brings.
constexpr double same_depth_mm = 1e-3;

/// How many cycles to run in each window: the same number in each that is used.
struct Spread {
  std::vector<int> cycles_in;  // [windows]
  int cycles;                  // in each window used
  int starts;                  // in all
};

/// Fewest starts first; of as many, the earlier window.
std::vector<Spread> spreads(std::size_t windows, int starts_per_valve) {
  std::vector<Spread> all;
  const unsigned sets = 1U << std::min<std::size_t>(windows, 10);
  for (unsigned set = 1; set < sets; ++set) {
    const int used = std::popcount(set);
    for (int cycles = 1; cycles * used <= starts_per_valve; ++cycles) {
      Spread spread{
          .cycles_in = std::vector<int>(windows, 0), .cycles = cycles, .starts = cycles * used};
      for (std::size_t w = 0; w < windows; ++w)
        if ((set >> w & 1U) != 0) spread.cycles_in[w] = cycles;
      all.push_back(std::move(spread));
    }
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Spread& a, const Spread& b) { return a.starts < b.starts; });
  return all;
}

std::vector<bool> watered_days(const DayPattern& days, Date from) {
  std::vector<bool> on(horizon_days);
  for (int d = 0; d < horizon_days; ++d)
    on[static_cast<std::size_t>(d)] = waters_on(days, from + std::chrono::days{d});
  return on;
}

/// A watering before a share of the day's ET, and how many minutes of run it takes.
struct Slot {
  double et_share;
  int cycles;
};

Waterings waterings(const std::vector<Slot>& slots, const std::vector<bool>& on,
                    double net_mm_per_cycle) {
  Waterings result{
      .et_share_before = std::vector<double>(slots.size()),
      .net_mm = Eigen::ArrayXXd::Zero(static_cast<Eigen::Index>(slots.size()), horizon_days)};
  for (std::size_t s = 0; s < slots.size(); ++s) {
    result.et_share_before[s] = slots[s].et_share;
    for (std::size_t d = 0; d < on.size(); ++d)
      if (on[d])
        result.net_mm(static_cast<Eigen::Index>(s), static_cast<Eigen::Index>(d)) =
            slots[s].cycles * net_mm_per_cycle;
  }
  return result;
}

/// Cycles of one day that fall on the same share of its ET, together, in order.
std::vector<Slot> merged(std::vector<Slot> slots) {
  std::map<double, int> by_share;
  for (const Slot& slot : slots) by_share[slot.et_share] += slot.cycles;
  slots.clear();
  for (const auto& [share, cycles] : by_share)
    slots.push_back({.et_share = share, .cycles = cycles});
  return slots;
}

double share_before(const ZoneTask& task, const Window& window, WallTime start) {
  if (task.root_zone.surplus == Surplus::at_once) return task.et_share_before(start);
  return window.after_et ? 1.0 : 0.0;
}

/// Times not known yet: each watering stands at the last minute its window allows.
std::vector<Slot> slots_of(const ZoneTask& task, const Spread& spread, const WateringHours& hours,
                           minutes run) {
  std::vector<Slot> slots;
  for (std::size_t w = 0; w < hours.size(); ++w)
    if (spread.cycles_in[w] > 0)
      slots.push_back({.et_share = share_before(task, hours[w], hours[w].closes - run),
                       .cycles = spread.cycles_in[w]});
  return merged(std::move(slots));
}

/// What does not change from candidate to candidate.
struct Need {
  double weekly_litres;       // gross, to meet the mean demand
  double drained_without_mm;  // by rain alone, mean of the futures
  double most_end_mm;         // depletion after two weeks that a programme may leave
};

double gross_per_net(const Delivery& delivery) {
  return delivery.multiplier / (1.0 - delivery.leaching_share);
}

Need need_of(const ZoneTask& task) {
  const Outcome without =
      balance(task.root_zone, task.start, task.model, task.horizon, Waterings{});
  const double demand_mm = (without.etc_mm + without.unmet_mm).mean();
  return {
      .weekly_litres = demand_mm / weeks * task.delivery.area.m2() * gross_per_net(task.delivery),
      .drained_without_mm = without.drained_mm.mean(),
      .most_end_mm = std::max(task.start.depletion_mm, 0.5 * mean_limit_mm(task))};
}

/// The search for one valve.
class Search {
 public:
  Search(std::span<const ZoneTask> tasks, const WateringHours& hours, const Timer& timer, Date from,
         double risk)
      : tasks_(tasks), hours_(hours), timer_(timer), from_(from), risk_(risk) {
    for (const ZoneTask& task : tasks_) needs_.push_back(need_of(task));
  }

  [[nodiscard]] Candidate none() const {
    Candidate candidate;
    candidate.cycles_in.assign(hours_.size(), 0);
    candidate.cost = assess(std::vector<bool>(horizon_days, false), nullptr, minutes{0}).cost;
    return candidate;
  }
  [[nodiscard]] bool needs_water() const {
    return !assess(std::vector<bool>(horizon_days, false), nullptr, minutes{0}).unharmed;
  }

  /// The fewest minutes for this pattern and spread, or nothing when the timer cannot run so short
  /// or so long.
  [[nodiscard]] std::optional<Candidate> best(const DayPattern& days, const std::vector<bool>& on,
                                              const Spread& spread) const {
    const int step = timer_.minutes_step;
    int low = (std::max(timer_.minutes_least, 1) + step - 1) / step;  // in steps of the timer
    int high = static_cast<int>(longest_run(spread).count()) / step;
    if (high < low) return std::nullopt;
    const Assessment most = assess(on, &spread, minutes{high * step});
    // Fewest steps that are as good as the most: harm-free if that can be had, else the least harm.
    const auto as_good = [&](const Assessment& a) {
      return most.unharmed ? a.unharmed
                           : a.cost.harm_um <= most.cost.harm_um + 1 && a.cost.harm_um > 0;
    };
    if (!most.unharmed && most.cost.harm_um == 0)
      low = high;  // unharmed for two weeks, though drier after them
    Assessment at_high = most;
    while (low < high) {
      const int middle = low + (high - low) / 2;
      const Assessment at_middle = assess(on, &spread, minutes{middle * step});
      if (as_good(at_middle)) {
        high = middle;
        at_high = at_middle;
      } else {
        low = middle + 1;
      }
    }
    const minutes run{high * step};
    return Candidate{.days = days,
                     .cycles_in = spread.cycles_in,
                     .run = run,
                     .soak = soak_minutes(tasks_, run),
                     .cost = at_high.cost};
  }

  [[nodiscard]] Candidate shortened(const Candidate& whole, double share) const {
    Candidate less = whole;
    const auto steps =
        static_cast<int>(share * static_cast<double>(whole.run.count()) / timer_.minutes_step);
    less.run = minutes{std::max(steps * timer_.minutes_step, timer_.minutes_least)};
    less.soak = soak_minutes(tasks_, less.run);
    const Spread spread{.cycles_in = less.cycles_in, .cycles = 0, .starts = 0};
    less.cost = assess(watered_days(less.days, from_), &spread, less.run).cost;
    return less;
  }

  [[nodiscard]] bool limited_by_ground(const Candidate& candidate) const {
    return candidate.run + minutes{timer_.minutes_step} > longest_cycle();
  }

 private:
  struct Assessment {
    bool unharmed;
    Cost cost;
  };

  [[nodiscard]] minutes longest_cycle() const {
    double longest = timer_.minutes_most;
    for (const ZoneTask& task : tasks_)
      longest =
          std::min(longest, cycle_limit(task.delivery.rate(), task.intake).longest_cycle.minutes());
    return minutes{static_cast<int>(longest)};
  }

  /// The longest run whose cycles and soaks fit the windows of a spread.
  [[nodiscard]] minutes longest_run(const Spread& spread) const {
    minutes longest = longest_cycle();
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

  [[nodiscard]] Assessment assess(const std::vector<bool>& on, const Spread* spread,
                                  minutes run) const {
    Assessment sum{.unharmed = true, .cost = {}};
    const auto days_watered = static_cast<double>(std::count(on.begin(), on.end(), true));
    double price_l = 0.0;
    double harm_um = 0.0;
    for (std::size_t z = 0; z < tasks_.size(); ++z) {
      const ZoneTask& task = tasks_[z];
      const Delivery& delivery = task.delivery;
      const double net_mm = delivery.net_mm_per_minute() * static_cast<double>(run.count());
      const Waterings given = spread != nullptr
                                  ? waterings(slots_of(task, *spread, hours_, run), on, net_mm)
                                  : Waterings{};
      const Outcome outcome = balance(task.root_zone, task.start, task.model, task.horizon, given);
      const Eigen::Index allowed = allowed_beyond(outcome.end_mm.size(), risk_);
      const double end_mm = outcome.end_mm.mean();
      if ((outcome.days_beyond > 0).count() > allowed ||
          end_mm > needs_[z].most_end_mm + same_depth_mm)
        sum.unharmed = false;
      harm_um += 1000.0 * harm_mm(outcome, risk_);

      const double area_m2 = delivery.area.m2();
      const double net_l = given.net_mm.size() > 0 ? given.net_mm.sum() * area_m2 : 0.0;
      const double lost_l =
          net_l * (gross_per_net(delivery) - 1.0) +
          std::max(0.0, outcome.drained_mm.mean() - needs_[z].drained_without_mm) * area_m2;
      const double missing_l =
          std::max(0.0, end_mm - task.start.depletion_mm) * area_m2 * gross_per_net(delivery);
      price_l += (lost_l + missing_l) / weeks +
                 watering_day_share * needs_[z].weekly_litres * days_watered / weeks;
    }
    sum.cost = {.harm_um = std::llround(harm_um), .price_cl = std::llround(100.0 * price_l)};
    return sum;
  }

  std::span<const ZoneTask> tasks_;
  const WateringHours& hours_;
  const Timer& timer_;
  Date from_;
  double risk_;
  std::vector<Need> needs_;
};

}  // namespace

Eigen::Index allowed_beyond(Eigen::Index members, double risk) {
  return std::max<Eigen::Index>(
      0, static_cast<Eigen::Index>(std::floor(risk * static_cast<double>(members + 1))) - 1);
}

double mean_limit_mm(const ZoneTask& task) {
  double sum = 0.0;
  for (Eigen::Index member = 0; member < task.horizon.et_mm.rows(); ++member)
    sum += trace(task.root_zone, task.start, task.model, task.horizon, Waterings{}, member)
               .limit_mm.mean();
  return sum / static_cast<double>(task.horizon.et_mm.rows());
}

double harm_mm(const Outcome& outcome, double risk) {
  const Eigen::ArrayXd all_mm = outcome.beyond_mm + outcome.unmet_mm;
  std::vector<double> harm(all_mm.begin(), all_mm.end());
  std::sort(harm.begin(), harm.end());
  const auto counted = harm.size() - static_cast<std::size_t>(allowed_beyond(all_mm.size(), risk));
  return std::accumulate(harm.begin(), harm.begin() + static_cast<std::ptrdiff_t>(counted), 0.0) /
         static_cast<double>(counted);
}

minutes soak_minutes(std::span<const ZoneTask> tasks, minutes run) {
  double longest = 0.0;
  for (const ZoneTask& task : tasks) {
    const auto cycle = Duration::minutes(static_cast<double>(run.count()));
    longest = std::max(longest, soak_after(cycle, task.delivery.rate(), task.intake).minutes());
  }
  return minutes{static_cast<int>(std::ceil(longest))};
}

Waterings waterings_of(const ZoneTask& task, const DayPattern& days,
                       std::span<const WallTime> starts, minutes run, const WateringHours& hours,
                       Date from) {
  std::vector<Slot> slots;
  for (const WallTime start : starts)
    for (const Window& window : hours)
      if (start >= window.opens && start < window.closes)
        slots.push_back({.et_share = share_before(task, window, start), .cycles = 1});
  return waterings(merged(std::move(slots)), watered_days(days, from),
                   task.delivery.net_mm_per_minute() * static_cast<double>(run.count()));
}

std::vector<Candidate> candidates(std::span<const ZoneTask> tasks, const WateringHours& hours,
                                  const Timer& timer, Date from, const SearchOptions& options) {
  const Search search(tasks, hours, timer, from, options.risk);
  if (!search.needs_water()) return {search.none()};

  std::vector<Candidate> found;
  const std::vector<Spread> all_spreads = spreads(hours.size(), timer.starts_per_valve);
  for (const DayPattern& days : day_patterns(timer, from)) {
    const std::vector<bool> on = watered_days(days, from);
    std::map<std::vector<bool>, bool>
        enough_cycles;  // by windows used: more cycles would only cut the run up
    for (const Spread& spread : all_spreads) {
      std::vector<bool> used(spread.cycles_in.begin(), spread.cycles_in.end());
      if (enough_cycles[used]) continue;
      const std::optional<Candidate> candidate = search.best(days, on, spread);
      if (!candidate) continue;
      enough_cycles[used] = !search.limited_by_ground(*candidate);
      found.push_back(*candidate);
    }
  }
  const auto cheaper = [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; };
  std::stable_sort(found.begin(), found.end(), cheaper);
  if (found.size() > most_candidates) found.resize(most_candidates);
  if (!found.empty()) {
    const Candidate whole = found.front();
    for (const double share : {0.75, 0.5, 0.25}) found.push_back(search.shortened(whole, share));
  }
  found.push_back(search.none());
  std::stable_sort(found.begin(), found.end(), cheaper);
  return found;
}

}  // namespace runnel

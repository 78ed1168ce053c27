#include "runnel/schedule/timetable.hpp"

#include <algorithm>
#include <numeric>
#include <stdexcept>

#include "sequence.hpp"

namespace runnel {
namespace {

// Candidates looked at, in all: counts, not time, so that a slow machine finds the same timetable.
constexpr long kGreedyVisits = 20'000;
constexpr long kMostVisits = 40'000;

constexpr std::size_t kNone = static_cast<std::size_t>(-1);

Cost minus(const Cost& a, const Cost& b) {
  return {.harm_um = a.harm_um - b.harm_um, .price_cl = a.price_cl - b.price_cl};
}

bool settable(const Candidate& candidate, const Timer& timer) {
  const int cycles = cycles_of(candidate);
  if (cycles == 0) return true;
  const auto run = candidate.run.count();
  return cycles <= timer.starts_per_valve && run >= timer.minutes_least &&
         run <= timer.minutes_most && (timer.minutes_step < 1 || run % timer.minutes_step == 0);
}

/// One timetable, whole or in the making.
struct Choice {
  Cost cost;
  std::vector<std::size_t> chosen;  ///< [valves] or kNone
  std::vector<Placed> placed;
};

class Packing {
 public:
  Packing(std::span<const std::vector<Candidate>> candidates, const WateringHours& hours,
          const Timer& timer)
      : candidates_(candidates), hours_(hours), timer_(timer), map_(hours, timer) {
    for (std::size_t v = 0; v < candidates_.size(); ++v) list_usable(v);
    order_by_load();
  }

  void search() {
    repeat_greedy();
    if (best_.cost == bound_) return;
    start_over();
    std::vector<Cost> least_of_rest(order_.size() + 1);
    for (std::size_t i = order_.size(); i-- > 0;) {
      least_of_rest[i] = least_of_rest[i + 1] + cheapest(order_[i]).cost;
    }
    descend(0, least_of_rest);
    if (!cut_short_ && !uncertain_) bound_ = best_.cost;
  }

  [[nodiscard]] const Choice& best() const { return best_; }
  [[nodiscard]] Cost bound() const { return bound_; }

 private:
  /// Candidates that the timer takes and that fit the hours when alone, cheapest first.
  void list_usable(std::size_t valve) {
    const std::vector<Candidate>& all = candidates_[valve];
    std::vector<std::size_t> usable;
    bool dry = false;
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (!settable(all[i], timer_)) continue;
      std::optional<Starts> starts = map_.place(valve, all[i], {});
      if (starts) map_.remove({.valve = valve, .candidate = &all[i], .starts = *starts});
      // Kept where not fitting is uncertain, so that the bound stays one.
      if (!starts && !(cycles_of(all[i]) > 0 && days_touch(all[i], map_))) continue;
      usable.push_back(i);
      dry = dry || cycles_of(all[i]) == 0;
    }
    if (!dry) throw std::invalid_argument("pack: a valve has no candidate without watering");
    std::stable_sort(usable.begin(), usable.end(),
                     [&all](std::size_t a, std::size_t b) { return all[a].cost < all[b].cost; });
    bound_ = bound_ + all[usable.front()].cost;
    usable_.push_back(std::move(usable));
  }

  [[nodiscard]] const Candidate& cheapest(std::size_t valve) const {
    return candidates_[valve][usable_[valve].front()];
  }

  void order_by_load() {
    order_.resize(candidates_.size());
    std::iota(order_.begin(), order_.end(), std::size_t{0});
    const auto load = [this](std::size_t valve) {
      const Candidate& candidate = cheapest(valve);
      return cycles_of(candidate) * (candidate.run.count() + timer_.pause_minutes);
    };
    std::stable_sort(order_.begin(), order_.end(),
                     [&load](std::size_t a, std::size_t b) { return load(a) > load(b); });
  }

  void start_over() {
    map_.clear();
    now_ = {
        .cost = {}, .chosen = std::vector<std::size_t>(candidates_.size(), kNone), .placed = {}};
  }

  /// Puts a candidate beside those placed, which stay where they are.
  bool add(std::size_t valve, std::size_t index) {
    ++visits_;
    const Candidate& candidate = candidates_[valve][index];
    now_.placed.push_back({.valve = valve, .candidate = &candidate, .starts = {}});
    if (!overloaded(now_.placed, hours_, map_.pause(), map_.together())) {
      auto starts = map_.place(valve, candidate, conflicts_with(candidate.days, earlier()));
      if (starts) {
        now_.placed.back().starts = std::move(*starts);
        return true;
      }
    }
    now_.placed.pop_back();
    return false;
  }
  [[nodiscard]] std::span<const Placed> earlier() const {
    return std::span(now_.placed).first(now_.placed.size() - 1);
  }

  void keep_if_better() {
    if (best_.chosen.empty() || now_.cost < best_.cost) best_ = now_;
  }

  /// Each valve in turn takes the cheapest that still fits; valves that had to pay more than their
  /// cheapest go to the front for the next pass.
  void repeat_greedy() {
    std::vector<std::size_t> best_order = order_;
    for (std::size_t pass = 0; pass <= 2 * order_.size(); ++pass) {
      if (pass > 0 && visits_ > kGreedyVisits) break;
      greedy_pass();
      if (best_.chosen.empty() || now_.cost < best_.cost) best_order = order_;
      keep_if_better();
      if (best_.cost == bound_ || !blame()) break;
    }
    order_ = std::move(best_order);
  }

  void greedy_pass() {
    start_over();
    for (const std::size_t valve : order_) {
      for (const std::size_t index : usable_[valve]) {
        if (!add(valve, index)) continue;
        now_.chosen[valve] = index;
        now_.cost = now_.cost + candidates_[valve][index].cost;
        break;
      }
    }
  }

  /// @return whether the order has changed.
  bool blame() {
    const auto excess = [this](std::size_t valve) {
      return minus(candidates_[valve][now_.chosen[valve]].cost, cheapest(valve).cost);
    };
    std::vector<std::size_t> next = order_;
    std::stable_sort(next.begin(), next.end(),
                     [&excess](std::size_t a, std::size_t b) { return excess(a) > excess(b); });
    const bool changed = next != order_;
    order_ = std::move(next);
    return changed;
  }

  /// Depth first. Leaves a branch that cannot cost less than the best; the rest cost at least the
  /// cheapest of each.
  void descend(std::size_t depth, std::span<const Cost> least_of_rest) {
    if (depth == order_.size()) return keep_if_better();
    const std::size_t valve = order_[depth];
    for (const std::size_t index : usable_[valve]) {
      const Cost before = now_.cost;
      const Cost cost = before + candidates_[valve][index].cost;
      if (!(cost + least_of_rest[depth + 1] < best_.cost)) return;
      if (visits_ > kMostVisits) {
        cut_short_ = true;
        return;
      }
      now_.cost = cost;
      now_.chosen[valve] = index;
      if (add(valve, index)) {
        descend(depth + 1, least_of_rest);
        map_.remove(now_.placed.back());
        now_.placed.pop_back();
      } else {
        descend_elsewhere(depth, index, least_of_rest);
      }
      now_.cost = before;
      now_.chosen[valve] = kNone;
    }
  }

  /// When the candidate finds no room beside those placed: all of them in another order.
  void descend_elsewhere(std::size_t depth, std::size_t index,
                         std::span<const Cost> least_of_rest) {
    const std::size_t valve = order_[depth];
    std::vector<Placed> wanted = now_.placed;
    wanted.push_back({.valve = valve, .candidate = &candidates_[valve][index], .starts = {}});
    Sequenced sequenced = sequence(std::move(wanted), hours_, timer_, visits_);
    if (sequenced.fits == Fits::unknown) uncertain_ = true;
    if (sequenced.fits != Fits::yes) return;
    now_.placed.swap(sequenced.placed);
    redraw();
    descend(depth + 1, least_of_rest);
    now_.placed.swap(sequenced.placed);
    redraw();
  }

  void redraw() {
    map_.clear();
    for (const Placed& one : now_.placed) {
      for (const int start : one.starts) {
        map_.take(one.valve, start, static_cast<int>(one.candidate->run.count()));
      }
    }
  }

  std::span<const std::vector<Candidate>> candidates_;
  const WateringHours& hours_;
  const Timer& timer_;
  MinuteMap map_;
  std::vector<std::vector<std::size_t>> usable_;  // [valves]
  std::vector<std::size_t> order_;                // in which valves are decided
  Choice now_, best_;
  Cost bound_;
  long visits_ = 0;
  bool cut_short_ = false;
  bool uncertain_ = false;
};

Programme programme_of(int valve, const Placed& placed) {
  Programme programme{
      .valve = valve, .days = placed.candidate->days, .starts = {}, .run = placed.candidate->run};
  for (const int start : placed.starts) programme.starts.emplace_back(start);
  return programme;
}

}  // namespace

Timetable pack(std::span<const int> valve_numbers,
               std::span<const std::vector<Candidate>> candidates, const WateringHours& hours,
               const Timer& timer) {
  if (valve_numbers.size() != candidates.size()) {
    throw std::invalid_argument("pack: valve numbers and candidates differ in number");
  }
  if (candidates.size() > kMostValves) throw std::invalid_argument("pack: too many valves");
  Packing packing(candidates, hours, timer);
  packing.search();
  Choice best = packing.best();
  std::sort(best.placed.begin(), best.placed.end(),
            [](const Placed& a, const Placed& b) { return a.valve < b.valve; });
  Timetable timetable{.chosen = std::move(best.chosen),
                      .programmes = {},
                      .cost = best.cost,
                      .bound = packing.bound(),
                      .proven = best.cost == packing.bound()};
  for (std::size_t v = 0; v < best.placed.size(); ++v) {
    timetable.programmes.push_back(programme_of(valve_numbers[v], best.placed[v]));
  }
  return timetable;
}

}  // namespace runnel

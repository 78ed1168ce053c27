#include "timetable_search.hpp"

#include <algorithm>
#include <numeric>
#include <stdexcept>

namespace runnel {
namespace {

// Counts, never time, so that a slow machine finds the same timetable. Chosen by what they brought
// in tests/bench/timetable_bench.
constexpr long kGreedyVisits = 5'000;  // candidates looked at
constexpr int kRootSteps = 120;        // along the subgradient
constexpr int kNodeSteps = 2;
constexpr int kSqueezes = 40;          // greedy passes by value
constexpr std::int64_t kKeepPct = 70;  // of the blame from pass to pass
constexpr std::size_t kAnewValves = 6;
constexpr long kAnewNodes = 25;
// One thousand nodes in all.
constexpr long kImproveNodes = 700;
constexpr long kTreeNodes = 300;
constexpr long kTreeOptions = 600'000;  // a node looks at every option left
constexpr long kVisits = 100'000;       // candidates looked at in each of the two
// Branch and bound over cycles: enough for a handful of valves to be settled for certain, and one
// dive or two for more.
constexpr std::size_t kHandful = 6;
constexpr long kHandfulLooks = 6'000;
constexpr long kLooksPerValve = 20;

Cost operator-(const Cost& a, const Cost& b) {
  return {.harm_um = a.harm_um - b.harm_um, .price_cl = a.price_cl - b.price_cl};
}

std::int64_t load(const Option& option) {
  return std::accumulate(option.held_min.begin(), option.held_min.end(), std::int64_t{0});
}

bool settable(const Candidate& candidate, const Timer& timer) {
  if (cycles_of(candidate) > timer.starts_per_valve) return false;
  const std::vector<RunLength> lengths = run_lengths(timer);
  for (std::size_t w = 0; w < candidate.run_in.size(); ++w) {
    const auto taken = [&](const RunLength& length) { return length.runs == candidate.run_in[w]; };
    if (cycles_of(candidate, w) > 0 && std::none_of(lengths.begin(), lengths.end(), taken))
      return false;
  }
  return true;
}

}  // namespace

Packing::Packing(std::span<const std::vector<Candidate>> candidates, const WateringHours& hours,
                 const Timer& timer)
    : candidates_(candidates),
      hours_(hours),
      timer_(timer),
      map_(hours, timer),
      room_(hours, timer) {
  for (std::size_t v = 0; v < candidates_.size(); ++v) list_usable(v);
  for (const std::vector<Option>& options : options_) {
    Options list;
    for (const Option& option : options) list.push_back(&option);
    bound_ = bound_ + list.front()->cost;
    lists_.push_back(std::move(list));
  }
  order_by_load();
}

/// Candidates that the timer takes and that fit the hours when alone, cheapest first.
void Packing::list_usable(std::size_t valve) {
  const std::vector<Candidate>& all = candidates_[valve];
  std::vector<Option> usable;
  bool dry = false;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!settable(all[i], timer_)) continue;
    const std::optional<Cycles> cycles = map_.place(valve, all[i], {});
    if (cycles) map_.remove({.valve = valve, .candidate = &all[i], .cycles = *cycles});
    // Kept where not fitting is uncertain, so that the bound stays one.
    if (!cycles && !(cycles_of(all[i]) > 0 && days_touch(all[i], map_))) continue;
    usable.push_back(room_.option(i, all[i]));
    dry = dry || cycles_of(all[i]) == 0;
  }
  if (!dry) throw std::invalid_argument("pack: a valve has no candidate without watering");
  std::stable_sort(usable.begin(), usable.end(),
                   [](const Option& a, const Option& b) { return a.cost < b.cost; });
  options_.push_back(std::move(usable));
}

void Packing::order_by_load() {
  order_.resize(candidates_.size());
  std::iota(order_.begin(), order_.end(), std::size_t{0});
  std::stable_sort(order_.begin(), order_.end(), [this](std::size_t a, std::size_t b) {
    return load(*lists_[a].front()) > load(*lists_[b].front());
  });
}

void Packing::search() {
  repeat_greedy();
  if (best_.cost == bound_) return;
  relax();
  if (!close_the_gap()) bound_ = best_.cost;
  bound_ = std::min(bound_, best_.cost);
}

void Packing::relax() {
  room_.close();
  std::int64_t most_harm_um = 0;
  for (const Options& list : lists_) {
    for (const Option* option : list) most_harm_um = std::max(most_harm_um, option->cost.harm_um);
  }
  relaxed_ = {Relaxation(room_, Relaxation::Part::harm, most_harm_um),
              Relaxation(room_, Relaxation::Part::price, most_harm_um)};
}

/// @return whether something better than the best may be left.
bool Packing::close_the_gap() {
  Cost before;
  do {
    before = best_.cost;
    if (!raise_bound()) return false;
    squeeze();
  } while (best_.cost < before);
  improve();
  if (!raise_bound()) return false;
  const long options = std::accumulate(
      lists_.begin(), lists_.end(), 1L,
      [](long sum, const Options& list) { return sum + static_cast<long>(list.size()); });
  start_over();
  uncertain_ = false;
  cut_short_ = false;
  nodes_left_ = std::min(kTreeNodes, kTreeOptions / options);
  visits_end_ = visits_ + kVisits;
  descend(lists_);
  return cut_short_ || uncertain_;
}

/// The bound for what may still be better than the best, and only that is kept.
/// @return whether there may be any.
bool Packing::raise_bound() {
  if (!drop_too_dear(lists_)) return false;
  tighten(lists_, kRootSteps);
  if (!drop_too_dear(lists_)) return false;
  bound_ = std::max(bound_, bound_of(lists_));
  return bound_ < best_.cost;
}

void Packing::start_over() {
  map_.clear();
  now_ = {
      .cost = {}, .chosen = std::vector<const Option*>(candidates_.size(), nullptr), .placed = {}};
}

/// Puts a candidate beside those placed, which stay where they are.
bool Packing::add(std::size_t valve, const Option& option) {
  ++visits_;
  const Candidate& wanted = candidate(valve, option);
  now_.placed.push_back({.valve = valve, .candidate = &wanted, .cycles = {}});
  const auto earlier = std::span(now_.placed).first(now_.placed.size() - 1);
  auto cycles = map_.place(valve, wanted, conflicts_with(wanted.days, earlier));
  if (cycles) {
    now_.placed.back().cycles = std::move(*cycles);
    now_.chosen[valve] = &option;
    now_.cost = now_.cost + option.cost;
    return true;
  }
  now_.placed.pop_back();
  return false;
}

/// The valve placed last.
void Packing::take_back(std::size_t valve) {
  map_.remove(now_.placed.back());
  now_.placed.pop_back();
  now_.cost = now_.cost - now_.chosen[valve]->cost;
  now_.chosen[valve] = nullptr;
}

void Packing::keep_if_better() {
  if (now_.placed.size() < candidates_.size()) return;
  if (best_.chosen.empty() || now_.cost < best_.cost) best_ = now_;
}

/// Valves that had to pay more than their cheapest go to the front for the next pass.
void Packing::repeat_greedy() {
  std::vector<std::size_t> best_order = order_;
  for (std::size_t pass = 0; pass <= 2 * order_.size(); ++pass) {
    if (pass > 0 && visits_ > kGreedyVisits) break;
    greedy_pass(lists_);
    if (best_.chosen.empty() || now_.cost < best_.cost) best_order = order_;
    keep_if_better();
    if (best_.cost == bound_ || !blame()) break;
  }
  order_ = std::move(best_order);
}

/// Greedy by value, again and again: valves that paid too much, or found no room, come earlier.
void Packing::squeeze() {
  Lists sorted = lists_;
  sort_by_value(sorted);
  std::vector<std::int64_t> blamed(order_.size(), 0);
  std::vector<std::size_t> best_order = order_;
  for (int pass = 0; pass < kSqueezes; ++pass) {
    const Cost before = best_.cost;
    greedy_pass(sorted);
    keep_if_better();
    if (best_.cost < before) best_order = order_;
    const bool by_harm = best_.cost.harm_um > bound_.harm_um && pass % 2 == 1;
    blame_by_value(sorted, relaxed_[by_harm ? 0 : 1], blamed);
    std::stable_sort(order_.begin(), order_.end(),
                     [&blamed](std::size_t a, std::size_t b) { return blamed[a] > blamed[b]; });
  }
  order_ = std::move(best_order);
}

/// Adds what each valve paid beyond its least; as much as the worst where it found no room.
void Packing::blame_by_value(const Lists& sorted, const Relaxation& relaxed,
                             std::vector<std::int64_t>& blamed) const {
  std::int64_t most = 1;
  std::vector<std::optional<std::int64_t>> excess(blamed.size());
  for (std::size_t v = 0; v < blamed.size(); ++v) {
    if (now_.chosen[v] == nullptr) continue;
    excess[v] = std::max<std::int64_t>(
        0, relaxed.value(*now_.chosen[v]) - relaxed.value(*sorted[v].front()));
    most = std::max(most, *excess[v]);
  }
  for (std::size_t v = 0; v < blamed.size(); ++v) {
    blamed[v] = blamed[v] * kKeepPct / 100 + excess[v].value_or(most);
  }
}

void Packing::greedy_pass(const Lists& lists) {
  start_over();
  complete_greedily(lists);
}

void Packing::complete_greedily(const Lists& lists) {
  for (const std::size_t valve : order_) {
    if (now_.chosen[valve] != nullptr) continue;
    for (const Option* option : lists[valve]) {
      if (add(valve, *option)) break;
    }
  }
}

/// @return whether the order has changed.
bool Packing::blame() {
  const auto excess = [this](std::size_t valve) {
    return now_.chosen[valve]->cost - lists_[valve].front()->cost;
  };
  std::vector<std::size_t> next = order_;
  std::stable_sort(next.begin(), next.end(),
                   [&excess](std::size_t a, std::size_t b) { return excess(a) > excess(b); });
  const bool changed = next != order_;
  order_ = std::move(next);
  return changed;
}

Cost Packing::bound_of(const Lists& lists) const {
  return {.harm_um = Relaxation::rounded_up(relaxed_[0].bound(lists, best_.cost)),
          .price_cl = Relaxation::rounded_up(relaxed_[1].bound(lists, best_.cost))};
}

void Packing::tighten(const Lists& lists, int steps) {
  for (Relaxation& part : relaxed_) part.tighten(lists, best_.cost, steps);
}

/// The bound with each of a valve's options in turn.
std::vector<Cost> Packing::least_with(const Lists& lists, std::size_t valve) const {
  std::array<std::int64_t, 2> others{};
  for (std::size_t part = 0; part < 2; ++part) {
    others[part] =
        relaxed_[part].bound(lists, best_.cost) - relaxed_[part].least_value(lists[valve]);
  }
  std::vector<Cost> costs;
  for (const Option* option : lists[valve]) {
    costs.push_back({.harm_um = Relaxation::rounded_up(others[0] + relaxed_[0].value(*option)),
                     .price_cl = Relaxation::rounded_up(others[1] + relaxed_[1].value(*option))});
  }
  return costs;
}

/// @return whether every valve has an option left.
bool Packing::drop_too_dear(Lists& lists) const {
  for (std::size_t v = 0; v < lists.size(); ++v) {
    const std::vector<Cost> costs = least_with(lists, v);
    Options kept;
    for (std::size_t i = 0; i < costs.size(); ++i) {
      if (costs[i] < best_.cost) kept.push_back(lists[v][i]);
    }
    if (kept.empty()) return false;
    lists[v] = std::move(kept);
  }
  return true;
}

/// By harm, then by price, each together with what the minutes cost.
void Packing::sort_by_value(Lists& lists) const {
  struct Valued {
    std::int64_t harm, price;
    const Option* option;
  };
  for (Options& list : lists) {
    std::vector<Valued> valued;
    for (const Option* option : list) {
      valued.push_back({.harm = Relaxation::rounded_up(relaxed_[0].value(*option)),
                        .price = relaxed_[1].value(*option),
                        .option = option});
    }
    std::stable_sort(valued.begin(), valued.end(), [](const Valued& a, const Valued& b) {
      return a.harm != b.harm ? a.harm < b.harm : a.price < b.price;
    });
    for (std::size_t i = 0; i < list.size(); ++i) list[i] = valued[i].option;
  }
}

/// A few valves at a time, as long as that brings something.
void Packing::improve() {
  long left = kImproveNodes;
  visits_end_ = visits_ + kVisits;
  const std::size_t several = std::min(kAnewValves, order_.size());
  Cost before;
  do {
    before = best_.cost;
    const std::vector<std::size_t> valves = by_regret();
    for (std::size_t first = 0; first < valves.size(); first += (several + 1) / 2) {
      if (left <= 0 || visits_ > visits_end_) return;
      std::vector<std::size_t> few;
      for (std::size_t i = 0; i < several; ++i) few.push_back(valves[(first + i) % valves.size()]);
      nodes_left_ = std::min(left, kAnewNodes);
      left -= nodes_left_;
      decide_anew(few);
      left += std::max(nodes_left_, 0L);
      if (best_.cost <= bound_) return;
    }
  } while (best_.cost < before);
}

/// The valves, those first that pay most beyond their least.
std::vector<std::size_t> Packing::by_regret() const {
  std::vector<Cost> regret;
  for (std::size_t v = 0; v < lists_.size(); ++v) {
    const Option& paid = *best_.chosen[v];
    regret.push_back({.harm_um = relaxed_[0].value(paid) - relaxed_[0].least_value(lists_[v]),
                      .price_cl = relaxed_[1].value(paid) - relaxed_[1].least_value(lists_[v])});
  }
  std::vector<std::size_t> valves = order_;
  std::stable_sort(valves.begin(), valves.end(),
                   [&regret](std::size_t a, std::size_t b) { return regret[a] > regret[b]; });
  return valves;
}

void Packing::decide_anew(std::span<const std::size_t> valves) {
  Lists lists = lists_;
  now_ = best_;
  for (std::size_t v = 0; v < lists.size(); ++v) {
    if (std::find(valves.begin(), valves.end(), v) == valves.end()) {
      lists[v] = {best_.chosen[v]};
    } else {
      now_.cost = now_.cost - now_.chosen[v]->cost;
      now_.chosen[v] = nullptr;
    }
  }
  std::erase_if(now_.placed,
                [this](const Placed& one) { return now_.chosen[one.valve] == nullptr; });
  redraw();
  const auto here = prices();
  descend(lists);
  restore(here);
}

/// Branch and bound: all options of the next valve, each with what is left of the lists.
void Packing::descend(Lists lists) {
  --nodes_left_;
  if (bound_of(lists) >= best_.cost) return;
  tighten(lists, kNodeSteps);
  if (bound_of(lists) >= best_.cost || !drop_too_dear(lists)) return;
  sort_by_value(lists);
  // A whole timetable from here, to have something better soon.
  Choice here = now_;
  complete_greedily(lists);
  keep_if_better();
  now_ = std::move(here);
  redraw();
  const auto next = std::find_if(order_.begin(), order_.end(), [this](std::size_t valve) {
    return now_.chosen[valve] == nullptr;
  });
  if (next != order_.end()) branch(*next, lists);
}

void Packing::branch(std::size_t valve, const Lists& lists) {
  const std::vector<Cost> costs = least_with(lists, valve);
  const auto here = prices();
  for (std::size_t i = 0; i < costs.size(); ++i) {
    if (costs[i] >= best_.cost) continue;
    if (nodes_left_ <= 0 || visits_ > visits_end_) {
      cut_short_ = true;
      return;
    }
    Lists rest = lists;
    rest[valve] = {lists[valve][i]};
    restore(here);
    try_option(valve, *lists[valve][i], rest);
  }
}

std::array<Relaxation::Prices, 2> Packing::prices() const {
  return {relaxed_[0].prices(), relaxed_[1].prices()};
}

void Packing::restore(const std::array<Relaxation::Prices, 2>& prices) {
  for (std::size_t part = 0; part < 2; ++part) relaxed_[part].restore(prices[part]);
}

void Packing::try_option(std::size_t valve, const Option& option, const Lists& lists) {
  if (add(valve, option)) {
    descend(lists);
    take_back(valve);
    return;
  }
  const std::size_t placed = now_.placed.size() + 1;
  const long looks =
      placed <= kHandful ? kHandfulLooks : kLooksPerValve * static_cast<long>(placed);
  std::vector<Placed> wanted = now_.placed;
  wanted.push_back({.valve = valve, .candidate = &candidate(valve, option), .cycles = {}});
  Sequenced sequenced = sequence(std::move(wanted), hours_, timer_, looks, visits_);
  if (sequenced.fits == Fits::unknown) uncertain_ = true;
  if (sequenced.fits != Fits::yes) return;
  const Choice here = now_;
  now_.placed = std::move(sequenced.placed);
  now_.chosen[valve] = &option;
  now_.cost = now_.cost + option.cost;
  redraw();
  descend(lists);
  now_ = here;
  redraw();
}

void Packing::redraw() {
  map_.clear();
  for (const Placed& one : now_.placed) {
    for (const Cycle& cycle : one.cycles) map_.take(one.valve, cycle.start, cycle.run);
  }
}

}  // namespace runnel

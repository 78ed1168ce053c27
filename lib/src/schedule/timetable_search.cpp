#include "timetable_search.hpp"

#include <algorithm>
#include <numeric>
#include <stdexcept>

namespace runnel {
namespace {

// Chosen by what they brought in tests/bench/timetable_bench.
constexpr int kRootSteps = 120;  // along the subgradient
// With those of improve() one thousand nodes in all.
constexpr long kTreeNodes = 300;
constexpr long kTreeOptions = 600'000;  // a node looks at every option left

std::int64_t held_minutes(const Option& option, std::size_t windows) {
  const auto minutes = std::span(option.takes).first(windows);
  return std::accumulate(minutes.begin(), minutes.end(), std::int64_t{0});
}

/// Starts as the timer takes them.
bool startable(const Candidate& candidate, const Timer& timer) {
  const int starts = cycles_of(candidate);
  const auto apart = candidate.repeat.count();
  if (apart > 0 && starts > 0) {
    const auto& offered = timer.repeat_hours;
    return apart * starts == 24 &&
           std::find(offered.begin(), offered.end(), apart) != offered.end();
  }
  return timer.repeat_hours.empty() ? starts <= timer.starts_per_valve : starts <= 1;
}

bool settable(const Candidate& candidate, const Timer& timer) {
  if (!startable(candidate, timer)) return false;
  const std::vector<RunLength> lengths = run_lengths(timer);
  std::optional<std::chrono::minutes> first;
  for (std::size_t w = 0; w < candidate.run_in.size(); ++w) {
    if (cycles_of(candidate, w) == 0) continue;
    const std::chrono::minutes run = candidate.run_in[w];
    if (!timer.length_per_start && run != first.value_or(run)) return false;
    first = run;
    const auto taken = [run](const RunLength& length) { return length.runs == run; };
    if (std::none_of(lengths.begin(), lengths.end(), taken)) return false;
  }
  return true;
}

}  // namespace

Packing::Packing(std::span<const std::vector<Candidate>> candidates, const Limits& limits,
                 const Timer& timer)
    : candidates_(candidates), limits_(limits), timer_(timer), map_(limits), stocks_(limits) {
  for (std::size_t v = 0; v < candidates_.size(); ++v) list_usable(v);
  if (!limits.litres.empty()) leave_out_too_many_litres();
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
    usable.push_back(stocks_.option(valve, i, all[i]));
    dry = dry || cycles_of(all[i]) == 0;
  }
  if (!dry) throw std::invalid_argument("pack: a valve has no candidate without watering");
  std::stable_sort(usable.begin(), usable.end(),
                   [](const Option& a, const Option& b) { return a.cost < b.cost; });
  options_.push_back(std::move(usable));
}

/// Where not fitting alone is uncertain they are kept, so that the bound stays one.
void Packing::leave_out_too_many_litres() {
  stocks_.close();
  litres_.emplace(limits_, stocks_);
  for (std::size_t v = 0; v < candidates_.size(); ++v) {
    std::erase_if(options_[v], [&](const Option& option) {
      return litres_->dated(option.days) && !litres_->fits(v, candidate(v, option), option.days);
    });
  }
}

void Packing::order_by_load() {
  order_.resize(candidates_.size());
  std::iota(order_.begin(), order_.end(), std::size_t{0});
  const auto load = [this](std::size_t valve) {
    return held_minutes(*lists_[valve].front(), stocks_.windows());
  };
  std::stable_sort(order_.begin(), order_.end(),
                   [&load](std::size_t a, std::size_t b) { return load(a) > load(b); });
}

void Packing::search() {
  repeat_greedy();
  if (best_.cost == bound_) return;
  relax();
  if (!close_the_gap()) bound_ = best_.cost;
  bound_ = std::min(bound_, best_.cost);
}

void Packing::relax() {
  stocks_.close();
  std::int64_t most_harm_um = 0;
  for (const Options& list : lists_) {
    for (const Option* option : list) most_harm_um = std::max(most_harm_um, option->cost.harm_um);
  }
  relaxed_ = {Relaxation(stocks_, Relaxation::Part::harm, most_harm_um),
              Relaxation(stocks_, Relaxation::Part::price, most_harm_um)};
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
  visits_end_ = visits_ + most_visits;
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
  if (litres_) litres_->clear();
  now_ = {
      .cost = {}, .chosen = std::vector<const Option*>(candidates_.size(), nullptr), .placed = {}};
}

/// Puts a candidate beside those placed, which stay where they are.
bool Packing::add(std::size_t valve, const Option& option) {
  ++visits_;
  const Candidate& wanted = candidate(valve, option);
  if (litres_ && !litres_->fits(valve, wanted, option.days)) return false;
  now_.placed.push_back({.valve = valve, .candidate = &wanted, .cycles = {}});
  const auto earlier = std::span(now_.placed).first(now_.placed.size() - 1);
  auto cycles = map_.place(valve, wanted, conflicts_with(wanted.days, earlier));
  if (cycles) {
    now_.placed.back().cycles = std::move(*cycles);
    now_.chosen[valve] = &option;
    now_.cost = now_.cost + option.cost;
    if (litres_) litres_->add(valve, wanted, option.days);
    return true;
  }
  now_.placed.pop_back();
  return false;
}

/// The valve placed last.
void Packing::take_back(std::size_t valve) {
  map_.remove(now_.placed.back());
  if (litres_) litres_->remove(valve, *now_.placed.back().candidate, now_.chosen[valve]->days);
  now_.placed.pop_back();
  now_.cost = now_.cost - now_.chosen[valve]->cost;
  now_.chosen[valve] = nullptr;
}

void Packing::keep_if_better() {
  if (now_.placed.size() < candidates_.size()) return;
  if (best_.chosen.empty() || now_.cost < best_.cost) best_ = now_;
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

std::array<Relaxation::Prices, 2> Packing::prices() const {
  return {relaxed_[0].prices(), relaxed_[1].prices()};
}

void Packing::restore(const std::array<Relaxation::Prices, 2>& prices) {
  for (std::size_t part = 0; part < 2; ++part) relaxed_[part].restore(prices[part]);
}

void Packing::redraw() {
  map_.clear();
  if (litres_) litres_->clear();
  for (const Placed& one : now_.placed) {
    for (const Cycle& cycle : one.cycles) map_.take(one.valve, cycle.start, cycle.run);
    if (litres_) litres_->add(one.valve, *one.candidate, now_.chosen[one.valve]->days);
  }
}

}  // namespace runnel

#include <algorithm>

#include "timetable_search.hpp"

namespace runnel {
namespace {

// Chosen by what they brought in tests/bench/timetable_bench.
constexpr int kNodeSteps = 2;  // along the subgradient
constexpr std::size_t kAnewValves = 6;
constexpr long kAnewNodes = 25;
constexpr long kImproveNodes = 700;
// Branch and bound over cycles: enough for a handful of valves to be settled for certain, and one
// dive or two for more.
constexpr std::size_t kHandful = 6;
constexpr long kHandfulLooks = 6'000;
constexpr long kLooksPerValve = 20;

}  // namespace

/// A few valves at a time, as long as that brings something.
void Packing::improve() {
  long left = kImproveNodes;
  visits_end_ = visits_ + most_visits;
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

void Packing::try_option(std::size_t valve, const Option& option, const Lists& lists) {
  if (add(valve, option)) {
    descend(lists);
    take_back(valve);
    return;
  }
  if (litres_ && !litres_->fits(valve, candidate(valve, option), option.days)) {
    uncertain_ = uncertain_ || !litres_->certain();
    return;
  }
  const std::size_t placed = now_.placed.size() + 1;
  const long looks =
      placed <= kHandful ? kHandfulLooks : kLooksPerValve * static_cast<long>(placed);
  std::vector<Placed> wanted = now_.placed;
  wanted.push_back({.valve = valve, .candidate = &candidate(valve, option), .cycles = {}});
  Sequenced sequenced = sequence(std::move(wanted), limits_, looks, visits_);
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

}  // namespace runnel

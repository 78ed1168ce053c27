#include <algorithm>

#include "timetable_search.hpp"

namespace runnel {
namespace {

// Chosen by what they brought in tests/bench/timetable_bench.
constexpr long kGreedyVisits = 5'000;  // candidates looked at
constexpr int kSqueezes = 40;          // greedy passes by value
constexpr std::int64_t kKeepPct = 70;  // of the blame from pass to pass

}  // namespace

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

}  // namespace runnel

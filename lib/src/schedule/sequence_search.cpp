#include "sequence_search.hpp"

#include <algorithm>

namespace runnel {
namespace {

class OrderSearch {
 public:
  OrderSearch(std::vector<Placed>& placed, MinuteMap& map, long most_looks, long& visits)
      : placed_(placed), map_(map), most_looks_(most_looks), visits_(visits) {
    for (Placed& one : placed_) {
      one.cycles.clear();
      conflicts_.push_back(conflicts_with(one.candidate->days, placed_));
      conflicts_.back().reset(one.valve);
      left_.push_back(cycles_of(*one.candidate, 0));
    }
  }

  [[nodiscard]] Fits run() {
    if (extend(0, 0)) return Fits::yes;
    return looks_ > most_looks_ ? Fits::unknown : Fits::no;
  }

 private:
  struct Choice {
    int start;
    std::size_t which;
    friend auto operator<=>(const Choice&, const Choice&) = default;
  };

  static int soak_of(const Placed& one) {
    return std::max(static_cast<int>(one.candidate->soak.count()), 0);
  }

  /// The next cycle of each valve at its earliest. Nothing when a valve's remaining chain no longer
  /// fits the window: its earliest start only moves back as others are placed.
  [[nodiscard]] std::optional<std::vector<Choice>> choices(std::size_t window_index,
                                                           int not_before) const {
    std::vector<Choice> found;
    for (std::size_t i = 0; i < placed_.size(); ++i) {
      if (left_[i] == 0) continue;
      const Placed& one = placed_[i];
      const Window& window = map_.limits().own_hours[one.valve][window_index];
      const int opens = static_cast<int>(window.opens.count());
      const int closes = static_cast<int>(window.closes.count());
      const int run = run_minutes(*one.candidate, window_index);
      const int soak = soak_of(one);
      const int ready =
          one.cycles.empty() ? opens : one.cycles.back().start + one.cycles.back().run + soak;
      const int rest = (left_[i] - 1) * (run + soak);
      const auto start = map_.first_fit(one.valve, conflicts_[i], run,
                                        std::max({opens, ready, not_before}), closes - rest);
      if (!start) return std::nullopt;
      found.push_back({.start = *start, .which = i});
    }
    return found;
  }

  bool next_window(std::size_t window) {
    if (window + 1 >= map_.limits().hours.size()) return true;
    for (std::size_t i = 0; i < placed_.size(); ++i)
      left_[i] = cycles_of(*placed_[i].candidate, window + 1);
    if (extend(window + 1, 0)) return true;
    std::fill(left_.begin(), left_.end(), 0);
    return false;
  }

  bool extend(std::size_t window, int not_before) {
    if (map_.limits().hours.empty()) return true;
    looks_ += static_cast<long>(placed_.size());
    visits_ += static_cast<long>(placed_.size());
    if (looks_ > most_looks_) return false;
    auto open = choices(window, not_before);
    if (!open) return false;
    if (open->empty()) return next_window(window);
    // Longest remaining chain first: the likeliest to miss its window.
    const auto chain_of = [this, window](const Choice& choice) {
      const Placed& one = placed_[choice.which];
      return left_[choice.which] * (run_minutes(*one.candidate, window) + soak_of(one));
    };
    std::sort(open->begin(), open->end(), [&chain_of](const Choice& a, const Choice& b) {
      const int chain_a = chain_of(a);
      const int chain_b = chain_of(b);
      if (chain_a != chain_b) return chain_a > chain_b;
      return a < b;
    });
    for (const Choice& choice : *open) {
      Placed& one = placed_[choice.which];
      const int run = run_minutes(*one.candidate, window);
      one.cycles.push_back({.start = choice.start, .run = run});
      --left_[choice.which];
      map_.take(one.valve, choice.start, run);
      if (extend(window, choice.start)) return true;
      map_.release(one.valve, choice.start, run);
      ++left_[choice.which];
      one.cycles.pop_back();
      // A pause longer than the soak reaches into the valve's own next cycle.
      if (!one.cycles.empty()) map_.take(one.valve, one.cycles.back().start, one.cycles.back().run);
      if (looks_ > most_looks_) return false;
    }
    return false;
  }

  std::vector<Placed>& placed_;
  MinuteMap& map_;
  long most_looks_;
  long& visits_;
  std::vector<ValveSet> conflicts_;  // [placed]
  std::vector<int> left_;            // [placed] cycles still to be placed in the window
  long looks_ = 0;
};

}  // namespace

Fits search_order(std::vector<Placed>& placed, MinuteMap& map, long most_looks, long& visits) {
  return OrderSearch(placed, map, most_looks, visits).run();
}

}  // namespace runnel

#pragma once

#include <array>
#include <optional>
#include <vector>

#include "timetable_bound.hpp"
#include "timetable_litres.hpp"

namespace runnel {

/// One timetable, whole or in the making.
struct Choice {
  Cost cost;
  std::vector<const Option*> chosen;  ///< [valves] nullptr = not decided
  std::vector<Placed> placed;
};

inline Cost operator-(const Cost& a, const Cost& b) {
  return {.harm_um = a.harm_um - b.harm_um, .price_cl = a.price_cl - b.price_cl};
}

/// The search for one timetable, from a quick one to the proof that none costs less:
/// 1. greedy: each valve in turn takes the cheapest that still fits;
/// 2. the bound: what is too dear for any better timetable is dropped for good;
/// 3. greedy again and again, by what an option costs together with the minutes it takes;
/// 4. a few valves at a time are decided anew, the others staying as they are;
/// 5. branch and bound over all.
/// All limits count steps, never time, so that a slow machine finds the same timetable.
class Packing {
 public:
  /// @throws std::invalid_argument when a valve has no candidate without watering.
  /// @param limits, timer, candidates must live as long as this.
  Packing(std::span<const std::vector<Candidate>> candidates, const Limits& limits,
          const Timer& timer);

  void search();

  [[nodiscard]] const Choice& best() const { return best_; }
  [[nodiscard]] Cost bound() const { return bound_; }

 private:
  using Lists = std::vector<Options>;
  // Counts, never time, so that a slow machine finds the same timetable.
  static constexpr long most_visits = 100'000;  // candidates looked at by improve(), by descend()

  void list_usable(std::size_t valve);
  void leave_out_too_many_litres();
  void order_by_load();
  [[nodiscard]] const Candidate& candidate(std::size_t valve, const Option& option) const {
    return candidates_[valve][option.index];
  }

  void start_over();
  bool add(std::size_t valve, const Option& option);
  void take_back(std::size_t valve);
  void redraw();
  void keep_if_better();

  void relax();
  bool close_the_gap();
  bool raise_bound();
  [[nodiscard]] Cost bound_of(const Lists& lists) const;
  void tighten(const Lists& lists, int steps);
  [[nodiscard]] std::vector<Cost> least_with(const Lists& lists, std::size_t valve) const;
  bool drop_too_dear(Lists& lists) const;
  [[nodiscard]] std::array<Relaxation::Prices, 2> prices() const;
  void restore(const std::array<Relaxation::Prices, 2>& prices);

  // timetable_greedy.cpp
  void repeat_greedy();
  void greedy_pass(const Lists& lists);
  void complete_greedily(const Lists& lists);
  bool blame();
  void squeeze();
  void sort_by_value(Lists& lists) const;
  void blame_by_value(const Lists& sorted, const Relaxation& relaxed,
                      std::vector<std::int64_t>& blamed) const;

  // timetable_tree.cpp
  void improve();
  [[nodiscard]] std::vector<std::size_t> by_regret() const;
  void decide_anew(std::span<const std::size_t> valves);
  void descend(Lists lists);
  void branch(std::size_t valve, const Lists& lists);
  void try_option(std::size_t valve, const Option& option, const Lists& lists);

  std::span<const std::vector<Candidate>> candidates_;
  const Limits& limits_;
  const Timer& timer_;
  MinuteMap map_;
  Stocks stocks_;
  std::optional<LitreSums> litres_;           // once all patterns are known
  std::vector<std::vector<Option>> options_;  // [valves]
  Lists lists_;                               // [valves] by cost; those not too dear
  std::vector<std::size_t> order_;            // in which valves are decided
  std::vector<Relaxation> relaxed_;           // harm, price
  Choice now_, best_;
  Cost bound_;
  long visits_ = 0;
  long nodes_left_ = 0, visits_end_ = 0;
  bool cut_short_ = false;
  bool uncertain_ = false;
};

}  // namespace runnel

#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "timetable_stocks.hpp"

namespace runnel {

/// A lower bound on one part of the cost, by Lagrangian relaxation. What a row holds has a
/// price; each valve by itself takes the option that is cheapest with it; what all the room would
/// fetch is taken off. Any prices that are not negative give a bound, and tighten() looks for good
/// ones. They are whole numbers and every sum is exact: rounding never lifts the bound above the
/// truth.
///
/// Harm and price are bounded one by one. The price only over timetables that do no more harm than
/// the best one known; that is one more capacity with a price of its own. Nothing that costs less
/// than the best known is left out, so that the two bounds together are one on the cost.
class Relaxation {
 public:
  enum class Part { harm, price };
  struct Prices {
    std::vector<std::int64_t> of_row;  ///< [rows] of a minute, or of a part of the litres
    std::int64_t of_harm = 0;
  };
  Relaxation(const Stocks& stocks, Part part, std::int64_t most_harm_um);

  /// Better prices, by at most `steps` steps along the subgradient.
  /// @param best the cost of the best timetable known; the steps aim at its part.
  void tighten(std::span<const Options> lists, const Cost& best, int steps);

  /// An option's part of the cost and the price of what it takes, in `unit`.
  [[nodiscard]] std::int64_t value(const Option& option) const;
  [[nodiscard]] std::int64_t least_value(const Options& list) const;
  /// In `unit`: the least of each list less what all the room fetches.
  [[nodiscard]] std::int64_t bound(std::span<const Options> lists, const Cost& best) const;
  /// Parts are whole: so is the bound.
  [[nodiscard]] static std::int64_t rounded_up(std::int64_t value);

  [[nodiscard]] const Prices& prices() const { return prices_; }
  /// Back to what prices() gave earlier; rows that have come since are free.
  void restore(Prices prices);

 private:
  static constexpr std::int64_t unit = 1024;
  void pick(std::span<const Options> lists);
  void add_rows();
  [[nodiscard]] std::int64_t picked_bound(const Cost& best) const;
  [[nodiscard]] std::int64_t fetched(const Cost& best) const;
  void set(Prices prices);
  [[nodiscard]] double scale(std::size_t stock) const;
  void step(const Cost& best, double reach, std::int64_t distance);

  const Stocks* stocks_;
  Part part_;
  std::int64_t most_row_price_, most_harm_price_;
  std::vector<Stocks::Row> rows_;
  std::vector<std::vector<std::int64_t>> times_;  // [rows][patterns]
  Prices prices_;
  bool rows_free_ = true;
  std::vector<std::int64_t> of_days_;  // [patterns * stocks] the price of what such days take
  std::vector<const Option*> picked_;  // [lists]
};

}  // namespace runnel

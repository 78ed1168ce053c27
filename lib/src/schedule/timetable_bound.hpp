#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "sequence.hpp"

namespace runnel {

/// A candidate as the hours see it.
struct Option {
  std::size_t index;  ///< into the valve's candidates
  Cost cost;
  std::size_t days;                    ///< into HoursRoom::patterns
  std::vector<std::int64_t> held_min;  ///< [windows]
};
using Options = std::vector<const Option*>;

/// The watering hours as room for minutes: a row for each window and date. The valves that water on
/// one date hold minutes that do not overlap, or with several open at once not more often than
/// that.
///
/// Dates are days far enough ahead for intervals to meet each other in many ways. With one valve
/// open at a time a row may take odd or even dates along, whatever its date is: they meet every
/// other pattern somewhere, and what meets pairwise must not overlap.
class HoursRoom {
 public:
  struct Row {
    std::size_t window;
    int date;
    bool odd;
    friend bool operator==(const Row&, const Row&) = default;
  };

  HoursRoom(const WateringHours& hours, const Timer& timer);

  [[nodiscard]] Option option(std::size_t index, const Candidate& candidate);
  /// After the last option: the dates worth looking at.
  void close();

  [[nodiscard]] std::size_t patterns() const { return patterns_.size(); }
  [[nodiscard]] bool holds(std::size_t pattern, const Row& row) const;
  [[nodiscard]] std::span<const std::int64_t> room_min() const { return room_min_; }  ///< [windows]
  /// For each window and weekday the row that these overfill the most, if they do.
  [[nodiscard]] std::vector<Row> overfilled(std::span<const Option* const> picked) const;

 private:
  int pause_;
  bool one_at_a_time_;
  std::vector<std::int64_t> room_min_;
  std::vector<DayPattern> patterns_;
  int dates_ = 7;
  std::vector<std::vector<int>> dates_on_;  // [patterns] none for odd and even dates
  std::vector<bool> odd_;                   // [dates]
};

/// A lower bound on one part of the cost, by Lagrangian relaxation. A minute of a row has a price;
/// each valve by itself takes the option that is cheapest with it; what all the room would fetch is
/// taken off. Any prices that are not negative give a bound, and tighten() looks for good ones.
/// They are whole numbers and every sum is exact: rounding never lifts the bound above the truth.
///
/// Harm and price are bounded one by one. The price only over timetables that do no more harm than
/// the best one known; that is one more capacity with a price of its own. Nothing that costs less
/// than the best known is left out, so that the two bounds together are one on the cost.
class Relaxation {
 public:
  enum class Part { harm, price };
  struct Prices {
    std::vector<std::int64_t> of_minute;  ///< [rows]
    std::int64_t of_harm = 0;
  };
  Relaxation(const HoursRoom& room, Part part, std::int64_t most_harm_um);

  /// Better prices, by at most `steps` steps along the subgradient.
  /// @param best the cost of the best timetable known; the steps aim at its part.
  void tighten(std::span<const Options> lists, const Cost& best, int steps);

  /// An option's part of the cost and the price of its minutes, in `unit`.
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
  void step(const Cost& best, double reach, std::int64_t distance);

  const HoursRoom* room_;
  Part part_;
  std::int64_t most_minute_price_, most_harm_price_;
  std::vector<HoursRoom::Row> rows_;
  std::vector<std::vector<bool>> holds_;  // [rows][patterns]
  Prices prices_;
  bool minutes_free_ = true;
  std::vector<std::int64_t> of_days_;  // [patterns * windows] the price of a minute with such days
  std::vector<const Option*> picked_;  // [lists]
};

}  // namespace runnel

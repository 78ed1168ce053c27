#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "sequence.hpp"

namespace runnel {

/// A candidate as the stocks see it.
struct Option {
  std::size_t index;  ///< into the valve's candidates
  Cost cost;
  std::size_t days;                 ///< into the patterns of Stocks
  std::vector<std::int64_t> takes;  ///< [stocks] on a day with water; windows: minutes held
};
using Options = std::vector<const Option*>;

/// What the valves share out among them, a row for each stock and date: the minutes of each window,
/// what the supply brings in it, and the litres of each limit on a date or in seven days from it.
/// The valves that water on one date hold minutes that do not overlap, or with several open at once
/// not more often than that.
///
/// Dates are days far enough ahead for intervals to meet each other in many ways. With one valve
/// open at a time a row of minutes may take odd or even dates along, whatever its date is: they
/// meet every other pattern somewhere, and what meets pairwise must not overlap.
class Stocks {
 public:
  struct Row {
    std::size_t stock;
    int date;
    bool odd;
    friend bool operator==(const Row&, const Row&) = default;
  };

  /// @param limits must live as long as this.
  explicit Stocks(const Limits& limits);

  [[nodiscard]] Option option(std::size_t valve, std::size_t index, const Candidate& candidate);
  /// After the last option: the dates worth looking at. Again: nothing.
  void close();

  [[nodiscard]] std::size_t windows() const { return limits_->hours.size(); }  ///< the first stocks
  [[nodiscard]] std::span<const std::int64_t> rooms() const { return rooms_; }  ///< [stocks]
  [[nodiscard]] std::size_t patterns() const { return patterns_.size(); }
  [[nodiscard]] const DayPattern& pattern(std::size_t index) const { return patterns_[index]; }
  /// Days from the first looked at to the last.
  [[nodiscard]] int dates() const { return dates_; }
  /// The dates on which a pattern waters, rising; none for odd and even dates.
  [[nodiscard]] std::span<const int> dates_on(std::size_t pattern) const {
    return dates_on_[pattern];
  }
  /// How often what such days take counts in a row.
  [[nodiscard]] std::int64_t times(std::size_t pattern, const Row& row) const;
  /// For each stock and weekday the row that these overfill the most, if they do.
  [[nodiscard]] std::vector<Row> overfilled(std::span<const Option* const> picked) const;

 private:
  enum class Kind { window, supply, day_litres, week_litres };
  struct Stock {
    Kind kind;
    std::size_t which;  ///< window or limit
    double whole;       ///< litres that make up the room; not used for windows
  };
  struct Taken {
    std::vector<std::int64_t> on_date;
    std::int64_t odd = 0, even = 0;
  };
  void add(const Stock& stock, std::int64_t room);
  [[nodiscard]] std::int64_t taken_by(std::size_t valve, const Candidate& candidate,
                                      const Stock& stock) const;
  [[nodiscard]] Taken taken_by(std::span<const Option* const> picked, std::size_t stock) const;
  [[nodiscard]] bool any_parity(std::size_t stock) const;

  const Limits* limits_;
  std::vector<Stock> stocks_;
  std::vector<std::int64_t> rooms_;  // [stocks]
  std::vector<DayPattern> patterns_;
  int dates_ = 7;
  std::vector<std::vector<int>> dates_on_;  // [patterns]
  std::vector<bool> odd_;                   // [dates]
};

}  // namespace runnel

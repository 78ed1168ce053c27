#pragma once

#include <cstdint>
#include <vector>

#include "timetable_stocks.hpp"

namespace runnel {

/// The litres that the candidates chosen bring on each date and in seven days from it, against the
/// limits. Sets of weekdays and intervals are counted date by date until they repeat. On the safe
/// side: odd and even dates meet all other days, and of seven days running four are of one kind and
/// three of the other; so do intervals that do not divide the dates looked at.
class LitreSums {
 public:
  /// @param stocks closed. Both must live as long as this.
  LitreSums(const Limits& limits, const Stocks& stocks);

  /// Whether what does not fit is certain not to: nothing is on the safe side.
  [[nodiscard]] bool certain() const { return certain_; }
  /// Whether such days are counted date by date.
  [[nodiscard]] bool dated(std::size_t days) const { return !days_in_week_[days].empty(); }
  /// Whether a candidate may be added. @param days into the patterns of Stocks.
  [[nodiscard]] bool fits(std::size_t valve, const Candidate& candidate, std::size_t days) const;
  void add(std::size_t valve, const Candidate& candidate, std::size_t days) {
    change(valve, candidate, days, 1);
  }
  void remove(std::size_t valve, const Candidate& candidate, std::size_t days) {
    change(valve, candidate, days, -1);
  }
  void clear();

 private:
  // Nanolitres: whole, so that taking away leaves what was before.
  /// What is not counted date by date.
  struct Drifting {
    std::int64_t odd = 0, even = 0, a_day = 0, a_week = 0;
    void add(std::int64_t litres_a_day, const DayPattern& days);
    [[nodiscard]] std::int64_t any_day() const;
    [[nodiscard]] std::int64_t any_week() const;
  };
  struct Sums {
    ValveSet valves;
    std::int64_t most_a_day, most_a_week;
    std::vector<std::int64_t> on_date, in_week;  // [dates] in_week: seven days from the date
    Drifting drifting;
  };
  [[nodiscard]] std::int64_t a_day(std::size_t valve, const Candidate& candidate) const;
  [[nodiscard]] bool fits(const Sums& sums, std::int64_t a_day, std::size_t days) const;
  [[nodiscard]] static bool fits_drifting(const Sums& sums, std::int64_t a_day,
                                          const DayPattern& days);
  void change(std::size_t valve, const Candidate& candidate, std::size_t days, int sign);

  const Limits* limits_;
  const Stocks* stocks_;
  std::vector<Sums> sums_;  // [limits]
  // [patterns][dates] days with water in seven from the date; empty for what is on the safe side.
  std::vector<std::vector<std::int64_t>> days_in_week_;
  bool certain_ = true;
};

}  // namespace runnel

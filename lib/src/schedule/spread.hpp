#pragma once

#include <chrono>
#include <vector>

#include "runnel/schedule/timer.hpp"

namespace runnel {

/// How many cycles to run in each window.
struct Spread {
  std::vector<int> cycles_in;    // [windows]
  std::chrono::hours repeat{0};  ///< as Candidate's
  std::chrono::minutes longest =
      std::chrono::days{1};  ///< run that start times of that interval leave room for
  [[nodiscard]] int starts() const;
  [[nodiscard]] std::vector<bool> used() const;  ///< [windows]
};

/// Every way to spread 1 to `starts_per_valve` cycles over the windows, fewest starts first; of as
/// many, more in the earlier window first. With very many ways, only those with as many cycles in
/// each window used. Windows shorter than the shortest run get none.
///
/// With a timer of one start and an interval: once in one window, or every so many hours round the
/// day, where a first start exists with which every run falls into a window.
[[nodiscard]] std::vector<Spread> spreads(const WateringHours& hours, const Timer& timer);

}  // namespace runnel

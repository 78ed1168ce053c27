#pragma once

#include <vector>

namespace runnel {

/// How many cycles to run in each window.
struct Spread {
  std::vector<int> cycles_in;  // [windows]
  [[nodiscard]] int starts() const;
  [[nodiscard]] std::vector<bool> used() const;  ///< [windows]
};

/// Every way to spread 1 to `starts_per_valve` cycles over the windows, fewest starts first; of as
/// many, more in the earlier window first. With very many ways, only those with as many cycles in
/// each window used.
[[nodiscard]] std::vector<Spread> spreads(std::size_t windows, int starts_per_valve);

}  // namespace runnel

#pragma once

namespace runnel {

/// First of least..most that is good, when all after it are, and `most` is known to be: steps of
/// 1, 2, 4 ... away from a guess within them, then bisection.
template <class Good>
[[nodiscard]] int fewest(int least, int most, int guess, const Good& good) {
  int low = least;
  int high = most;
  if (guess < most && !good(guess)) {
    low = guess + 1;
    for (int hop = 1; low + hop - 1 < high; hop *= 2) {
      if (good(low + hop - 1)) {
        high = low + hop - 1;
        break;
      }
      low += hop;
    }
  } else {
    high = guess;
    for (int hop = 1; high - hop > low; hop *= 2) {
      if (!good(high - hop)) {
        low = high - hop + 1;
        break;
      }
      high -= hop;
    }
  }
  while (low < high) {
    const int middle = low + (high - low) / 2;
    if (good(middle))
      high = middle;
    else
      low = middle + 1;
  }
  return high;
}

}  // namespace runnel

#include "spread.hpp"

#include <algorithm>
#include <numeric>

namespace runnel {
namespace {

/// Each way is tried with each day pattern; that must stay a matter of milliseconds.
constexpr std::size_t most_ways = 40;
constexpr std::size_t most_windows = 10;

class Spreading {
 public:
  Spreading(std::size_t windows, int starts) : now_{std::vector<int>(windows, 0)}, left_(starts) {}

  [[nodiscard]] std::vector<Spread> all() {
    go_on(0);
    return std::move(found_);
  }

 private:
  void go_on(std::size_t window) {
    if (found_.size() > most_ways) return;
    if (window == now_.cycles_in.size()) {
      if (now_.starts() > 0) found_.push_back(now_);
      return;
    }
    const int most = left_;
    for (int cycles = most; cycles >= 0; --cycles) {
      now_.cycles_in[window] = cycles;
      left_ = most - cycles;
      go_on(window + 1);
    }
    left_ = most;
    now_.cycles_in[window] = 0;
  }

  Spread now_;
  int left_;
  std::vector<Spread> found_;
};

std::vector<Spread> even_spreads(std::size_t windows, int starts_per_valve) {
  std::vector<Spread> all;
  for (unsigned set = 1; set < 1U << std::min(windows, most_windows); ++set) {
    Spread spread{std::vector<int>(windows, 0)};
    for (std::size_t w = 0; w < std::min(windows, most_windows); ++w)
      spread.cycles_in[w] = (set >> w & 1U) != 0 ? 1 : 0;
    const Spread once = spread;
    while (spread.starts() <= starts_per_valve) {
      all.push_back(spread);
      for (std::size_t w = 0; w < windows; ++w) spread.cycles_in[w] += once.cycles_in[w];
    }
  }
  return all;
}

}  // namespace

int Spread::starts() const { return std::accumulate(cycles_in.begin(), cycles_in.end(), 0); }

std::vector<bool> Spread::used() const { return {cycles_in.begin(), cycles_in.end()}; }

std::vector<Spread> spreads(std::size_t windows, int starts_per_valve) {
  std::vector<Spread> all = Spreading(windows, std::max(starts_per_valve, 0)).all();
  if (all.size() > most_ways) all = even_spreads(windows, starts_per_valve);
  std::stable_sort(all.begin(), all.end(), [](const Spread& a, const Spread& b) {
    const int in_a = a.starts();
    const int in_b = b.starts();
    return in_a != in_b ? in_a < in_b : a.cycles_in > b.cycles_in;
  });
  return all;
}

}  // namespace runnel

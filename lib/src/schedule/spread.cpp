#include "spread.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <optional>

namespace runnel {
namespace {

/// Each way is tried with each day pattern; that must stay a matter of milliseconds.
constexpr std::size_t most_ways = 40;
constexpr std::size_t most_windows = 10;
constexpr std::chrono::minutes day = std::chrono::days{1};

using std::chrono::minutes;

class Spreading {
 public:
  Spreading(std::size_t windows, int starts)
      : now_{.cycles_in = std::vector<int>(windows, 0)}, left_(starts) {}

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
    Spread spread{.cycles_in = std::vector<int>(windows, 0)};
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

std::vector<Spread> free_spreads(std::size_t windows, int starts_per_valve) {
  std::vector<Spread> all = Spreading(windows, std::max(starts_per_valve, 0)).all();
  return all.size() > most_ways ? even_spreads(windows, starts_per_valve) : all;
}

/// Windows in which the shortest run has room.
std::vector<std::size_t> open_windows(const WateringHours& hours, minutes shortest) {
  std::vector<std::size_t> open;
  for (std::size_t w = 0; w < hours.size(); ++w)
    if (hours[w].closes - hours[w].opens >= std::max(shortest, minutes{1})) open.push_back(w);
  return open;
}

/// The spread over all windows of one over the open ones alone.
Spread over_all(const Spread& of_open, const std::vector<std::size_t>& open, std::size_t windows) {
  Spread spread{.cycles_in = std::vector<int>(windows, 0)};
  for (std::size_t i = 0; i < open.size(); ++i) spread.cycles_in[open[i]] = of_open.cycles_in[i];
  return spread;
}

/// The starts of an interval round the day, or nothing when one lies outside the windows.
std::optional<Spread> starting_at(WallTime first, std::chrono::hours repeat,
                                  const WateringHours& hours) {
  Spread spread{.cycles_in = std::vector<int>(hours.size(), 0), .repeat = repeat};
  for (WallTime start = first; start < day; start += repeat) {
    const auto window = std::find_if(hours.begin(), hours.end(), [start](const Window& one) {
      return start >= one.opens && start < one.closes;
    });
    if (window == hours.end()) return std::nullopt;
    ++spread.cycles_in[static_cast<std::size_t>(window - hours.begin())];
    spread.longest = std::min(spread.longest, minutes{window->closes - start});
  }
  return spread;
}

/// Every spread that some first start brings about, each with the longest run any such leaves.
std::vector<Spread> interval_spreads(std::chrono::hours repeat, const WateringHours& hours,
                                     minutes shortest) {
  std::map<std::vector<int>, Spread> by_cycles;
  for (WallTime first{0}; first < repeat; ++first) {
    const std::optional<Spread> spread = starting_at(first, repeat, hours);
    if (!spread || spread->longest < shortest) continue;
    Spread& best = by_cycles.try_emplace(spread->cycles_in, *spread).first->second;
    best.longest = std::max(best.longest, spread->longest);
  }
  std::vector<Spread> all;
  for (const auto& [cycles_in, spread] : by_cycles) all.push_back(spread);
  return all;
}

}  // namespace

int Spread::starts() const { return std::accumulate(cycles_in.begin(), cycles_in.end(), 0); }

std::vector<bool> Spread::used() const { return {cycles_in.begin(), cycles_in.end()}; }

std::vector<Spread> spreads(const WateringHours& hours, const Timer& timer) {
  const std::vector<RunLength> lengths = run_lengths(timer);
  if (lengths.empty()) return {};
  const minutes shortest = lengths.front().runs;
  const std::vector<std::size_t> open = open_windows(hours, shortest);
  const int starts = timer.repeat_hours.empty() ? timer.starts_per_valve : 1;
  std::vector<Spread> all;
  for (const Spread& spread : free_spreads(open.size(), starts))
    all.push_back(over_all(spread, open, hours.size()));
  for (const int repeat : timer.repeat_hours)
    if (repeat > 0 && 24 % repeat == 0 && repeat < 24)
      for (Spread& spread : interval_spreads(std::chrono::hours{repeat}, hours, shortest))
        all.push_back(std::move(spread));
  std::stable_sort(all.begin(), all.end(), [](const Spread& a, const Spread& b) {
    const int in_a = a.starts();
    const int in_b = b.starts();
    return in_a != in_b ? in_a < in_b : a.cycles_in > b.cycles_in;
  });
  return all;
}

}  // namespace runnel

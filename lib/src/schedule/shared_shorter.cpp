#include "shared_shorter.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <set>
#include <tuple>

#include "sequence.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

constexpr std::array<double, 3> kShorter = {0.75, 0.5, 0.25};
constexpr std::size_t kRoomy = 6;  // frames

/// The cheapest that a valve can have in any of the programmes, the others as they are.
/// @return whether that is less than it has.
bool improve(const SharedGarden& garden, Sharing& sharing, std::size_t v, bool within_the_hours) {
  Sharing best = sharing;
  for (std::size_t p = 0; p < sharing.frames.size(); ++p) {
    for (const std::size_t option : garden.frames[sharing.frames[p]].options[v]) {
      if (!(garden.lists[v][option].cost < garden.lists[v][best.chosen[v]].cost)) break;
      Sharing other = sharing;
      choose(garden, other, v, p, option);
      if (within_the_hours && load_of(garden, other).excess() > 0.0) continue;
      best = std::move(other);
    }
  }
  const bool better = best.cost < sharing.cost;
  sharing = std::move(best);
  return better;
}

/// What a valve may do instead in its programme: less, down to nothing.
std::vector<std::size_t> less_than_now(const SharedGarden& garden, const Sharing& sharing,
                                       std::size_t v) {
  if (!sharing.programme[v]) return {};
  const int now_min = minutes_a_day(garden.lists[v][sharing.chosen[v]]);
  std::vector<std::size_t> less;
  for (const std::size_t option : garden.frames[sharing.frames[*sharing.programme[v]]].options[v])
    if (minutes_a_day(garden.lists[v][option]) < now_min) less.push_back(option);
  less.push_back(garden.dry[v]);
  return less;
}

/// Of all single steps to less water the one that costs least for what it frees.
std::optional<Sharing> least_step(const SharedGarden& garden, const Sharing& sharing,
                                  double excess) {
  std::optional<Sharing> best;
  std::pair<double, double> best_price{std::numeric_limits<double>::infinity(), 0.0};
  for (std::size_t v = 0; v < sharing.chosen.size(); ++v) {
    for (const std::size_t option : less_than_now(garden, sharing, v)) {
      Sharing step = sharing;
      choose(garden, step, v, sharing.programme[v], option);
      const double freed = excess - load_of(garden, step).excess();
      if (freed <= 0.0) continue;
      const std::pair<double, double> price{
          static_cast<double>(step.cost.harm_um - sharing.cost.harm_um) / freed,
          static_cast<double>(step.cost.price_cl - sharing.cost.price_cl) / freed};
      if (price >= best_price) continue;
      best_price = price;
      best = std::move(step);
    }
  }
  return best;
}

/// Frames with most days, in most windows, of these the cheapest for all valves.
std::vector<std::size_t> frames_with_most_room(const SharedGarden& garden) {
  struct Room {
    std::size_t days, windows;
    Cost cost;
    std::size_t frame;
  };
  std::vector<Room> rooms;
  for (std::size_t f = 0; f < garden.frames.size(); ++f) {
    const Frame& frame = garden.frames[f];
    Cost sum;
    for (std::size_t v = 0; v < garden.lists.size(); ++v)
      sum =
          sum +
          garden.lists[v][frame.options[v].empty() ? garden.dry[v] : frame.options[v].front()].cost;
    const auto unused = std::count(frame.cycles_in.begin(), frame.cycles_in.end(), 0);
    rooms.push_back({.days = frame.on.count(),
                     .windows = frame.cycles_in.size() - static_cast<std::size_t>(unused),
                     .cost = sum,
                     .frame = f});
  }
  std::stable_sort(rooms.begin(), rooms.end(), [](const Room& a, const Room& b) {
    return std::tie(b.days, b.windows, a.cost) < std::tie(a.days, a.windows, b.cost);
  });
  std::vector<std::size_t> frames;
  for (std::size_t i = 0; i < std::min(kRoomy, rooms.size()); ++i) frames.push_back(rooms[i].frame);
  return frames;
}

}  // namespace

std::vector<Sharing> roomier(const SharedGarden& garden, const Sharing& sharing) {
  const auto most = static_cast<std::size_t>(std::max(garden.constraints.timer.programmes, 0));
  std::vector<Sharing> all;
  for (const std::size_t f : frames_with_most_room(garden)) {
    for (std::size_t p = 0; p <= sharing.frames.size() && p < most; ++p) {
      Sharing other = all_dry(garden);
      other.frames = sharing.frames;
      if (p == other.frames.size()) other.frames.push_back(f);
      other.frames[p] = f;
      all.push_back(std::move(other));
    }
  }
  return all;
}

Sharing shortened(const SharedGarden& garden, const Sharing& sharing) {
  Sharing now = sharing;
  for (std::size_t v = 0; v < now.chosen.size(); ++v) improve(garden, now, v, false);
  while (true) {
    const double excess = load_of(garden, now).excess();
    if (excess <= 0.0) break;
    std::optional<Sharing> step = least_step(garden, now, excess);
    if (!step) return sharing;
    now = *std::move(step);
  }
  bool better = true;
  while (better) {
    better = false;
    for (std::size_t v = 0; v < now.chosen.size(); ++v)
      better = improve(garden, now, v, true) || better;
  }
  return now.cost < sharing.cost ? now : sharing;
}

void add_shorter(const SharedGarden& garden, std::span<const Sharing> sharings,
                 std::vector<std::vector<Candidate>>& lists, const WithRuns& with_runs) {
  const std::vector<RunLength> lengths = run_lengths(garden.constraints.timer);
  std::set<std::size_t> frames;
  for (const Sharing& sharing : sharings)
    frames.insert(sharing.frames.begin(), sharing.frames.end());
  for (const std::size_t f : frames) {
    for (std::size_t v = 0; v < lists.size(); ++v) {
      const std::vector<std::size_t>& options = garden.frames[f].options[v];
      if (options.empty()) continue;
      std::set<std::vector<minutes>> known;
      for (const std::size_t option : options) known.insert(lists[v][option].run_in);
      const Candidate whole = lists[v][options.front()];
      for (const double share : kShorter) {
        std::vector<minutes> run_in = whole.run_in;
        for (minutes& run : run_in) {
          const minutes most{static_cast<int>(share * static_cast<double>(run.count()))};
          minutes shorter{0};
          for (const RunLength& length : lengths)
            if (length.runs <= most) shorter = length.runs;
          if (run.count() > 0) run = std::max(shorter, lengths.front().runs);
        }
        if (known.insert(run_in).second) lists[v].push_back(with_runs(v, whole, std::move(run_in)));
      }
    }
  }
}

}  // namespace runnel

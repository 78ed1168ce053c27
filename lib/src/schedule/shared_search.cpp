#include "shared_search.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

#include "sequence.hpp"

namespace runnel {
namespace {

// Counts, never time.
constexpr long kMostSharings = 20'000;    // looked at in detail
constexpr long kMostFromOne = 1'000;      // likewise, from each further frame to begin with
constexpr std::size_t kStartsOfEach = 3;  // frames to begin with for each valve
constexpr std::size_t kMostStarts = 24;
constexpr std::size_t kKept = 8;
constexpr Cost worst{.harm_um = std::numeric_limits<std::int64_t>::max(), .price_cl = 0};

/// The choice of frames for one garden.
class FrameSearch {
 public:
  explicit FrameSearch(const SharedGarden& garden) : garden_(garden) {
    const std::size_t valves = garden_.lists.size();
    for (const Frame& frame : garden_.frames) {
      for (std::size_t v = 0; v < valves; ++v) {
        Cost least = dry_cost(v);
        if (!frame.options[v].empty())
          least = std::min(least, garden_.lists[v][frame.options[v].front()].cost);
        least_.push_back(least);
      }
    }
    order_.resize(valves);
    std::iota(order_.begin(), order_.end(), std::size_t{0});
    std::stable_sort(order_.begin(), order_.end(), [&](std::size_t a, std::size_t b) {
      return chain_minutes(garden_.lists[a].front()) > chain_minutes(garden_.lists[b].front());
    });
  }

  [[nodiscard]] std::vector<Sharing> search() {
    descend({}, kMostSharings);
    for (const std::size_t first : good_starts()) {
      if (kept_.front().cost == bound()) break;
      descend({first}, kMostFromOne);
    }
    return std::move(kept_);
  }

 private:
  [[nodiscard]] Cost dry_cost(std::size_t v) const { return garden_.lists[v][garden_.dry[v]].cost; }
  [[nodiscard]] const Cost& least(std::size_t frame, std::size_t v) const {
    return least_[frame * garden_.lists.size() + v];
  }

  [[nodiscard]] Cost bound() const {
    Cost sum;
    for (std::size_t v = 0; v < garden_.lists.size(); ++v) {
      Cost cheapest = dry_cost(v);
      for (std::size_t f = 0; f < garden_.frames.size(); ++f)
        cheapest = std::min(cheapest, least(f, v));
      sum = sum + cheapest;
    }
    return sum;
  }

  /// The frames in which some valve is cheapest; of the valves with most minutes first.
  [[nodiscard]] std::vector<std::size_t> good_starts() const {
    std::vector<std::size_t> starts;
    std::vector<std::size_t> frames(garden_.frames.size());
    std::iota(frames.begin(), frames.end(), std::size_t{0});
    const std::size_t of_each = std::min(kStartsOfEach, frames.size());
    for (const std::size_t v : order_) {
      std::vector<std::size_t> cheapest = frames;
      std::stable_sort(cheapest.begin(), cheapest.end(),
                       [&](std::size_t a, std::size_t b) { return least(a, v) < least(b, v); });
      for (std::size_t i = 0; i < of_each; ++i)
        if (std::find(starts.begin(), starts.end(), cheapest[i]) == starts.end())
          starts.push_back(cheapest[i]);
    }
    if (starts.size() > kMostStarts) starts.resize(kMostStarts);
    return starts;
  }

  /// One frame more as long as that saves, then one exchanged at a time.
  void descend(std::vector<std::size_t> frames, long most_sharings) {
    const auto most = static_cast<std::size_t>(std::max(garden_.constraints.timer.programmes, 0));
    if (frames.size() > most) return;
    sharings_left_ = most_sharings;
    Sharing first = *shared(frames, worst);
    Cost now = first.cost;
    keep(std::move(first));
    bool better = true;
    while (better) {
      better = false;
      if (frames.size() < most) {
        frames.push_back(0);
        better = improve_at(frames, frames.size() - 1, now);
        if (!better) frames.pop_back();
      }
      if (better && frames.size() < most) continue;
      for (std::size_t p = 0; p < frames.size(); ++p) better = improve_at(frames, p, now) || better;
    }
  }

  /// The frame at one place that, with the others as they are, costs least.
  /// @return whether that is less than `now`; else it stays as it is.
  bool improve_at(std::vector<std::size_t>& frames, std::size_t place, Cost& now) {
    std::size_t best = frames[place];
    bool better = false;
    for (std::size_t f = 0; f < garden_.frames.size(); ++f) {
      frames[place] = f;
      if (sharings_left_ <= 0 || !(whatever_the_hours(frames) < now)) continue;
      --sharings_left_;
      std::optional<Sharing> sharing = shared(frames, now);
      if (!sharing) continue;
      now = sharing->cost;
      best = f;
      better = true;
      keep(*std::move(sharing));
    }
    frames[place] = best;
    return better;
  }

  /// No sharing of these frames costs less.
  [[nodiscard]] Cost whatever_the_hours(const std::vector<std::size_t>& frames) const {
    Cost sum;
    for (std::size_t v = 0; v < garden_.lists.size(); ++v) {
      Cost cheapest = dry_cost(v);
      for (const std::size_t f : frames) cheapest = std::min(cheapest, least(f, v));
      sum = sum + cheapest;
    }
    return sum;
  }

  /// @return nothing when it comes to no less than `below`.
  [[nodiscard]] std::optional<Sharing> shared(const std::vector<std::size_t>& frames,
                                              const Cost& below) const {
    Sharing sharing{.cost = whatever_the_hours(frames),
                    .frames = frames,
                    .programme = std::vector<std::optional<std::size_t>>(garden_.lists.size()),
                    .chosen = garden_.dry};
    SharedLoad load(garden_, frames);
    for (const std::size_t v : order_) {
      const std::vector<std::size_t> programmes = cheapest_first(frames, v);
      for (const std::size_t p : programmes) {
        const std::size_t option = garden_.frames[frames[p]].options[v].front();
        if (!load.add_if_it_fits(p, v, garden_.lists[v][option])) continue;
        sharing.programme[v] = p;
        sharing.chosen[v] = option;
        break;
      }
      if (programmes.empty() || sharing.programme[v] == programmes.front()) continue;
      const Cost& hoped = least(frames[programmes.front()], v);
      const Cost& paid = garden_.lists[v][sharing.chosen[v]].cost;
      sharing.cost.harm_um += paid.harm_um - hoped.harm_um;
      sharing.cost.price_cl += paid.price_cl - hoped.price_cl;
      if (!(sharing.cost < below)) return std::nullopt;
    }
    return sharing;
  }

  /// The programmes in which a valve does better than without water.
  [[nodiscard]] std::vector<std::size_t> cheapest_first(const std::vector<std::size_t>& frames,
                                                        std::size_t v) const {
    std::vector<std::size_t> programmes;
    for (std::size_t p = 0; p < frames.size(); ++p)
      if (least(frames[p], v) < dry_cost(v)) programmes.push_back(p);
    std::stable_sort(programmes.begin(), programmes.end(), [&](std::size_t a, std::size_t b) {
      return least(frames[a], v) < least(frames[b], v);
    });
    return programmes;
  }

  void keep(Sharing sharing) {
    const auto known = [&](const Sharing& one) { return one.chosen == sharing.chosen; };
    if (std::any_of(kept_.begin(), kept_.end(), known)) return;
    const auto place =
        std::upper_bound(kept_.begin(), kept_.end(), sharing,
                         [](const Sharing& a, const Sharing& b) { return a.cost < b.cost; });
    kept_.insert(place, std::move(sharing));
    if (kept_.size() > kKept) kept_.pop_back();
  }

  const SharedGarden& garden_;
  std::vector<Cost> least_;         // [frames, valves]
  std::vector<std::size_t> order_;  // valves
  std::vector<Sharing> kept_;       // best first
  long sharings_left_ = 0;
};

}  // namespace

std::vector<Sharing> cheapest_sharings(const SharedGarden& garden) {
  return FrameSearch(garden).search();
}

}  // namespace runnel

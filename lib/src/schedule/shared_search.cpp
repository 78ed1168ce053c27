#include "shared_search.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <map>
#include <numeric>
#include <stdexcept>
#include <tuple>

#include "sequence.hpp"

namespace runnel {
namespace {

using std::chrono::days;

constexpr double kRounding = 1e-9;  // relative: sums of litres that a limit just allows
// Counts, never time.
constexpr long kMostSharings = 20'000;    // looked at in detail
constexpr long kMostFromOne = 1'000;      // likewise, from each further frame to begin with
constexpr std::size_t kStartsOfEach = 3;  // frames to begin with for each valve
constexpr std::size_t kMostStarts = 24;
constexpr std::size_t kKept = 8;
constexpr std::size_t kRoomy = 6;  // frames
constexpr Cost worst{.harm_um = std::numeric_limits<std::int64_t>::max(), .price_cl = 0};

int minutes_of(std::chrono::minutes duration) { return static_cast<int>(duration.count()); }

/// One of the timer's lengths in each window, and as many starts as it takes.
bool can_be_told(const Candidate& candidate, const Timer& timer,
                 const std::vector<RunLength>& lengths) {
  if (candidate.repeat.count() == 0 && cycles_of(candidate) > timer.starts_per_valve) return false;
  int first = 0;
  for (std::size_t w = 0; w < candidate.run_in.size(); ++w) {
    if (cycles_of(candidate, w) == 0) continue;
    const int run = run_minutes(candidate, w);
    if (first == 0) first = run;
    if (run != first && !timer.length_per_start) return false;
    if (std::none_of(lengths.begin(), lengths.end(),
                     [run](const RunLength& length) { return length.runs.count() == run; }))
      return false;
  }
  return true;
}

using FrameKey = std::tuple<std::size_t, unsigned long, long, std::vector<int>, long>;

FrameKey key_of(const Candidate& candidate) {
  unsigned long what = 0;
  long phase = 0;
  if (const auto* weekdays = std::get_if<Weekdays>(&candidate.days)) {
    what = weekdays->on.to_ulong();
  } else if (const auto* every = std::get_if<EveryN>(&candidate.days)) {
    what = static_cast<unsigned long>(every->n);
    phase = every->first.time_since_epoch().count() % std::max(every->n, 1);
  } else {
    what = std::get<DateParity>(candidate.days).odd ? 1 : 0;
  }
  return {candidate.days.index(), what, phase, candidate.cycles_in, candidate.repeat.count()};
}

Frame frame_of(const Candidate& candidate, std::size_t valves) {
  Frame frame{.days = candidate.days,
              .cycles_in = candidate.cycles_in,
              .on = {},
              .options = std::vector<std::vector<std::size_t>>(valves)};
  for (std::size_t d = 0; d < shared_dates; ++d)
    frame.on.set(d, waters_on(candidate.days, Date{days(static_cast<int>(d))}));
  return frame;
}

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

SharedLoad load_of(const SharedGarden& garden, const Sharing& sharing) {
  SharedLoad load(garden, sharing.frames);
  for (std::size_t v = 0; v < sharing.chosen.size(); ++v)
    if (sharing.programme[v])
      load.add(*sharing.programme[v], v, garden.lists[v][sharing.chosen[v]]);
  return load;
}

void choose(const SharedGarden& garden, Sharing& sharing, std::size_t v,
            std::optional<std::size_t> programme, std::size_t option) {
  sharing.programme[v] = option == garden.dry[v] ? std::nullopt : programme;
  sharing.chosen[v] = option;
  sharing.cost = {};
  for (std::size_t u = 0; u < sharing.chosen.size(); ++u)
    sharing.cost = sharing.cost + garden.lists[u][sharing.chosen[u]].cost;
}

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

SharedGarden shared_garden(std::span<const int> numbers,
                           std::span<const std::vector<Candidate>> lists,
                           const Constraints& constraints) {
  SharedGarden garden{.numbers = numbers,
                      .lists = lists,
                      .constraints = constraints,
                      .frames = {},
                      .dry = {},
                      .hours = {}};
  const std::vector<RunLength> lengths = run_lengths(constraints.timer);
  std::map<FrameKey, std::size_t> place_of;
  for (std::size_t v = 0; v < lists.size(); ++v) {
    garden.hours.push_back(constraints.rules_of(numbers[v]).hours);
    std::optional<std::size_t> dry;
    for (std::size_t i = 0; i < lists[v].size(); ++i) {
      const Candidate& candidate = lists[v][i];
      if (cycles_of(candidate) == 0) {
        if (!dry || candidate.cost < lists[v][*dry].cost) dry = i;
        continue;
      }
      if (!can_be_told(candidate, constraints.timer, lengths)) continue;
      const auto [at, is_new] = place_of.emplace(key_of(candidate), garden.frames.size());
      if (is_new) garden.frames.push_back(frame_of(candidate, lists.size()));
      garden.frames[at->second].options[v].push_back(i);
    }
    if (!dry) throw std::invalid_argument("pack: a valve has no candidate without watering");
    garden.dry.push_back(*dry);
  }
  for (Frame& frame : garden.frames)
    for (std::size_t v = 0; v < lists.size(); ++v)
      std::stable_sort(
          frame.options[v].begin(), frame.options[v].end(),
          [&](std::size_t a, std::size_t b) { return lists[v][a].cost < lists[v][b].cost; });
  return garden;
}

SharedLoad::SharedLoad(const SharedGarden& garden, const std::vector<std::size_t>& frames)
    : garden_(&garden), pause_min_(std::max(garden.constraints.timer.pause_minutes, 0)) {
  const WateringHours& hours = garden.constraints.hours;
  for (const std::size_t f : frames) {
    programmes_.push_back({.frame = &garden.frames[f], .windows = {}});
    for (std::size_t w = 0; w < hours.size(); ++w)
      programmes_.back().windows.push_back({.cycles = garden.frames[f].cycles_in[w],
                                            .opens_min = minutes_of(hours[w].opens),
                                            .closes_min = minutes_of(hours[w].closes)});
  }
  litres_.resize(garden.constraints.litres.size());
}

void SharedLoad::add(std::size_t programme, std::size_t valve, const Candidate& candidate) {
  Filled& filled = programmes_[programme];
  const WateringHours& hours = garden_->hours[valve];
  for (std::size_t w = 0; w < filled.windows.size(); ++w) {
    InWindow& window = filled.windows[w];
    if (window.cycles == 0) continue;
    const int run_min = run_minutes(candidate, w);
    window.run_min += run_min + (filled.valves > 0 ? pause_min_ : 0);
    window.next_min = std::max(window.next_min, run_min + minutes_of(candidate.soak));
    window.opens_min = std::max(window.opens_min, minutes_of(hours[w].opens));
    window.closes_min = std::min(window.closes_min, minutes_of(hours[w].closes));
  }
  ++filled.valves;
  const int number = garden_->numbers[valve];
  const double litres = minutes_a_day(candidate) * garden_->constraints.litres_per_minute(number);
  for (std::size_t l = 0; l < litres_.size(); ++l) {
    const std::vector<int>& limited = garden_->constraints.litres[l].valves;
    if (std::find(limited.begin(), limited.end(), number) == limited.end()) continue;
    for (std::size_t d = 0; d < shared_dates; ++d)
      if (filled.frame->on.test(d)) litres_[l][d] += litres;
  }
}

bool SharedLoad::add_if_it_fits(std::size_t programme, std::size_t valve,
                                const Candidate& candidate) {
  const Filled before = programmes_[programme];
  const auto litres_before = litres_;
  add(programme, valve, candidate);
  if (excess() <= 0.0) return true;
  programmes_[programme] = before;
  litres_ = litres_before;
  return false;
}

double SharedLoad::excess() const {
  const WateringHours& hours = garden_->constraints.hours;
  const int together = std::max(garden_->constraints.timer.together, 1);
  int sum_min = 0;
  for (std::size_t w = 0; w < hours.size(); ++w) {
    std::array<int, shared_dates> held_min{};
    for (const Filled& filled : programmes_) {
      const InWindow& window = filled.windows[w];
      if (filled.valves == 0 || window.cycles == 0) continue;
      const int between_min =
          std::max(filled.valves > 1 ? pause_min_ : 0, window.next_min - window.run_min);
      const int chain_min = window.cycles * window.run_min + (window.cycles - 1) * between_min;
      sum_min += std::max(0, chain_min - std::max(0, window.closes_min - window.opens_min));
      const int each_min = window.cycles * (window.run_min + pause_min_);
      for (std::size_t d = 0; d < shared_dates; ++d)
        held_min[d] += filled.frame->on.test(d) ? each_min : 0;
    }
    const int room_min = (minutes_of(hours[w].closes - hours[w].opens) + pause_min_) * together;
    for (const int held : held_min) sum_min += std::max(0, held - room_min);
  }
  return sum_min + litres_excess();
}

double SharedLoad::litres_excess() const {
  double sum = 0.0;
  for (std::size_t l = 0; l < litres_.size(); ++l) {
    const LitreLimit& limit = garden_->constraints.litres[l];
    for (std::size_t d = 0; d < shared_dates; ++d) {
      if (limit.a_day) sum += std::max(0.0, litres_[l][d] - *limit.a_day * (1.0 + kRounding));
      if (!limit.a_week || d + 7 > shared_dates) continue;
      const auto first = litres_[l].begin() + static_cast<std::ptrdiff_t>(d);
      sum +=
          std::max(0.0, std::accumulate(first, first + 7, 0.0) - *limit.a_week * (1.0 + kRounding));
    }
  }
  return sum;
}

std::vector<Sharing> cheapest_sharings(const SharedGarden& garden) {
  return FrameSearch(garden).search();
}

std::vector<Sharing> roomier(const SharedGarden& garden, const Sharing& sharing) {
  const auto most = static_cast<std::size_t>(std::max(garden.constraints.timer.programmes, 0));
  std::vector<Sharing> all;
  for (const std::size_t f : frames_with_most_room(garden)) {
    for (std::size_t p = 0; p <= sharing.frames.size() && p < most; ++p) {
      Sharing other{.cost = {},
                    .frames = sharing.frames,
                    .programme = std::vector<std::optional<std::size_t>>(garden.lists.size()),
                    .chosen = garden.dry};
      if (p == other.frames.size()) other.frames.push_back(f);
      other.frames[p] = f;
      choose(garden, other, 0, std::nullopt, garden.dry[0]);
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

}  // namespace runnel

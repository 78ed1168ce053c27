#include "shared_garden.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <stdexcept>
#include <tuple>

#include "sequence.hpp"

namespace runnel {
namespace {

using std::chrono::days;

constexpr double kRounding = 1e-9;  // relative: sums of litres that a limit just allows

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
              .repeat = candidate.repeat,
              .on = {},
              .options = std::vector<std::vector<std::size_t>>(valves)};
  for (std::size_t d = 0; d < shared_dates; ++d)
    frame.on.set(d, waters_on(candidate.days, Date{days(static_cast<int>(d))}));
  return frame;
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
      const int repeat_min = minutes_of(filled.frame->repeat);
      if (repeat_min > 0) sum_min += std::max(0, window.run_min + between_min - repeat_min);
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

Sharing all_dry(const SharedGarden& garden) {
  Sharing sharing{.cost = {},
                  .frames = {},
                  .programme = std::vector<std::optional<std::size_t>>(garden.lists.size()),
                  .chosen = garden.dry};
  for (std::size_t v = 0; v < garden.lists.size(); ++v)
    sharing.cost = sharing.cost + garden.lists[v][garden.dry[v]].cost;
  return sharing;
}

void choose(const SharedGarden& garden, Sharing& sharing, std::size_t v,
            std::optional<std::size_t> programme, std::size_t option) {
  sharing.programme[v] = option == garden.dry[v] ? std::nullopt : programme;
  sharing.chosen[v] = option;
  sharing.cost = {};
  for (std::size_t u = 0; u < sharing.chosen.size(); ++u)
    sharing.cost = sharing.cost + garden.lists[u][sharing.chosen[u]].cost;
}

SharedLoad load_of(const SharedGarden& garden, const Sharing& sharing) {
  SharedLoad load(garden, sharing.frames);
  for (std::size_t v = 0; v < sharing.chosen.size(); ++v)
    if (sharing.programme[v])
      load.add(*sharing.programme[v], v, garden.lists[v][sharing.chosen[v]]);
  return load;
}

}  // namespace runnel

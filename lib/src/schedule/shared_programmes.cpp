#include "shared_programmes.hpp"

#include <algorithm>
#include <array>
#include <set>

#include "sequence.hpp"
#include "shared_search.hpp"

namespace runnel {
namespace {

using std::chrono::days;
using std::chrono::minutes;

constexpr std::array<double, 3> kShorter = {0.75, 0.5, 0.25};
constexpr std::size_t kMostShortened = 3;  // sharings
constexpr std::size_t kMostOptions = 200;  // of a programme, beside one of each kind of load
/// All meetings of dates and weekdays: after 28 years the calendar repeats.
constexpr int kCalendarDays = 28 * 365 + 7;
constexpr double kRounding = 1e-9;

/// A programme as pack() sees it: one valve that runs as long as all of its valves together.
struct Joined {
  Candidate candidate;
  std::vector<std::size_t> chosen;  // [members] into their candidates
};

/// The valves of one programme, in order of their numbers.
struct Group {
  std::vector<std::size_t> members;  // valves
  std::vector<Joined> options;
};

bool waters(const SharedGarden& garden, std::size_t valve, std::size_t option) {
  return cycles_of(garden.lists[valve][option]) > 0;
}

/// The least pause from the end of a programme's runs to its next start, so that each valve has its
/// own soak, whatever windows the two starts are in.
int soak_between(const std::vector<const Candidate*>& runs, const std::vector<minutes>& all_runs,
                 int pause_min) {
  int soak_min = runs.size() > 1 ? pause_min : 0;
  for (std::size_t from = 0; from < all_runs.size(); ++from) {
    for (std::size_t to = 0; to < all_runs.size(); ++to) {
      if (all_runs[from].count() == 0 || all_runs[to].count() == 0) continue;
      minutes before_from{0};
      minutes before_to{0};
      for (const Candidate* run : runs) {
        const minutes over = before_from + run->run_in[from] + run->soak;
        soak_min =
            std::max(soak_min, static_cast<int>((over - before_to - all_runs[from]).count()));
        before_from += run->run_in[from] + minutes{pause_min};
        before_to += run->run_in[to] + minutes{pause_min};
      }
    }
  }
  return soak_min;
}

Joined joined(const SharedGarden& garden, const std::vector<std::size_t>& members,
              std::vector<std::size_t> chosen) {
  const int pause_min = std::max(garden.constraints.timer.pause_minutes, 0);
  const std::size_t windows = garden.constraints.hours.size();
  std::vector<const Candidate*> runs;
  Cost cost;
  for (std::size_t m = 0; m < members.size(); ++m) {
    const Candidate& candidate = garden.lists[members[m]][chosen[m]];
    cost = cost + candidate.cost;
    if (waters(garden, members[m], chosen[m])) runs.push_back(&candidate);
  }
  Candidate all =
      runs.empty() ? garden.lists[members.front()][garden.dry[members.front()]] : *runs.front();
  all.cost = cost;
  if (!runs.empty()) {
    for (std::size_t w = 0; w < windows; ++w) {
      if (all.cycles_in[w] == 0) continue;
      all.run_in[w] = minutes{pause_min * (static_cast<int>(runs.size()) - 1)};
      for (const Candidate* run : runs) all.run_in[w] += run->run_in[w];
    }
    all.soak = minutes{soak_between(runs, all.run_in, pause_min)};
  }
  return {.candidate = std::move(all), .chosen = std::move(chosen)};
}

/// Each valve as now, or with less: its cheapest whose runs are no longer than that share.
std::vector<std::size_t> lesser(const SharedGarden& garden, const Frame& frame,
                                const std::vector<std::size_t>& members,
                                const std::vector<std::size_t>& chosen, double share) {
  std::vector<std::size_t> less;
  for (std::size_t m = 0; m < members.size(); ++m) {
    const std::size_t v = members[m];
    const double most_min = share * chain_minutes(garden.lists[v][chosen[m]]);
    const auto& options = frame.options[v];
    const auto found = std::find_if(options.begin(), options.end(), [&](std::size_t option) {
      return chain_minutes(garden.lists[v][option]) <= most_min;
    });
    less.push_back(found == options.end() ? garden.dry[v] : *found);
  }
  return less;
}

/// The same valves on other days or in other cycles: the cheapest, and one of each kind of load.
std::vector<Joined> in_other_frames(const SharedGarden& garden,
                                    const std::vector<std::size_t>& members) {
  std::vector<Joined> all;
  for (const Frame& frame : garden.frames) {
    std::vector<std::size_t> chosen;
    for (const std::size_t v : members)
      chosen.push_back(frame.options[v].empty() ? garden.dry[v] : frame.options[v].front());
    all.push_back(joined(garden, members, std::move(chosen)));
  }
  std::stable_sort(all.begin(), all.end(), [](const Joined& a, const Joined& b) {
    return a.candidate.cost < b.candidate.cost;
  });
  std::set<std::pair<std::vector<int>, std::ptrdiff_t>> kinds;
  std::vector<Joined> kept;
  for (Joined& one : all) {
    std::ptrdiff_t on = 0;
    for (int d = 0; d < 2 * 7; ++d) on += waters_on(one.candidate.days, Date{days{d}}) ? 1 : 0;
    const bool first = kinds.emplace(one.candidate.cycles_in, on).second;
    if (first || kept.size() < kMostOptions) kept.push_back(std::move(one));
  }
  return kept;
}

std::vector<Group> groups_of(const SharedGarden& garden, const Sharing& sharing) {
  std::vector<Group> groups;
  for (std::size_t p = 0; p < sharing.frames.size(); ++p) {
    Group group;
    for (std::size_t v = 0; v < sharing.programme.size(); ++v)
      if (sharing.programme[v] == p) group.members.push_back(v);
    if (group.members.empty()) continue;
    std::sort(group.members.begin(), group.members.end(),
              [&](std::size_t a, std::size_t b) { return garden.numbers[a] < garden.numbers[b]; });
    std::vector<std::size_t> chosen;
    std::vector<std::size_t> dry;
    for (const std::size_t v : group.members) {
      chosen.push_back(sharing.chosen[v]);
      dry.push_back(garden.dry[v]);
    }
    group.options = {joined(garden, group.members, chosen), joined(garden, group.members, dry)};
    const Frame& frame = garden.frames[sharing.frames[p]];
    for (const double share : kShorter)
      group.options.push_back(
          joined(garden, group.members, lesser(garden, frame, group.members, chosen, share)));
    // Litres are counted in the frames chosen alone.
    if (garden.constraints.litres.empty())
      for (Joined& other : in_other_frames(garden, group.members))
        group.options.push_back(std::move(other));
    groups.push_back(std::move(group));
  }
  return groups;
}

WateringHours common_hours(const SharedGarden& garden, const Group& group) {
  WateringHours common = garden.constraints.hours;
  for (const std::size_t v : group.members) {
    for (std::size_t w = 0; w < common.size(); ++w) {
      common[w].opens = std::max(common[w].opens, garden.hours[v][w].opens);
      common[w].closes =
          std::max(common[w].opens, std::min(common[w].closes, garden.hours[v][w].closes));
    }
  }
  return common;
}

/// What pack() must keep to with a programme in the place of each valve: runs of any length.
Constraints of_programmes(const SharedGarden& garden, const std::vector<Group>& groups) {
  Constraints all{.hours = garden.constraints.hours,
                  .timer = garden.constraints.timer,
                  .supply = garden.constraints.supply};
  all.timer.valves = static_cast<int>(groups.size());
  all.timer.minutes_choices = {};
  all.timer.minutes_step = 1;
  all.timer.minutes_least = 1;
  all.timer.minutes_most = 24 * 60;
  all.timer.percentage = 100;
  all.timer.length_per_start = true;
  all.timer.programmes = 0;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    const int number = static_cast<int>(g) + 1;
    all.rules[number] = {.hours = common_hours(garden, groups[g])};
    Flow most = Flow::litres_per_hour(0.0);
    for (const std::size_t v : groups[g].members)
      if (const auto flow = garden.constraints.flows.find(garden.numbers[v]);
          flow != garden.constraints.flows.end() &&
          flow->second.litres_per_hour() > most.litres_per_hour())
        most = flow->second;
    all.flows.emplace(number, most);
  }
  return all;
}

/// Days and start times of one programme, found by pack().
struct Timed {
  DayPattern days;
  std::vector<WallTime> starts;
  std::vector<std::size_t> members;
};

struct Packed {
  std::vector<std::size_t> chosen;  // [valves]
  std::vector<Timed> programmes;
};

Packed packed(const SharedGarden& garden, const Sharing& sharing) {
  const std::vector<Group> groups = groups_of(garden, sharing);
  std::vector<int> numbers;
  std::vector<std::vector<Candidate>> lists;
  for (const Group& group : groups) {
    numbers.push_back(static_cast<int>(numbers.size()) + 1);
    std::vector<Candidate>& list = lists.emplace_back();
    for (const Joined& option : group.options) list.push_back(option.candidate);
  }
  const Timetable timetable = pack(numbers, lists, of_programmes(garden, groups));
  Packed result{.chosen = garden.dry, .programmes = {}};
  for (std::size_t g = 0; g < groups.size(); ++g) {
    const Joined& option = groups[g].options[timetable.chosen[g]];
    Timed timed{.days = option.candidate.days, .starts = {}, .members = groups[g].members};
    for (const ValveTimes::Opening& opening : timetable.valves[g].openings)
      timed.starts.push_back(opening.start);
    for (std::size_t m = 0; m < groups[g].members.size(); ++m)
      result.chosen[groups[g].members[m]] = option.chosen[m];
    result.programmes.push_back(std::move(timed));
  }
  return result;
}

Cost cost_of(const SharedGarden& garden, const std::vector<std::size_t>& chosen) {
  Cost sum;
  for (std::size_t v = 0; v < chosen.size(); ++v) sum = sum + garden.lists[v][chosen[v]].cost;
  return sum;
}

double litres_a_day(const SharedGarden& garden, std::size_t valve, std::size_t option) {
  return minutes_a_day(garden.lists[valve][option]) *
         garden.constraints.litres_per_minute(garden.numbers[valve]);
}

bool is_limited(const SharedGarden& garden, const LitreLimit& limit, std::size_t valve) {
  return std::find(limit.valves.begin(), limit.valves.end(), garden.numbers[valve]) !=
         limit.valves.end();
}

/// Whether these valves ever bring more than the limit, on any day or in seven days running.
bool over(const SharedGarden& garden, const LitreLimit& limit, const Packed& now) {
  std::vector<double> litres(kCalendarDays, 0.0);
  for (const Timed& programme : now.programmes) {
    double sum_l = 0.0;
    for (const std::size_t v : programme.members)
      if (is_limited(garden, limit, v)) sum_l += litres_a_day(garden, v, now.chosen[v]);
    if (sum_l <= 0.0) continue;
    for (std::size_t d = 0; d < litres.size(); ++d)
      if (waters_on(programme.days, Date{days{static_cast<int>(d)}})) litres[d] += sum_l;
  }
  for (std::size_t d = 0; d + 7 <= litres.size(); ++d) {
    double week_l = 0.0;
    for (std::size_t i = d; i < d + 7; ++i) week_l += litres[i];
    if (limit.a_day && litres[d] > *limit.a_day * (1.0 + kRounding)) return true;
    if (limit.a_week && week_l > *limit.a_week * (1.0 + kRounding)) return true;
  }
  return false;
}

/// Limits that days far ahead break: the valve that suffers least stays shut, one after the other.
void keep_to_litres(const SharedGarden& garden, Packed& now) {
  for (const LitreLimit& limit : garden.constraints.litres) {
    while (over(garden, limit, now)) {
      std::optional<std::size_t> least;
      Cost least_cost;
      for (std::size_t v = 0; v < now.chosen.size(); ++v) {
        if (!is_limited(garden, limit, v) || litres_a_day(garden, v, now.chosen[v]) <= 0.0)
          continue;
        std::vector<std::size_t> without = now.chosen;
        without[v] = garden.dry[v];
        const Cost cost = cost_of(garden, without);
        if (least && !(cost < least_cost)) continue;
        least = v;
        least_cost = cost;
      }
      if (!least) break;
      now.chosen[*least] = garden.dry[*least];
    }
  }
}

std::size_t window_at(WallTime start, const WateringHours& hours) {
  for (std::size_t w = 0; w < hours.size(); ++w)
    if (start >= hours[w].opens && start < hours[w].closes) return w;
  return 0;
}

Run run_of(const SharedGarden& garden, std::size_t valve, const Candidate& candidate,
           const std::vector<WallTime>& starts) {
  Run run{.valve = garden.numbers[valve], .typed_min = {}};
  const std::vector<RunLength> lengths = run_lengths(garden.constraints.timer);
  for (const WallTime start : starts) {
    const minutes length = candidate.run_in[window_at(start, garden.constraints.hours)];
    const auto typed = std::find_if(lengths.begin(), lengths.end(),
                                    [length](const RunLength& one) { return one.runs == length; });
    if (garden.constraints.timer.length_per_start || run.typed_min.empty())
      run.typed_min.push_back(typed->typed_min);
  }
  return run;
}

/// What to type, by the first valve of each programme; those of shut valves have no starts.
std::vector<Programme> programmes_of(const SharedGarden& garden, const Packed& now) {
  std::vector<Programme> programmes;
  for (const Timed& timed : now.programmes) {
    Programme programme{.days = timed.days, .starts = timed.starts, .runs = {}};
    for (const std::size_t v : timed.members)
      if (waters(garden, v, now.chosen[v]))
        programme.runs.push_back(run_of(garden, v, garden.lists[v][now.chosen[v]], timed.starts));
    if (!programme.runs.empty()) programmes.push_back(std::move(programme));
  }
  for (std::size_t v = 0; v < now.chosen.size(); ++v)
    if (!waters(garden, v, now.chosen[v]))
      programmes.push_back({.days = garden.lists[v][now.chosen[v]].days,
                            .starts = {},
                            .runs = {{.valve = garden.numbers[v], .typed_min = {}}}});
  std::stable_sort(programmes.begin(), programmes.end(),
                   [](const Programme& a, const Programme& b) {
                     return a.runs.front().valve < b.runs.front().valve;
                   });
  return programmes;
}

Timetable timetable_of(const SharedGarden& garden, const Packed& now) {
  Timetable timetable{.chosen = now.chosen,
                      .valves = {},
                      .programmes = programmes_of(garden, now),
                      .cost = cost_of(garden, now.chosen),
                      .bound = {}};
  for (std::size_t v = 0; v < now.chosen.size(); ++v) {
    timetable.valves.push_back(
        times_of(garden.numbers[v], timetable.programmes, garden.constraints.timer));
    Cost least = garden.lists[v].front().cost;
    for (const Candidate& candidate : garden.lists[v]) least = std::min(least, candidate.cost);
    timetable.bound = timetable.bound + least;
  }
  timetable.proven = timetable.cost == timetable.bound;
  return timetable;
}

/// The best of the sharings, each of which cannot cost less than what it says.
Packed best_packed(const SharedGarden& garden, const std::vector<Sharing>& sharings) {
  std::optional<Packed> best;
  for (const Sharing& sharing : sharings) {
    if (best && !(sharing.cost < cost_of(garden, best->chosen))) break;
    Packed now = packed(garden, sharing);
    keep_to_litres(garden, now);
    if (!best || cost_of(garden, now.chosen) < cost_of(garden, best->chosen)) best = std::move(now);
  }
  return *std::move(best);
}

/// Shorter runs of each valve in each frame of the sharings; those that the lists have are left
/// out. They come after all others, so that the frames keep their numbers.
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

/// Whether each valve costs what it would in the best of the frames, with all the room it likes.
bool unhindered(const SharedGarden& garden, const Sharing& sharing) {
  for (std::size_t v = 0; v < sharing.chosen.size(); ++v)
    for (const std::size_t f : sharing.frames)
      for (const std::size_t option : garden.frames[f].options[v])
        if (garden.lists[v][option].cost < garden.lists[v][sharing.chosen[v]].cost) return false;
  return true;
}

}  // namespace

Timetable pack_shared(std::span<const int> numbers, std::vector<std::vector<Candidate>>& lists,
                      const Constraints& constraints, const WithRuns& with_runs) {
  const SharedGarden garden = shared_garden(numbers, lists, constraints);
  std::vector<Sharing> sharings = cheapest_sharings(garden);
  const Sharing first = sharings.front();
  const Packed packed_whole = best_packed(garden, sharings);
  const Cost whole = cost_of(garden, packed_whole.chosen);
  if (unhindered(garden, first) && whole == first.cost) return timetable_of(garden, packed_whole);

  if (sharings.size() > kMostShortened) sharings.resize(kMostShortened);
  for (Sharing& other : roomier(garden, first)) sharings.push_back(std::move(other));
  add_shorter(garden, sharings, lists, with_runs);
  const SharedGarden with_shorter = shared_garden(numbers, lists, constraints);
  for (Sharing& sharing : sharings) sharing = shortened(with_shorter, sharing);
  std::stable_sort(sharings.begin(), sharings.end(),
                   [](const Sharing& a, const Sharing& b) { return a.cost < b.cost; });
  const Packed packed_shorter = best_packed(with_shorter, sharings);
  const bool better = cost_of(with_shorter, packed_shorter.chosen) < whole;
  return timetable_of(with_shorter, better ? packed_shorter : packed_whole);
}

}  // namespace runnel

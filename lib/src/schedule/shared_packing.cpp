#include "shared_packing.hpp"

#include <algorithm>
#include <array>
#include <set>

#include "runnel/schedule/timetable.hpp"
#include "sequence.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

constexpr std::array<double, 3> kLesser = {0.75, 0.5, 0.25};
constexpr std::size_t kMostOptions = 200;  // of a programme, beside one of each kind of load

/// A programme as pack() sees it: one valve that runs as long as all of its valves together.
struct Joined {
  Candidate candidate;
  std::size_t frame;
  std::vector<std::size_t> chosen;  // [members] into their candidates
};

/// The valves of one programme, in order of their numbers.
struct Group {
  std::vector<std::size_t> members;  // valves
  std::vector<Joined> options;
};

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

Joined joined(const SharedGarden& garden, std::size_t frame,
              const std::vector<std::size_t>& members, std::vector<std::size_t> chosen) {
  const int pause_min = std::max(garden.constraints.timer.pause_minutes, 0);
  const std::size_t windows = garden.constraints.hours.size();
  std::vector<const Candidate*> runs;
  Cost cost;
  for (std::size_t m = 0; m < members.size(); ++m) {
    const Candidate& candidate = garden.lists[members[m]][chosen[m]];
    cost = cost + candidate.cost;
    if (chosen[m] != garden.dry[members[m]]) runs.push_back(&candidate);
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
  return {.candidate = std::move(all), .frame = frame, .chosen = std::move(chosen)};
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
  for (std::size_t f = 0; f < garden.frames.size(); ++f) {
    const Frame& frame = garden.frames[f];
    std::vector<std::size_t> chosen;
    for (const std::size_t v : members)
      chosen.push_back(frame.options[v].empty() ? garden.dry[v] : frame.options[v].front());
    all.push_back(joined(garden, f, members, std::move(chosen)));
  }
  std::stable_sort(all.begin(), all.end(), [](const Joined& a, const Joined& b) {
    return a.candidate.cost < b.candidate.cost;
  });
  std::set<std::pair<std::vector<int>, std::size_t>> kinds;
  std::vector<Joined> kept;
  for (Joined& one : all) {
    const Frame& frame = garden.frames[one.frame];
    const bool first = kinds.emplace(frame.cycles_in, frame.on.count()).second;
    if (first || kept.size() < kMostOptions) kept.push_back(std::move(one));
  }
  return kept;
}

Group group_of(const SharedGarden& garden, const Sharing& sharing, std::size_t programme,
               OtherDays others) {
  Group group;
  for (std::size_t v = 0; v < sharing.programme.size(); ++v)
    if (sharing.programme[v] == programme) group.members.push_back(v);
  std::sort(group.members.begin(), group.members.end(),
            [&](std::size_t a, std::size_t b) { return garden.numbers[a] < garden.numbers[b]; });
  if (group.members.empty()) return group;
  std::vector<std::size_t> chosen;
  std::vector<std::size_t> dry;
  for (const std::size_t v : group.members) {
    chosen.push_back(sharing.chosen[v]);
    dry.push_back(garden.dry[v]);
  }
  const std::size_t f = sharing.frames[programme];
  group.options = {joined(garden, f, group.members, chosen), joined(garden, f, group.members, dry)};
  for (const double share : kLesser)
    group.options.push_back(joined(garden, f, group.members,
                                   lesser(garden, garden.frames[f], group.members, chosen, share)));
  // Litres are counted in the frames chosen alone.
  if (others == OtherDays::yes && garden.constraints.litres.empty())
    for (Joined& other : in_other_frames(garden, group.members))
      group.options.push_back(std::move(other));
  return group;
}

std::vector<Group> groups_of(const SharedGarden& garden, const Sharing& sharing, OtherDays others) {
  std::vector<Group> groups;
  for (std::size_t p = 0; p < sharing.frames.size(); ++p) {
    Group group = group_of(garden, sharing, p, others);
    if (!group.members.empty()) groups.push_back(std::move(group));
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

}  // namespace

PackedProgrammes packed(const SharedGarden& garden, const Sharing& sharing, OtherDays others) {
  const std::vector<Group> groups = groups_of(garden, sharing, others);
  std::vector<int> numbers;
  std::vector<std::vector<Candidate>> lists;
  for (const Group& group : groups) {
    numbers.push_back(static_cast<int>(numbers.size()) + 1);
    std::vector<Candidate>& list = lists.emplace_back();
    for (const Joined& option : group.options) list.push_back(option.candidate);
  }
  const Timetable timetable = pack(numbers, lists, of_programmes(garden, groups));
  PackedProgrammes result{.sharing = all_dry(garden), .programmes = {}};
  for (std::size_t g = 0; g < groups.size(); ++g) {
    const Joined& option = groups[g].options[timetable.chosen[g]];
    result.sharing.frames.push_back(option.frame);
    Timed timed{.starts = {}, .members = groups[g].members};
    for (const ValveTimes::Opening& opening : timetable.valves[g].openings)
      timed.starts.push_back(opening.start);
    for (std::size_t m = 0; m < timed.members.size(); ++m)
      choose(garden, result.sharing, timed.members[m], g, option.chosen[m]);
    result.programmes.push_back(std::move(timed));
  }
  return result;
}

}  // namespace runnel

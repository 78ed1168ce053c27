#include "runnel/schedule/programme.hpp"

#include <algorithm>
#include <cmath>

namespace runnel {
namespace {

using std::chrono::minutes;

/// How many minutes after its programme's start a valve opens, and for how long, at the start of
/// that number.
struct InSequence {
  minutes after, length;
};

minutes runs_for(int typed_min, const Timer& timer) {
  return minutes{std::lround(typed_min * timer.percentage / 100.0)};
}

InSequence in_sequence(std::size_t run, std::size_t start, const Programme& programme,
                       const Timer& timer) {
  const auto length = [&](std::size_t r) {
    const std::vector<int>& typed_min = programme.runs[r].typed_min;
    if (typed_min.empty()) return minutes{0};
    return runs_for(typed_min[std::min(start, typed_min.size() - 1)], timer);
  };
  minutes after{0};
  for (std::size_t r = 0; r < run; ++r)
    if (length(r).count() > 0) after += length(r) + minutes{timer.pause_minutes};
  return {.after = after, .length = length(run)};
}

}  // namespace

minutes ValveTimes::a_day() const {
  minutes sum{0};
  for (const Opening& opening : openings) sum += opening.length;
  return sum;
}

const ValveTimes* find_times(std::span<const ValveTimes> times, int valve) {
  const auto found = std::find_if(times.begin(), times.end(),
                                  [valve](const ValveTimes& one) { return one.valve == valve; });
  return found == times.end() ? nullptr : &*found;
}

ValveTimes times_of(int valve, std::span<const Programme> programmes, const Timer& timer) {
  ValveTimes times{.valve = valve, .days = Weekdays{0}, .openings = {}};
  for (const Programme& programme : programmes) {
    for (std::size_t r = 0; r < programme.runs.size(); ++r) {
      if (programme.runs[r].valve != valve) continue;
      times.days = programme.days;
      for (std::size_t s = 0; s < programme.starts.size(); ++s) {
        const InSequence opening = in_sequence(r, s, programme, timer);
        if (opening.length.count() > 0)
          times.openings.push_back(
              {.start = programme.starts[s] + opening.after, .length = opening.length});
      }
    }
  }
  return times;
}

}  // namespace runnel

#include "sheet/day_clock.hpp"

#include <algorithm>

namespace runnel::cli::sheet {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

constexpr hours least_gap{2};         // shorter ones are shown
constexpr double gap_minutes = 40.0;  // what a gap left out takes of the picture

double count(minutes time) { return static_cast<double>(time.count()); }

}  // namespace

DayClock::DayClock(const std::vector<DatedRun>& runs) {
  std::vector<Stretch> used;
  used.reserve(runs.size());
  for (const DatedRun& run : runs)
    used.push_back({.from = std::chrono::floor<hours>(run.start),
                    .to = std::chrono::ceil<hours>(run.start + run.length)});
  std::sort(used.begin(), used.end(),
            [](const Stretch& a, const Stretch& b) { return a.from < b.from; });
  for (const Stretch& next : used) {
    if (!stretches_.empty() && next.from - stretches_.back().to < least_gap) {
      stretches_.back().to = std::max(stretches_.back().to, next.to);
    } else {
      stretches_.push_back(next);
    }
  }
}

double DayClock::whole_minutes() const {
  double whole = gap_minutes * (static_cast<double>(stretches_.size()) - 1.0);
  for (const Stretch& stretch : stretches_) whole += count(stretch.to - stretch.from);
  return whole;
}

double DayClock::place(WallTime time) const {
  double before = 0.0;
  for (const Stretch& stretch : stretches_) {
    if (time <= stretch.to) return (before + count(time - stretch.from)) / whole_minutes();
    before += count(stretch.to - stretch.from) + gap_minutes;
  }
  return 1.0;
}

}  // namespace runnel::cli::sheet

#pragma once

#include <bitset>
#include <optional>
#include <span>
#include <vector>

#include "runnel/schedule/candidates.hpp"

namespace runnel {

constexpr std::size_t kMostValves = 128;
using ValveSet = std::bitset<kMostValves>;

/// One cycle of a valve.
struct Cycle {
  int start;  ///< minutes since midnight
  int run;    ///< minutes
};
/// Of one valve on one day, in order of time.
using Cycles = std::vector<Cycle>;

/// Cycles in a window; none where the candidate does not water.
[[nodiscard]] int cycles_of(const Candidate& candidate, std::size_t window);
[[nodiscard]] int cycles_of(const Candidate& candidate);  ///< in all windows
[[nodiscard]] int run_minutes(const Candidate& candidate, std::size_t window);
/// Runs and soaks of a day from the first start on, as if all were in one window.
[[nodiscard]] int chain_minutes(const Candidate& candidate);

/// Minutes of a window that a valve keeps from all others on a day on which it waters: its runs and
/// the pauses after them, which are cut short where its own next cycle follows sooner.
[[nodiscard]] int held_minutes(const Candidate& candidate, std::size_t window, int pause);

/// One valve's choice and where it stands.
struct Placed {
  std::size_t valve;  ///< index, below kMostValves
  const Candidate* candidate;
  Cycles cycles;
};

/// Which minutes of the watering hours are taken by which valves: a run and the pause after it.
///
/// Valves conflict where their days can meet. Where watering hours reach round the clock, so that
/// the end of one day touches the beginning of the next, all valves count as conflicting there.
class MinuteMap {
 public:
  MinuteMap(const WateringHours& hours, const Timer& timer);

  void clear();
  /// Start of the earliest run from `earliest` on that ends by `latest_end`, or nothing.
  [[nodiscard]] std::optional<int> first_fit(const ValveSet& conflicts, int run, int earliest,
                                             int latest_end) const;
  void take(std::size_t valve, int start, int run) { mark(valve, start, run, true); }
  void release(std::size_t valve, int start, int run) { mark(valve, start, run, false); }

  /// All cycles of a candidate, each as early as it goes. @return nothing when one finds no room;
  /// the map is then as before.
  [[nodiscard]] std::optional<Cycles> place(std::size_t valve, const Candidate& candidate,
                                            const ValveSet& conflicts);
  void remove(const Placed& placed);

  [[nodiscard]] const WateringHours& hours() const { return *hours_; }
  [[nodiscard]] int pause() const { return pause_; }
  [[nodiscard]] int together() const { return together_; }
  /// Whether the end of a day's hours touches the next day's.
  [[nodiscard]] bool round_the_clock() const { return round_the_clock_; }

 private:
  [[nodiscard]] bool blocked(int minute, const ValveSet& conflicts) const;
  [[nodiscard]] std::size_t busy_at(int minute) const;
  void mark(std::size_t valve, int start, int run, bool taken);

  const WateringHours* hours_;
  int origin_ = 0;
  int pause_ = 0;
  int together_ = 1;
  bool round_the_clock_ = false;
  std::vector<ValveSet> busy_;  // [minutes from origin_]
};

/// The valves among `placed` whose days can meet the pattern's.
[[nodiscard]] ValveSet conflicts_with(const DayPattern& days, std::span<const Placed> placed);

/// Whether some window is too short for those of its valves whose days meet pairwise: then no
/// order of any kind fits.
[[nodiscard]] bool overloaded(std::span<const Placed> placed, const WateringHours& hours, int pause,
                              int together);

/// Whether a soak after the last run of a day may reach the first of the next, or the hours do.
[[nodiscard]] bool days_touch(const Candidate& candidate, const MinuteMap& map);

enum class Fits { yes, no, unknown };
struct Sequenced {
  Fits fits;
  std::vector<Placed> placed;  ///< with cycles when it fits
};
/// Looks for start times anew for all of `placed`: first fit in a few fixed orders, then branch and
/// bound over cycles. "no" is certain; "unknown" means that the search was cut short, or that the
/// model is on the safe side (several valves at once, hours round the clock).
/// @param most_looks at valves in the branch and bound.
/// @param visits is counted up by one for each candidate placed.
[[nodiscard]] Sequenced sequence(std::vector<Placed> placed, const WateringHours& hours,
                                 const Timer& timer, long most_looks, long& visits);

}  // namespace runnel

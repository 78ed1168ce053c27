#pragma once

#include <optional>
#include <span>
#include <vector>

#include "runnel/schedule/candidates.hpp"
#include "timetable_limits.hpp"

namespace runnel {

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
[[nodiscard]] int minutes_a_day(const Candidate& candidate);
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

/// Which minutes of the watering hours are taken by which valves: a run and the pause after it. A
/// valve takes minutes of its own hours; where the supply may not do for all valves allowed at
/// once, it is open only while all that are open need no more, or no other is open.
///
/// Valves conflict where their days can meet. Where watering hours reach round the clock, so that
/// the end of one day touches the beginning of the next, all valves count as conflicting there.
class MinuteMap {
 public:
  /// @param limits must live as long as this.
  explicit MinuteMap(const Limits& limits);

  void clear();
  /// Start of the earliest run from `earliest` on that ends by `latest_end`, or nothing.
  [[nodiscard]] std::optional<int> first_fit(std::size_t valve, const ValveSet& conflicts, int run,
                                             int earliest, int latest_end) const;
  void take(std::size_t valve, int start, int run) { mark(valve, start, run, true); }
  void release(std::size_t valve, int start, int run) { mark(valve, start, run, false); }

  /// All cycles of a candidate, each at the start it would keep or else as early as it goes; all
  /// as early as they go where keeping some leaves others no room. Those of an interval from the
  /// first start it would keep, or else the earliest, from which all find room. @return nothing
  /// when one finds none; the map is then as before. @param keep whether any are to be kept.
  [[nodiscard]] std::optional<Cycles> place(std::size_t valve, const Candidate& candidate,
                                            const ValveSet& conflicts, bool keep = true);
  void remove(const Placed& placed);

  [[nodiscard]] const Limits& limits() const { return *limits_; }
  /// Whether the end of a day's hours touches the next day's.
  [[nodiscard]] bool round_the_clock() const { return round_the_clock_; }

 private:
  [[nodiscard]] bool blocked(int minute, const ValveSet& conflicts) const;
  [[nodiscard]] bool undersupplied(int minute, std::size_t valve, const ValveSet& conflicts) const;
  void mark(std::size_t valve, int start, int run, bool taken);
  [[nodiscard]] std::optional<Cycles> free_cycles(std::size_t valve, const Candidate& candidate,
                                                  const ValveSet& conflicts, bool keep) const;
  [[nodiscard]] std::optional<Cycles> repeated_cycles(std::size_t valve, const Candidate& candidate,
                                                      const ValveSet& conflicts, bool keep) const;
  [[nodiscard]] std::optional<Cycles> cycles_for(std::size_t valve, const Candidate& candidate,
                                                 const ValveSet& conflicts, bool keep) const;
  /// How much later than `first` an interval must start at the least, for one of its cycles;
  /// nothing when that finds no room in its window at all.
  [[nodiscard]] std::optional<int> later_by(std::size_t valve, const Candidate& candidate,
                                            const ValveSet& conflicts, int first) const;

  const Limits* limits_;
  int origin_ = 0;
  int pause_ = 0;
  int together_ = 1;
  bool supply_counts_ = false;
  bool round_the_clock_ = false;
  std::vector<ValveSet> busy_;  // [minutes from origin_]
  std::vector<ValveSet> open_;  // [minutes from origin_] without the pauses; where supply counts
};

/// The valves among `placed` whose days can meet the pattern's.
[[nodiscard]] ValveSet conflicts_with(const DayPattern& days, std::span<const Placed> placed);

/// Whether some window is too short for those of its valves whose days meet pairwise: then no
/// order of any kind fits.
[[nodiscard]] bool overloaded(std::span<const Placed> placed, const Limits& limits);

/// Whether a soak after the last run of a day may reach the first of the next, or the hours do.
[[nodiscard]] bool days_touch(const Candidate& candidate, const MinuteMap& map);

enum class Fits { yes, no, unknown };
struct Sequenced {
  Fits fits;
  std::vector<Placed> placed;  ///< with cycles when it fits
};
/// Looks for start times anew for all of `placed`: first fit in a few fixed orders, then branch and
/// bound over cycles. "no" is certain; "unknown" means that the search was cut short, that the
/// model is on the safe side (several valves at once, hours round the clock), or that intervals,
/// whose starts the branch and bound does not know, found no room.
/// @param most_looks at valves in the branch and bound.
/// @param visits is counted up by one for each candidate placed.
[[nodiscard]] Sequenced sequence(std::vector<Placed> placed, const Limits& limits, long most_looks,
                                 long& visits);

}  // namespace runnel

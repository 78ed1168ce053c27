#pragma once

#include <array>
#include <bitset>
#include <optional>
#include <span>
#include <vector>

#include "runnel/schedule/candidates.hpp"
#include "runnel/schedule/constraints.hpp"

namespace runnel {

/// Days over which sums of minutes and litres are looked at: four weeks, any.
inline constexpr std::size_t shared_dates = 28;

/// What the valves of one programme have in common: days, and cycles in each window.
struct Frame {
  DayPattern days;
  std::vector<int> cycles_in;  ///< [windows]
  std::chrono::hours repeat{0};
  std::bitset<shared_dates> on;
  std::vector<std::vector<std::size_t>> options;  ///< [valves] into its candidates, cheapest first
};

/// The valves of a garden whose timer has programmes that several valves share.
struct SharedGarden {
  std::span<const int> numbers;                   ///< [valves]
  std::span<const std::vector<Candidate>> lists;  ///< [valves]
  const Constraints& constraints;
  std::vector<Frame> frames;         ///< of all candidates that the timer can be told
  std::vector<std::size_t> dry;      ///< [valves] the candidate without water
  std::vector<WateringHours> hours;  ///< [valves]
};
/// @throws std::invalid_argument when a valve has no candidate without watering.
[[nodiscard]] SharedGarden shared_garden(std::span<const int> numbers,
                                         std::span<const std::vector<Candidate>> lists,
                                         const Constraints& constraints);

/// Which programme each valve is in, and its candidate there.
struct Sharing {
  Cost cost;
  std::vector<std::size_t> frames;                    ///< [programmes]
  std::vector<std::optional<std::size_t>> programme;  ///< [valves] nothing: shut
  std::vector<std::size_t> chosen;                    ///< [valves] into its candidates
};

/// Minutes of the hours and litres of the limits that programmes take: sums over four weeks, where
/// a timetable looks at every meeting of days and at each start time.
class SharedLoad {
 public:
  SharedLoad(const SharedGarden& garden, const std::vector<std::size_t>& frames);

  void add(std::size_t programme, std::size_t valve, const Candidate& candidate);
  /// @return whether it does; else nothing has changed.
  bool add_if_it_fits(std::size_t programme, std::size_t valve, const Candidate& candidate);
  /// Minutes and litres beyond what there is; 0 where all goes in.
  [[nodiscard]] double excess() const;

 private:
  struct InWindow {
    int cycles = 0;
    int run_min = 0;            ///< all valves and the pauses between them
    int next_min = 0;           ///< least minutes from start to start, for the soaks
    int opens_min, closes_min;  ///< common to all valves
  };
  struct Filled {
    const Frame* frame;
    std::vector<InWindow> windows;
    int valves = 0;
  };
  [[nodiscard]] double litres_excess() const;

  const SharedGarden* garden_;
  int pause_min_;
  std::vector<Filled> programmes_;
  std::vector<std::array<double, shared_dates>> litres_;  // [limits]
};

/// No programmes yet.
[[nodiscard]] Sharing all_dry(const SharedGarden& garden);
/// Another choice for one valve: a candidate in a programme, or without one the dry candidate.
void choose(const SharedGarden& garden, Sharing& sharing, std::size_t valve,
            std::optional<std::size_t> programme, std::size_t option);
[[nodiscard]] SharedLoad load_of(const SharedGarden& garden, const Sharing& sharing);

}  // namespace runnel

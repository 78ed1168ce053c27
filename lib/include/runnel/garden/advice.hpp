#pragma once

#include <cstddef>
#include <vector>

#include "runnel/garden/garden.hpp"

namespace runnel {

struct GardenPlan;

/// A night this cold by the forecast can freeze wet paving and a full line: the forecast is of the
/// air at 2 m, and the ground is colder on a clear night. About 40 degF, below which extension
/// services stop automatic runs.
inline constexpr double frost_caution_c = 4.0;

/// A planned day with frost in sight.
struct FrostDay {
  Date date{};
  double lowest_c = 0.0;  ///< by the forecast
};

/// What to do about one watering of one valve.
struct WateringAdvice {
  /// What speaks against the watering.
  enum class Why { frost, rain };
  Why why = Why::frost;
  Date date{};  ///< of the watering
  int valve = 0;
  std::vector<std::size_t> zones = {};  ///< on the valve, their places in the garden's list
  /// All of them stay within their limits, in all but the allowed share of futures, when this
  /// watering and those of the advice before it are left out: through the plan's last day, and the
  /// valve's next watering if that comes later. Else the watering is needed.
  bool leave_out = false;
  double litres = 0.0;            ///< that it brings
  double rained_mm = 0.0;         ///< on the open ground in the last days (Why::rain)
  double rain_expected_mm = 0.0;  ///< by the forecast, until it is judged
  bool start_assumed = false;     ///< how dry a zone of the valve is was not known
};

/// What the weather asks of the gardener beside the programme. Empty: nothing.
struct Advice {
  std::vector<FrostDay> frost = {};
  /// Waterings that wet the ground into a frosty morning, that day's before solar noon and the day
  /// before's after it; then for each valve the week's first watering, where it can be left out
  /// for rain that fell or is forecast.
  std::vector<WateringAdvice> waterings = {};
  /// Whether there is nothing to do.
  [[nodiscard]] bool empty() const { return frost.empty() && waterings.empty(); }
};

/// @param planned with its weather, zones, constraints and plan.
[[nodiscard]] Advice advice(const Garden& garden, const GardenPlan& planned, double risk);

}  // namespace runnel

#pragma once

#include <optional>
#include <vector>

#include "json_writer.hpp"
#include "runnel/garden/replan.hpp"

namespace runnel::cli {

/// Days in sum, over those of which both are known, mm.
struct DaysTwice {
  int days = 0;  ///< of which both ET are known
  double assumed_eto_mm = 0.0, eto_mm = 0.0;
  double assumed_rain_mm = 0.0, rain_mm = 0.0;
  /// Below 0 where there was less; nothing where the plan took none.
  [[nodiscard]] std::optional<double> eto_more_percent() const;
};
[[nodiscard]] DaysTwice sum_of(const std::vector<DayTwice>& days);

/// Whether any of the days was observed, or is expected.
[[nodiscard]] bool any_known(const std::vector<DayTwice>& days);

/// The members "since", "since_sum", "ahead" and "ahead_sum".
void write_days_twice(JsonWriter& json, const Replan& again);

}  // namespace runnel::cli

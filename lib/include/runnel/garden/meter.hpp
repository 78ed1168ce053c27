#pragma once

#include <span>
#include <vector>

#include "runnel/delivery/delivery.hpp"
#include "runnel/garden/water_log.hpp"
#include "runnel/garden/water_taken.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/finding.hpp"

namespace runnel {

/// How far a meter may differ from what was expected before that means something: this share of
/// what was expected, and `meter_tolerance_l`, both. Common practice, no source.
constexpr double meter_tolerance = 0.15;
/// The litres of the same rule.
constexpr double meter_tolerance_l = 20.0;

/// What a water meter counted between two readings, taken in the evening.
struct MeterCheck {
  /// What the difference means.
  enum class Says { as_expected, leak, blocked };
  Date after, until;  ///< days of the readings: counted on the days after the first
  double expected_l;  ///< planned, as far as it ran, and by hand
  double counted_l;
  Says says;
  Place at;  ///< of the second reading
};

/// Each two readings that follow one another, as far as `taken` has all the days between them;
/// where the meter counts back (a new one) they are left out.
/// @param taken what really ran. @param deliveries of the zones, as many as `taken` has.
/// @throws std::invalid_argument when there are not as many.
[[nodiscard]] std::vector<MeterCheck> check_meter(const WaterLog& log, const WaterTaken& taken,
                                                  std::span<const Delivery> deliveries);

/// What the check says in words and what to look at first: a doubt for a leak or a blocked line, a
/// remark when all is as expected.
[[nodiscard]] Finding meter_finding(const MeterCheck& check, const Display& display = {});

}  // namespace runnel

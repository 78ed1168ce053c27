#pragma once

#include <optional>
#include <vector>

#include "json_writer.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {

/// From the plan's first day to its last.
[[nodiscard]] Eigen::Index days_planned(const Plan& plan);

/// When the first valve opens on the plan's first day; nothing when none does.
[[nodiscard]] std::optional<WallTime> first_start(const Plan& plan);

/// One run of one valve on one day.
struct DatedRun {
  Date date{};  ///< whose watering hours it belongs to
  int valve = 0;
  WallTime start{};
  std::chrono::minutes length{};
};
/// All runs of the days planned, by day, then by time, then by valve.
[[nodiscard]] std::vector<DatedRun> dated_runs(const Plan& plan);

/// What a zone's water does from day to day, mean of the futures. Flows are over the zone,
/// depletions and the limit of the part that irrigation reaches, as in BalanceTrace. [days planned]
struct ZoneDays {
  Column use_mm, rain_mm, water_mm, drained_mm;
  Column morning_mm;  ///< depletion after the morning's rain and water
  Column end_mm;      ///< depletion at the day's end
  Column limit_mm;
};
[[nodiscard]] ZoneDays zone_days(const PreparedZone& prepared, const ZonePlan& zone,
                                 Eigen::Index days);

/// The member "runs": an array.
void write_runs(JsonWriter& json, const Plan& plan);
/// The member "by_day" of a zone: an array.
void write_days(JsonWriter& json, const Plan& plan, const ZoneDays& days);

}  // namespace runnel::cli

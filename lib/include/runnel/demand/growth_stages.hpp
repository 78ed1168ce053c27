#pragma once

namespace runnel {

/// Lengths of the four growth stages, days. FAO-56 Table 11.
struct StageLengths {
  int ini, dev, mid, late;
  /// Length of the season, days.
  [[nodiscard]] int total() const { return ini + dev + mid + late; }
};

/// A coefficient's values in the initial and mid-season stage and at the season's end.
struct StageValues {
  double ini, mid, end;
};

/// The coefficient on a day of the season, counted from 1 at planting. FAO-56 Eq. 66, by which the
/// first day of the development stage is one step up already. Day 0 and before: `ini`; after the
/// last day: `end`.
[[nodiscard]] double stage_value(int day, const StageLengths& lengths, const StageValues& values);

/// Mean of the same line over a stretch of the season, in days since planting (20 to 30 is the
/// third ten days). FAO-56 Fig. 36. @throws std::invalid_argument unless from < to.
[[nodiscard]] double mean_stage_value(double from_day, double to_day, const StageLengths& lengths,
                                      const StageValues& values);

}  // namespace runnel

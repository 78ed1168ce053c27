#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "runnel/garden/water_log.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/quantity.hpp"

namespace runnel {

/// A zone's moisture as found in the evening of a day, all of that day's water and use included.
struct MoistureReading {
  Date date;
  std::variant<Depth, FeltMoisture> found;  ///< depletion, or share of the available water left
  Place at;
  /// @param taw_mm total available water on that day, mm (FAO-56 Eq. 82; a pot's available water).
  /// @return depletion, mm, not beyond taw_mm.
  [[nodiscard]] double depletion_mm(double taw_mm) const;
};
/// "finger test of Wed 14 Jul", "moisture reading of Wed 14 Jul".
[[nodiscard]] std::string to_text(const MoistureReading& reading);

/// Of that zone, in order of date: the balance goes on from each.
[[nodiscard]] std::vector<MoistureReading> moisture_readings(const WaterLog& log, std::size_t zone);

/// The last of them in the evenings from `first` to `last`.
[[nodiscard]] std::optional<MoistureReading> last_reading(const WaterLog& log, std::size_t zone,
                                                          Date first, Date last);

/// Doubts a reading of more depletion than the ground can hold water.
void doubt_reading(const MoistureReading& reading, const std::string& zone, double taw_mm,
                   const Display& display, std::vector<Finding>& findings);

}  // namespace runnel

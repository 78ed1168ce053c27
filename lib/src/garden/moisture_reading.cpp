#include "runnel/garden/moisture_reading.hpp"

#include <algorithm>

#include "runnel/units/number.hpp"

namespace runnel {

double MoistureReading::depletion_mm(double taw_mm) const {
  if (const auto* felt = std::get_if<FeltMoisture>(&found)) return (1.0 - felt->available) * taw_mm;
  return std::min(std::get<Depth>(found).mm(), taw_mm);
}

std::string to_text(const MoistureReading& reading) {
  const bool felt = std::holds_alternative<FeltMoisture>(reading.found);
  return (felt ? "finger test of " : "moisture reading of ") + short_date(reading.date);
}

std::vector<MoistureReading> moisture_readings(const WaterLog& log, std::size_t zone) {
  std::vector<MoistureReading> readings;
  for (const LogEntry& entry : log.entries) {
    if (!std::binary_search(entry.zones.begin(), entry.zones.end(), zone)) continue;
    if (entry.what == LogWhat::depletion)
      readings.push_back(
          {.date = entry.date, .found = std::get<Depth>(entry.amount), .at = entry.at});
    if (entry.what == LogWhat::feel)
      readings.push_back(
          {.date = entry.date, .found = std::get<FeltMoisture>(entry.amount), .at = entry.at});
  }
  return readings;
}

std::optional<MoistureReading> last_reading(const WaterLog& log, std::size_t zone, Date first,
                                            Date last) {
  std::optional<MoistureReading> latest;
  for (MoistureReading& reading : moisture_readings(log, zone))
    if (reading.date >= first && reading.date <= last) latest = std::move(reading);
  return latest;
}

void doubt_reading(const MoistureReading& reading, const std::string& zone, double taw_mm,
                   const Display& display, std::vector<Finding>& findings) {
  const auto* depth = std::get_if<Depth>(&reading.found);
  if (depth == nullptr || depth->mm() <= taw_mm) return;
  findings.push_back({.kind = Finding::Kind::doubt,
                      .at = reading.at,
                      .says = zone + ": " + measure(display, Shown::depth, depth->mm(), 1) +
                              " are missing, but its root zone holds no more than " +
                              measure(display, Shown::depth, taw_mm, 1) + ": taken as all of it",
                      .mend = "check the figure, and the zone's soil and root depth"});
}

}  // namespace runnel

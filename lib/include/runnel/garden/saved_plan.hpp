#pragma once

#include <chrono>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/garden/site_weather.hpp"
#include "runnel/schedule/programme.hpp"
#include "runnel/soil/balance.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/finding.hpp"

namespace runnel {

/// A zone as a plan left it.
struct SavedZone {
  std::string name;
  int valve;
  double litres;         ///< planned for the week
  double demand_mm;      ///< ETc without stress in the week, mean of the futures
  SoilState start, end;  ///< on the morning of `from`; expected on the evening of `until`
  std::vector<double> expected_mm = {};  ///< [days] depletion at the end of each, from `from` to
                                         ///< `until`; empty in a plan of format 1
};

/// The weather a plan assumed for a day.
struct SavedDay {
  double eto_mm, rain_mm;  ///< means of the futures
  DaySource source;
};

/// A watering to be started by hand.
struct HandWatering {
  Date date;
  int valve;
  int minutes;
};

/// What a plan file holds: all that the next plan needs of the one before.
struct SavedPlan {
  std::string file;    ///< its name, as the findings show it
  std::string garden;  ///< the garden's name
  Place garden_at, from_at;
  Date from{}, until{};
  std::vector<Programme> programmes;  ///< as typed
  int percentage = 100;               ///< of the timer, on every length typed
  int pause_minutes = 0;              ///< between one valve and the next
  std::vector<HandWatering> by_hand;
  std::vector<SavedZone> zones;
  std::vector<SavedDay> weather;  ///< [days] from `from` on, beyond `until`
  std::string garden_digest;      ///< of the garden file's text
  std::string observed_digest;    ///< of the observed days before `from`

  /// nullptr when the plan does not know it.
  [[nodiscard]] const SavedZone* zone_named(std::string_view name) const;
};

inline const SavedZone* SavedPlan::zone_named(std::string_view name) const {
  for (const SavedZone& zone : zones)
    if (zone.name == name) return &zone;
  return nullptr;
}

}  // namespace runnel

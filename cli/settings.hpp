#pragma once

#include <string>
#include <vector>

#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {

/// What a person sets for one valve, in words; "-" where it stays shut.
struct Setting {
  std::string days;     ///< "Thu", "every day"
  std::string starts;   ///< "04:30 05:45", "4:30 am 5:45 am", or "05:00, every 12 h"
  std::string minutes;  ///< as typed: "38", or "38 12" where starts have lengths of their own
  int programme = 0;    ///< where valves share programmes: which, from 1; else 0
};
[[nodiscard]] Setting setting_of(const Plan& plan, const Garden& garden, int valve);
/// The programme that waters by the valve; null where it stays shut.
[[nodiscard]] const Programme* programme_of(const Plan& plan, int valve);
/// Of the programmes that water, from 1, as they are counted on the sheet; 0: none.
[[nodiscard]] int number_of(const Plan& plan, const Programme* programme);
/// "04:30 05:45", or "05:00, every 12 h" where the timer has intervals.
[[nodiscard]] std::string starts_text(const std::vector<WallTime>& starts, const Timer& timer,
                                      const Display& display);
/// "38", or "38 12" where starts have lengths of their own.
[[nodiscard]] std::string minutes_text(const std::vector<int>& typed_min);
/// "terrace bed, hedge": all zones on a valve.
[[nodiscard]] std::string zone_names(const Garden& garden, int valve);
/// "valve 2, terrace bed, hedge".
[[nodiscard]] std::string valve_name(const Garden& garden, int valve);
[[nodiscard]] const ValveTimes& times_of(const Plan& plan, int valve);

/// Places in the garden's list, by valve.
[[nodiscard]] std::vector<std::size_t> zones_by_valve(const Plan& plan);

/// "Set it before Mon 12 Jul, 04:30, when the first valve opens."; empty where none opens on the
/// first day.
[[nodiscard]] std::string set_by_text(const Garden& garden, const Plan& plan);

/// What to set, zone by zone and valve by valve, with a line on why; where valves share programmes,
/// programme by programme.
[[nodiscard]] std::string settings_table(const Garden& garden, const GardenPlan& planned);

/// What a zone can do without, over all of it, and what it uses.
struct Spare {
  double mm, litres;  ///< from full to the limit
  double use_l_a_day;
};
[[nodiscard]] Spare spare_of(const ZonePlan& zone);

/// On a valve of several zones: which of them decides the minutes, and what the others lose by it;
/// empty on a valve of its own.
[[nodiscard]] std::string shared_valve_line(const Plan& plan, const ZonePlan& zone,
                                            const Display& display);

/// What of a zone's water drains away, where that is a tenth or more and the valve is its own, as
/// when the minutes that a dry start needed stay in force; else empty.
[[nodiscard]] std::string drain_line(const Plan& plan, const ZonePlan& zone,
                                     const Display& display);

/// What is short in a few words, and why these minutes.
[[nodiscard]] std::string why(const PreparedZone& prepared, const ZonePlan& zone,
                              const Display& display);

}  // namespace runnel::cli

#pragma once

#include "runnel/units/column.hpp"

namespace runnel {

/// Runoff of a day's rain, mm, by curve number (30-100). USDA NRCS TR-55 (1986), Ia = 0.2 S. Never
/// for irrigation.
[[nodiscard]] double curve_number_runoff_mm(double rain_mm, double curve_number);

/// What becomes of the rain on a zone.
struct RainOnZone {
  Lanes entering_mm, runoff_mm;  ///< [members, days]
};
/// Rain that enters the root zone: times the share that reaches the zone (eaves; a pot's mouth over
/// its canopy), less runoff; days below 0.2 ETo are ignored (FAO-56 chapter 8). @param curve_number
/// 0 = no runoff.
[[nodiscard]] RainOnZone rain_on_zone(const Lanes& rain_mm, const Lanes& eto_mm,
                                      double share_reaching, double curve_number);

}  // namespace runnel

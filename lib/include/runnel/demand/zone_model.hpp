#pragma once

#include "runnel/units/column.hpp"

namespace runnel {

/// What a zone's plants and root zone do on each day of a stretch. [days]
struct ZoneModel {
  Column kc;      ///< ETc / zone reference ET: crop or landscape coefficient (FAO-56 Eq. 58)
  Column taw_mm;  ///< total available water (FAO-56 Eq. 82); of a pot, its easily available water
                  ///< over its canopy area
};

}  // namespace runnel

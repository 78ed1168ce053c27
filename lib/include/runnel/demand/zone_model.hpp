#pragma once

#include "runnel/units/column.hpp"

namespace runnel {

/// What a zone's plants and root zone do on each day of a stretch. [days]
struct ZoneModel {
  Column kc;      ///< ETc / zone reference ET: crop or landscape coefficient (FAO-56 Eq. 58); with
                  ///< `kc_max` and `cover` the basal coefficient Kcb (Eq. 69)
  Column taw_mm;  ///< total available water (FAO-56 Eq. 82); of a pot, its easily available water
                  ///< over its canopy area
  Column kc_max =
      {};  ///< upper limit of Kcb + Ke (FAO-56 Eq. 72); empty with the single coefficient
  Column cover = {};  ///< share of the ground under plants (FAO-56 Eq. 76); empty likewise
};

}  // namespace runnel

#pragma once

namespace runnel {

/// A place on the earth. North and east are positive. The daily equations do not look at the
/// longitude.
struct Site {
  double latitude_deg;   ///< -90 to 90
  double longitude_deg;  ///< -180 to 180
  double elevation_m;    ///< above sea level
};

}  // namespace runnel

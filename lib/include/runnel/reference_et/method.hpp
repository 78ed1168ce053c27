#pragma once

#include <string_view>

namespace runnel {

/// The constants in which the standardized forms of Penman-Monteith differ. FAO-56 Eq. 6 and 53; ASCE-EWRI 2005 Tables 1
/// and 2. Night means net radiation <= 0 (ASCE) or a sun below the horizon (FAO-56).
struct Method {
  std::string_view name;       ///< as the command line writes it
  double cn;                   ///< numerator: K mm s3 Mg-1 per day or hour
  double cd_day, cd_night;     ///< denominator, s/m; daily methods use cd_day
  double g_share_day, g_share_night;  ///< soil heat flux as a share of net radiation; 0 for a day
  double stefan_boltzmann;     ///< MJ K-4 m-2 per day or hour
  double least_clear_ratio;    ///< floor of Rs/Rso in the long-wave term
  double least_wind_m_s;       ///< floor of u2
};

// The rows of the table are in method.cpp, each with its source.
[[nodiscard]] const Method& fao56_daily();
[[nodiscard]] const Method& asce_short_daily();
[[nodiscard]] const Method& asce_tall_daily();
[[nodiscard]] const Method& fao56_hourly();
[[nodiscard]] const Method& asce_short_hourly();
[[nodiscard]] const Method& asce_tall_hourly();

}  // namespace runnel

#pragma once

#include <string_view>

namespace runnel {

/// How an hourly method tells night from day, which sets the soil heat flux, the denominator and
/// the cloudiness carried.
enum class NightTest {
  sun_below_horizon,  ///< at the middle of the hour: FAO-56 Eq. 45, 46
  net_radiation,      ///< Rn <= 0: ASCE-EWRI 2005 Table 2
};

/// The constants in which the standardized forms of Penman-Monteith differ. FAO-56 Eq. 6 and 53;
/// ASCE-EWRI 2005 Tables 1 and 2.
struct Method {
  std::string_view name;              ///< as the command line writes it
  double cn;                          ///< numerator: K mm s3 Mg-1 per day or hour
  double cd_day, cd_night;            ///< denominator, s/m; daily methods use cd_day
  double g_share_day, g_share_night;  ///< soil heat flux as a share of net radiation; 0 for a day
  double stefan_boltzmann;            ///< MJ K-4 m-2 per day or hour
  double least_clear_ratio;           ///< floor of Rs/Rso in the long-wave term
  double least_wind_m_s;              ///< floor of u2
  NightTest night;                    ///< hourly methods only
};

// The rows of the table are in method.cpp, each with its source.
/// FAO-56 Eq. 6.
[[nodiscard]] const Method& fao56_daily();
/// ASCE-EWRI 2005 Eq. 1, short reference (clipped grass).
[[nodiscard]] const Method& asce_short_daily();
/// ASCE-EWRI 2005 Eq. 1, tall reference (alfalfa).
[[nodiscard]] const Method& asce_tall_daily();
/// FAO-56 Eq. 53.
[[nodiscard]] const Method& fao56_hourly();
/// ASCE-EWRI 2005 Eq. 1 by the hour, short reference.
[[nodiscard]] const Method& asce_short_hourly();
/// ASCE-EWRI 2005 Eq. 1 by the hour, tall reference.
[[nodiscard]] const Method& asce_tall_hourly();

}  // namespace runnel

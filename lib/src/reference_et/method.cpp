#include "runnel/reference_et/method.hpp"

namespace runnel {
namespace {

// FAO-56 figures from memory, checked against its worked examples; ASCE-EWRI 2005 as read in its
// Tables 1 and 2.
//
// Floor of Rs/Rso: FAO-56 states only the upper limit of 1 (Eq. 39). Its chapter 3 gives 0.33 as
// the ratio of a densely overcast sky; without a floor, long-wave radiation would become a gain
// below 0.26. ASCE states 0.3 (p. 20, 35). Floor of wind: FAO-56 chapter 3 advises 0.5 m/s; ASCE
// states none.
constexpr double fao56_least_clear_ratio = 0.33;
constexpr double asce_least_clear_ratio = 0.3;
constexpr double fao56_least_wind_m_s = 0.5;

constexpr Method fao56_day{.name = "fao56",
                           .cn = 900.0,  // FAO-56 Eq. 6
                           .cd_day = 0.34,
                           .cd_night = 0.34,
                           .g_share_day = 0.0,  // Eq. 42
                           .g_share_night = 0.0,
                           .stefan_boltzmann = 4.903e-9,  // Eq. 39
                           .least_clear_ratio = fao56_least_clear_ratio,
                           .least_wind_m_s = fao56_least_wind_m_s,
                           .night = NightTest::sun_below_horizon};

constexpr Method asce_short_day{.name = "asce-short",
                                .cn = 900.0,  // ASCE Table 1
                                .cd_day = 0.34,
                                .cd_night = 0.34,
                                .g_share_day = 0.0,  // Eq. 30
                                .g_share_night = 0.0,
                                .stefan_boltzmann = 4.901e-9,  // Eq. 17
                                .least_clear_ratio = asce_least_clear_ratio,
                                .least_wind_m_s = 0.0,
                                .night = NightTest::net_radiation};

constexpr Method asce_tall_day{.name = "asce-tall",
                               .cn = 1600.0,  // Table 1
                               .cd_day = 0.38,
                               .cd_night = 0.38,
                               .g_share_day = 0.0,  // Eq. 30
                               .g_share_night = 0.0,
                               .stefan_boltzmann = 4.901e-9,  // Eq. 17
                               .least_clear_ratio = asce_least_clear_ratio,
                               .least_wind_m_s = 0.0,
                               .night = NightTest::net_radiation};

constexpr Method fao56_hour{.name = "fao56",
                            .cn = 37.0,  // FAO-56 Eq. 53: 900 / 24, rounded by the standard
                            .cd_day = 0.34,
                            .cd_night = 0.34,
                            .g_share_day = 0.1,             // Eq. 45
                            .g_share_night = 0.5,           // Eq. 46
                            .stefan_boltzmann = 2.043e-10,  // chapter 4: 4.903e-9 / 24
                            .least_clear_ratio = fao56_least_clear_ratio,
                            .least_wind_m_s = fao56_least_wind_m_s,
                            .night = NightTest::sun_below_horizon};

constexpr Method asce_short_hour{.name = "asce-short",
                                 .cn = 37.0,  // ASCE Table 1
                                 .cd_day = 0.24,
                                 .cd_night = 0.96,
                                 .g_share_day = 0.1,             // Eq. 65a
                                 .g_share_night = 0.5,           // Eq. 65b
                                 .stefan_boltzmann = 2.042e-10,  // Eq. 44
                                 .least_clear_ratio = asce_least_clear_ratio,
                                 .least_wind_m_s = 0.0,
                                 .night = NightTest::net_radiation};

constexpr Method asce_tall_hour{.name = "asce-tall",
                                .cn = 66.0,  // Table 1
                                .cd_day = 0.25,
                                .cd_night = 1.7,
                                .g_share_day = 0.04,            // Eq. 66a
                                .g_share_night = 0.2,           // Eq. 66b
                                .stefan_boltzmann = 2.042e-10,  // Eq. 44
                                .least_clear_ratio = asce_least_clear_ratio,
                                .least_wind_m_s = 0.0,
                                .night = NightTest::net_radiation};

}  // namespace

const Method& fao56_daily() { return fao56_day; }
const Method& asce_short_daily() { return asce_short_day; }
const Method& asce_tall_daily() { return asce_tall_day; }
const Method& fao56_hourly() { return fao56_hour; }
const Method& asce_short_hourly() { return asce_short_hour; }
const Method& asce_tall_hourly() { return asce_tall_hour; }

}  // namespace runnel

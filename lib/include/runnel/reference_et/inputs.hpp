#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "runnel/sky/radiation.hpp"
#include "runnel/sky/site.hpp"
#include "runnel/units/column.hpp"
#include "runnel/weather/series.hpp"

namespace runnel {

/// Which rule stood in for a measurement; one bit each, so that a day can carry several.
enum class Estimate : std::uint16_t {
  temperature_interpolated = 1 << 0,
  humidity_interpolated = 1 << 1,
  wind_interpolated = 1 << 2,
  radiation_interpolated = 1 << 3,
  humidity_from_rh_max = 1 << 4,        ///< FAO-56 Eq. 18
  humidity_from_rh_mean = 1 << 5,       ///< FAO-56 Eq. 19
  humidity_from_t_min = 1 << 6,         ///< FAO-56 Eq. 48
  radiation_from_sunshine = 1 << 7,     ///< FAO-56 Eq. 35
  radiation_from_temperature = 1 << 8,  ///< FAO-56 Eq. 50
  wind_assumed = 1 << 9,                ///< FAO-56 chapter 3: 2 m/s
};
/// The bits of all `Estimate`s of a day.
using Estimates = std::uint16_t;
/// Whether that one is among them.
[[nodiscard]] constexpr bool has(Estimates set, Estimate one) {
  return (set & static_cast<Estimates>(one)) != 0;
}
/// "humidity (Eq. 48); radiation (Eq. 50)", empty when nothing was estimated.
[[nodiscard]] std::string to_text(Estimates estimates);

/// How FAO-56 chapter 3 stands in for what was not measured.
struct CompletionRules {
  double k_rs_per_sqrt_c = 0.16;         ///< Eq. 50: 0.16 inland, 0.19 at the coast
  double dew_point_below_t_min_c = 0.0;  ///< Eq. 48: 0 in humid air, 2 in dry air
  AngstromCoefficients angstrom = fao56_angstrom;
  double u2_when_unknown_m_s = 2.0;  ///< chapter 3: the mean of over 2,000 stations
};

/// All that daily Penman-Monteith needs; every value finite. [days]
struct EtInputs {
  Date first_day{};
  Column t_max_c, t_min_c, ea_kpa, u2_m_s, rs_mj_m2_d;
  std::vector<Estimates> estimated;
};

/// Completes a daily series by FAO-56 chapter 3 (Eq. 35, 48, 50), choosing for each day the best
/// that was measured: vapour pressure, dew point, RHmax with RHmin, RHmax, RHmean, Tmin; radiation,
/// sunshine, temperature range; wind, 2 m/s.
/// @throws std::invalid_argument when a day has no Tmax or Tmin (fill_gaps refuses such a series),
/// or it is hourly.
[[nodiscard]] EtInputs complete(const WeatherSeries& daily, const Site& site,
                                const CompletionRules& rules);

/// All that hourly Penman-Monteith needs; every value finite. [hours], the first from 00:00 of
/// `first_day`
struct HourlyEtInputs {
  Date first_day{};
  std::chrono::minutes utc_offset{0};
  Column t_c, ea_kpa, u2_m_s, rs_mj_m2_h;
  std::vector<Estimates> estimated;
};
/// The same for hours: vapour pressure, dew point, the hour's humidity (Eq. 54), else Eq. 48 with
/// the day's coldest hour; wind, 2 m/s. Radiation must be measured while the sun is up.
/// @throws std::invalid_argument when an hour has no temperature or no radiation, or the series is
/// daily.
[[nodiscard]] HourlyEtInputs complete_hourly(const WeatherSeries& hourly, const Site& site,
                                             const CompletionRules& rules);

}  // namespace runnel

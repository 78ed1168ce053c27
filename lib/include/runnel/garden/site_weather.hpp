#pragma once

#include <optional>
#include <string>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/reference_et/inputs.hpp"
#include "runnel/units/column.hpp"

namespace runnel {

/// A daily stretch of weather as planning needs it. [days]
struct DailyWeather {
  Date first_day{};
  Column eto_mm, rain_mm;     ///< rain is 0 where it was not measured
  Column u2_m_s, rh_min_pct;  ///< for the climate adjustment of coefficients (FAO-56 Eq. 62, 65)
  std::vector<Estimates> estimated;
  /// What `eto_mm` was computed from, day for day; nothing when the file gives reference ET itself.
  std::optional<EtInputs> inputs;
  Eigen::Index days_without_rain_value = 0;
  [[nodiscard]] Eigen::Index days() const { return eto_mm.size(); }
  [[nodiscard]] Date last_day() const { return first_day + std::chrono::days{days() - 1}; }
};

/// What a garden's weather files hold, completed and turned into reference ET.
struct SiteWeather {
  DailyWeather observed;
  std::optional<DailyWeather> forecast;
};

/// Reads the garden's weather files and runs them through quality checks, gap filling, FAO-56
/// chapter 3 and Penman-Monteith; doubts and remarks are added to `findings`.
/// @throws InputError with all findings of the file that cannot be used.
[[nodiscard]] SiteWeather read_site_weather(const Garden& garden, std::vector<Finding>& findings);

/// Where the weather of a planned day comes from.
enum class DaySource { forecast, recent_mean };

/// The weather a plan assumes, day by day. [days]
struct AssumedWeather {
  Date first_day{};
  Column eto_mm, rain_mm;
  std::vector<DaySource> source;
  Eigen::Index recent_days = 0;  ///< observed days behind the recent mean, at most 7; 0 = not used
  double u2_m_s = 2.0, rh_min_pct = 45.0;  ///< means over the days behind it
  /// The observed days that end the day before, at most 60: what rain alone has left in the ground.
  Column eto_before_mm = {}, rain_before_mm = {};
  /// What reference ET was computed from: the forecast days of the plan, and the observed days
  /// behind the recent mean, each in their order. Nothing when not used, or when the file gives
  /// reference ET itself.
  std::optional<EtInputs> forecast_inputs = {}, recent_inputs = {};
};

/// The forecast where it reaches; after it the mean reference ET of the last seven observed days
/// before `from`, and no rain. Observed days from `from` on are not looked at. What was assumed is
/// remarked.
/// @throws InputError when neither a forecast nor an observed day before `from` is there.
[[nodiscard]] AssumedWeather assume_weather(const Garden& garden, const SiteWeather& weather,
                                            Date from, int days, std::vector<Finding>& findings);

}  // namespace runnel

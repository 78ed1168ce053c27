#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/reference_et/inputs.hpp"
#include "runnel/units/column.hpp"

namespace runnel {

/// What was estimated by a figure fitted to the site's measured days, in place of one for a word.
struct FittedEstimates {
  bool radiation = false;  ///< FAO-56 Eq. 50
  bool humidity = false;   ///< FAO-56 Eq. 48
};

/// A daily stretch of weather as planning needs it. [days]
struct DailyWeather {
  Date first_day{};
  Column eto_mm, rain_mm;     ///< rain is 0 where it was not measured
  Column u2_m_s, rh_min_pct;  ///< for the climate adjustment of coefficients (FAO-56 Eq. 62, 65)
  std::vector<Estimates> estimated;
  /// What `eto_mm` was computed from, day for day; nothing when the file gives reference ET itself.
  std::optional<EtInputs> inputs;
  Eigen::Index days_without_rain_value = 0;
  FittedEstimates fitted = {};
  /// How many days there are.
  [[nodiscard]] Eigen::Index days() const { return eto_mm.size(); }
  /// The last of them; the day before the first when there is none.
  [[nodiscard]] Date last_day() const { return first_day + std::chrono::days{days() - 1}; }
};

/// Days [first, first + days) of it.
[[nodiscard]] DailyWeather days_of(const DailyWeather& weather, Eigen::Index first,
                                   Eigen::Index days);

/// What a garden's weather files hold, completed and turned into reference ET.
struct SiteWeather {
  DailyWeather observed;
  std::optional<DailyWeather> forecast;
  std::vector<DailyWeather> record;  ///< past years, in stretches without a hole, in order of time
};

/// Reads the garden's weather files and runs them through quality checks, gap filling, FAO-56
/// chapter 3 and Penman-Monteith; doubts and remarks are added to `findings`. Where the garden file
/// does not state the site's setting or air, days without radiation or humidity go by those of the
/// record or the observed file that have it, if there are 30.
/// @throws InputError with all findings of the file that cannot be used.
[[nodiscard]] SiteWeather read_site_weather(const Garden& garden, std::vector<Finding>& findings);

/// Where the weather of a planned day comes from.
enum class DaySource { observed, forecast, record, recent_mean };
/// "observed", "forecast", "record", "recent mean".
[[nodiscard]] std::string_view to_text(DaySource source);

/// The weather a plan assumes, day by day [days], in one future or several.
struct AssumedWeather {
  Date first_day{};
  Column eto_mm, rain_mm;  ///< mean of the futures
  std::vector<DaySource> source;
  Eigen::Index recent_days = 0;  ///< observed days behind the recent mean, at most 7; 0 = not used
  double u2_m_s = 2.0, rh_min_pct = 45.0;  ///< means over the days behind it
  /// The observed days that end the day before, at most 60: what rain alone has left in the ground.
  Column eto_before_mm = {}, rain_before_mm = {};
  /// The days that futures are made of: forecast, observed or record, each stretch without a hole.
  std::vector<DailyWeather> stretches = {};
  /// [futures, days] Which row of the stretches, put end to end, a day is; one past the last: the
  /// mean of the recent rows, without rain. Empty: one future, as eto_mm and rain_mm say.
  Eigen::ArrayXXi row = {};
  Eigen::Index recent_first = 0;  ///< row of the first of the recent days

  /// How many there are, at least 1.
  [[nodiscard]] Eigen::Index futures() const { return std::max<Eigen::Index>(1, row.rows()); }
  [[nodiscard]] Eigen::Index rows() const;  ///< of all stretches
  /// [futures, days] from a value for each row; `of_mean` that of the recent mean.
  [[nodiscard]] Lanes by_future(const Column& by_row, double of_mean) const;
  /// [futures, days]
  [[nodiscard]] Lanes eto_by_future_mm() const;
  /// [futures, days]
  [[nodiscard]] Lanes rain_by_future_mm() const;
  /// Of the days behind it, on how many that was estimated.
  [[nodiscard]] Eigen::Index days_estimated(Estimate what) const;
  /// The forecast days among those planned; nullptr without.
  [[nodiscard]] const DailyWeather* forecast() const;
};

/// The forecast where it reaches; after it sequences of the record, each a future of its own;
/// without a record the mean reference ET of the last seven observed days before `from`, and no
/// rain. Observed and recorded days from `from` on are not looked at. What was assumed is remarked.
/// @throws InputError when none of them says anything of the days after the forecast.
[[nodiscard]] AssumedWeather assume_weather(const Garden& garden, const SiteWeather& weather,
                                            Date from, int days, std::vector<Finding>& findings);

/// What was observed from `first` on, as one future.
/// @throws std::invalid_argument when the observed days do not hold them all.
[[nodiscard]] AssumedWeather observed_weather(const SiteWeather& weather, Date first, int days);

}  // namespace runnel

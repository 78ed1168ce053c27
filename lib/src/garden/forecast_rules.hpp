#pragma once

#include <optional>
#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/site_weather.hpp"

namespace runnel {

/// What the forecast says of one day; nothing where it does not.
struct ForecastDay {
  std::optional<double> wind_m_s = {};  ///< mean, at 2 m
  std::optional<double> lowest_c = {};
};
[[nodiscard]] ForecastDay forecast_of(const AssumedWeather& weather, Date date);

/// The days of the week from `from` on which the rule forbids watering by the forecast, in order;
/// each is said in a doubt. Days that the forecast does not reach count as allowed, with a remark.
[[nodiscard]] std::vector<Date> shut_by_forecast(const WateringRule& rule, const Garden& garden,
                                                 const AssumedWeather& weather, Date from,
                                                 std::vector<Finding>& findings);

}  // namespace runnel

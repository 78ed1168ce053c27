#pragma once

#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/site_weather.hpp"

namespace runnel {

/// The days of the week from `from` on which the rule forbids watering by the forecast, in order;
/// remarked, and so are days that the forecast does not reach.
[[nodiscard]] std::vector<Date> shut_by_forecast(const WateringRule& rule, const Garden& garden,
                                                 const AssumedWeather& weather, Date from,
                                                 std::vector<Finding>& findings);

}  // namespace runnel

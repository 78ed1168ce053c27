#pragma once

#include <vector>

#include "runnel/garden/garden.hpp"
#include "runnel/garden/site_weather.hpp"

namespace runnel {

/// The days of the week from `from` on which the rule forbids watering by the forecast, in order;
/// each is said in a doubt. Days that the forecast does not reach count as allowed, with a remark.
[[nodiscard]] std::vector<Date> shut_by_forecast(const WateringRule& rule, const Garden& garden,
                                                 const AssumedWeather& weather, Date from,
                                                 std::vector<Finding>& findings);

}  // namespace runnel

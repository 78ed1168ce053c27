#include "forecast_rules.hpp"

#include <optional>
#include <string>

#include "runnel/units/calendar.hpp"
#include "runnel/units/number.hpp"

namespace runnel {
namespace {

constexpr int week_days = 7;

/// Why the rule forbids the day: "wind of 6.2 m/s on Tue 16 Jun"; empty when it does not.
std::string why_shut(const WateringRule& rule, const ForecastDay& day, Date date,
                     const Display& display) {
  if (rule.not_in_wind_above_m_s && day.wind_m_s && *day.wind_m_s > *rule.not_in_wind_above_m_s)
    return "mean wind of " + measure(display, Shown::speed, *day.wind_m_s, 1) + " at " +
           measure(display, Shown::height, 2.0, 0) + " on " + short_date(date);
  if (rule.not_below_c && day.lowest_c && *day.lowest_c < *rule.not_below_c)
    return "down to " + measure(display, Shown::temperature, *day.lowest_c, 1) + " on " +
           short_date(date);
  return {};
}

bool unknown(const WateringRule& rule, const ForecastDay& day) {
  return (rule.not_in_wind_above_m_s && !day.wind_m_s) || (rule.not_below_c && !day.lowest_c);
}

}  // namespace

ForecastDay forecast_of(const AssumedWeather& weather, Date date) {
  const DailyWeather* const forecast = weather.forecast();
  if (forecast == nullptr || !forecast->inputs) return {};
  const std::optional<EtInputs>& inputs = forecast->inputs;
  const Eigen::Index row = (date - inputs->first_day).count();
  if (row < 0 || row >= inputs->t_min_c.size()) return {};
  ForecastDay day{.wind_m_s = inputs->u2_m_s[row], .lowest_c = inputs->t_min_c[row]};
  const auto index = static_cast<std::size_t>(row);
  if (index < inputs->estimated.size() && has(inputs->estimated[index], Estimate::wind_assumed))
    day.wind_m_s.reset();
  return day;
}

std::vector<Date> shut_by_forecast(const WateringRule& rule, const Garden& garden,
                                   const AssumedWeather& weather, Date from,
                                   std::vector<Finding>& findings) {
  if (!rule.not_in_wind_above_m_s && !rule.not_below_c) return {};
  const auto say = [&](Finding::Kind kind, std::string says, std::string mend) {
    findings.push_back(
        {.kind = kind, .at = rule.at, .says = std::move(says), .mend = std::move(mend)});
  };
  std::vector<Date> shut;
  std::string reasons;
  int days_unknown = 0;
  for (int d = 0; d < week_days; ++d) {
    const Date date = from + std::chrono::days{d};
    const ForecastDay day = forecast_of(weather, date);
    if (const std::string why = why_shut(rule, day, date, garden.display); !why.empty()) {
      shut.push_back(date);
      reasons += (reasons.empty() ? "" : ", ") + why;
    } else if (unknown(rule, day)) {
      ++days_unknown;
    }
  }
  if (!reasons.empty())
    say(Finding::Kind::doubt, "no water by the forecast: " + reasons,
        "plan again when the forecast changes, and for next week: the timer goes on without these "
        "days");
  if (days_unknown > 0)
    say(Finding::Kind::remark,
        "the rule on wind or cold waits for a forecast on " + std::to_string(days_unknown) +
            " of " + std::to_string(week_days) + " days: they count as allowed",
        garden.weather.forecast ? "plan again when the forecast reaches them, with wind and "
                                  "temperature, and look out before watering"
                                : "give weather: forecast: ..., and look out before watering");
  return shut;
}

}  // namespace runnel

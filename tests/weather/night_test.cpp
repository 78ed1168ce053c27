#include "runnel/weather/night.hpp"

#include <cmath>

#include "runnel/weather/gaps.hpp"
#include "weather_support.hpp"

using namespace runnel;

namespace {

/// Two days at 38.7 N in June by local time, radiation left empty where `empty` says so.
template <class Empty>
WeatherSeries two_days(Empty empty) {
  std::string csv = "time,temp,radiation [MJ/m2]\n";
  for (int h = 0; h < 48; ++h) {
    const int hour = h % 24;
    csv += "2027-06-" + std::to_string(15 + h / 24) + "T" + (hour < 10 ? "0" : "") +
           std::to_string(hour) + ":00,20," + (empty(hour) ? "" : "1.5") + "\n";
  }
  return series_of(csv);
}

constexpr Site lisbon{.latitude_deg = 38.7, .longitude_deg = 0.0, .elevation_m = 95.0};

}  // namespace

TEST_SUITE("weather") {
  // Sunrise and sunset there on 15 June: sunset hour angle 110.5 degrees (FAO-56 Eq. 25), so the
  // sun is up from 4:38 to 19:22 solar time.
  TEST_CASE("night - hours without sun that a logger leaves empty are zero") {
    const auto night = [](int hour) { return hour < 4 || hour > 19; };
    CHECK(std::isnan(daily(two_days(night))[Variable::rs_mj_m2][0]));
    const WeatherSeries days = daily(with_dark_hours(two_days(night), lisbon));
    CHECK(days[Variable::rs_mj_m2][0] == 16 * 1.5);
    CHECK(days.origin(Variable::rs_mj_m2)[0] == Origin::summarised);
  }

  TEST_CASE("night - an hour of daylight without a value stays unknown") {
    const auto morning_too = [](int hour) { return hour < 5 || hour > 19; };
    const WeatherSeries hours = with_dark_hours(two_days(morning_too), lisbon);
    CHECK(hours[Variable::rs_mj_m2][3] == 0.0);
    CHECK(std::isnan(hours[Variable::rs_mj_m2][4]));  // the sun rises at 4:38
  }

  TEST_CASE("night - what was measured stays") {
    const WeatherSeries hours = two_days([](int) { return false; });
    CHECK(with_dark_hours(hours, lisbon)[Variable::rs_mj_m2][0] == 1.5);
  }

  TEST_CASE("night - in the polar night every hour is dark; on a polar day none") {
    const Site pole{.latitude_deg = 89.0, .longitude_deg = 0.0, .elevation_m = 0.0};
    const Site other_pole{.latitude_deg = -89.0, .longitude_deg = 0.0, .elevation_m = 0.0};
    const auto all = [](int) { return true; };
    CHECK(with_dark_hours(two_days(all), other_pole)[Variable::rs_mj_m2].sum() == 0.0);
    CHECK(with_dark_hours(two_days(all), pole)[Variable::rs_mj_m2].isNaN().all());
  }
}

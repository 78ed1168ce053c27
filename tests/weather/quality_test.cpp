#include "runnel/weather/quality.hpp"

#include <cmath>
#include <numbers>
#include <string>

#include "runnel/sky/radiation.hpp"
#include "runnel/units/number.hpp"
#include "weather_support.hpp"

using namespace runnel;

namespace {

constexpr Site lisbon{.latitude_deg = 38.72, .longitude_deg = -9.14, .elevation_m = 95.0};

std::string quality(const std::string& csv, const Site& site = lisbon,
                    const WeatherLayout& layout = {}) {
  return text_of(check_quality(series_of(csv, layout), site, "w.csv"));
}

/// Days from 2027-05-01 on; `row(i)` gives what stands after the date.
template <class RowText>
std::string days(const std::string& header, int count, RowText row) {
  std::string csv = "date," + header + "\n";
  for (int i = 0; i < count; ++i) {
    csv += iso_date(*parse_date("2027-05-01") + std::chrono::days{i}) + "," + row(i) + "\n";
  }
  return csv;
}

/// Radiation of a clear day times `share`.
std::string clear(int i, double share) {
  const int day = day_of_year(*parse_date("2027-05-01")) + i;
  return fixed(share * clear_sky_share(95.0) *
                   extraterrestrial_radiation_mj_m2_d(38.72 * std::numbers::pi / 180.0, day),
               3);
}

}  // namespace

TEST_SUITE("weather") {
  TEST_CASE("quality - ordinary weather has no findings") {
    CHECK(quality(days("tmax,tmin,tdew,rhmax,rhmin,wind,radiation,rain", 120, [](int i) {
            return std::to_string(24 + i % 7) + "," + std::to_string(12 + i % 5) + ",10," +
                   (i % 3 == 0 ? "96" : "85") + ",40," + (i % 2 == 0 ? "2.4" : "3.1") + "," +
                   clear(i, i % 4 == 0 ? 1.0 : 0.6) + ",0";
          })).empty());
  }

  // Physical limit; Ra of 38.72 N on 1 May is about 38.6 MJ m-2 d-1 (FAO-56 Eq. 21).
  TEST_CASE("quality - radiation above the top of the atmosphere is an error") {
    const std::string says =
        quality(days("radiation", 5, [](int i) { return i == 2 || i == 4 ? "45" : "20"; }));
    CHECK(says ==
          "w.csv:4: error: radiation is above what reaches the top of the atmosphere on 2 days, "
          "first 2027-05-03 "
          "(check the unit, the dates and the site's latitude)\n");
    CHECK(quality(days("radiation", 5, [](int) { return "37"; })).find("atmosphere") ==
          std::string::npos);
  }

  TEST_CASE("quality - radiation above a clear sky's on many days") {
    const auto with = [](double share) {
      return quality(
          days("radiation", 20, [share](int i) { return clear(i, i % 2 == 0 ? share : 0.6); }));
    };
    CHECK(contains(
        with(1.10),
        "doubt: radiation lies more than 5 % above a clear sky's on 10 days, first 2027-05-01"));
    CHECK_FALSE(contains(with(1.04), "clear sky's"));
  }

  TEST_CASE("quality - radiation that is never that of a clear sky, or far too dark") {
    CHECK(contains(
        quality(days("radiation", 60, [](int i) { return clear(i, i % 2 == 0 ? 0.8 : 0.5); })),
        "doubt: no day has a clear sky's radiation in 1 span of 60 days, the first from "
        "2027-05-01"));
    CHECK(contains(
        quality(days("radiation", 20, [](int i) { return clear(i, i % 4 == 0 ? 0.05 : 0.9); })),
        "doubt: radiation is below a tenth of a clear sky's on 5 days"));
    CHECK_FALSE(contains(
        quality(days("radiation", 20, [](int i) { return clear(i, i % 4 == 0 ? 0.2 : 0.9); })),
        "tenth"));
  }

  TEST_CASE("quality - sunshine longer than the day") {
    CHECK(
        contains(quality(days("sunshine", 3, [](int i) { return i == 1 ? "16" : "12"; })),
                 "w.csv:3: doubt: the sun shines longer than it is up on 1 day, first 2027-05-02"));
  }

  TEST_CASE("quality - humidity") {
    CHECK(
        contains(quality(days("rhmax,rhmin", 3, [](int i) { return i == 1 ? "40,90" : "90,40"; })),
                 "w.csv:3: error: rhmin is above rhmax on 1 day, first 2027-05-02"));
    CHECK(contains(quality(days("tmax,tmin,tdew", 3,
                                [](int i) { return i == 0 ? "30,12,13.1" : "29,13,13.9"; })),
                   "w.csv:2: doubt: the dew point lies more than 1 degC above tmin on 1 day"));
    // es of 30 and 20 degC: (4.243 + 2.338) / 2 = 3.29 kPa (FAO-56 Annex 2, Table 2.3).
    CHECK(contains(
        quality(days("tmax,tmin,ea", 2, [](int i) { return i == 0 ? "30,20,3.4" : "31,21,3.2"; })),
        "w.csv:2: doubt: the vapour pressure is above saturation on 1 day"));
    CHECK(contains(quality(days("rhmax", 100, [](int i) { return std::to_string(60 + i % 20); })),
                   "doubt: rhmax never passes 79 % in 100 days"));
    CHECK_FALSE(contains(quality(days("rhmax", 100, [](int i) { return i == 50 ? "97" : "70"; })),
                         "passes"));
  }

  TEST_CASE("quality - temperature range and mean") {
    const std::string says = quality(days("tmax,tmin,tmean", 3, [](int i) {
      return i == 0 ? "20,19.8,19.9" : i == 1 ? "38,5,20" : "25,12,27";
    }));
    CHECK(contains(
        says,
        "w.csv:2: doubt: tmax and tmin are less than 0.5 degC apart on 1 day, first 2027-05-01"));
    CHECK(contains(
        says,
        "w.csv:3: doubt: tmax and tmin are more than 30 degC apart on 1 day, first 2027-05-02"));
    CHECK(contains(
        says,
        "w.csv:4: doubt: tmean does not lie between tmin and tmax on 1 day, first 2027-05-03"));
  }

  TEST_CASE("quality - wind that is calm or stands still") {
    CHECK(contains(quality(days("wind", 10, [](int i) { return i % 2 == 0 ? "0.2" : "0.5"; })),
                   "w.csv:2: doubt: the mean wind is 0.35 m/s over 10 days"));
    CHECK_FALSE(contains(
        quality(days("wind", 10, [](int i) { return i % 2 == 0 ? "0.4" : "0.7"; })), "mean wind"));
    const std::string stuck = quality(
        days("wind", 10, [](int i) { return i >= 3 && i < 8 ? "2" : std::to_string(3 + i); }));
    CHECK(contains(stuck,
                   "w.csv:5: doubt: wind stands still for 4 days or more 1 time, first from "
                   "2027-05-04, at most for 5 days"));
    CHECK(quality(days("wind", 10, [](int i) { return std::to_string(2 + i / 3); })).empty());
  }

  TEST_CASE("quality - what is missing is remarked") {
    CHECK(quality("date,tmax,tmin\n2027-05-01,25,12\n2027-05-03,26,\n2027-05-04,27,13\n") ==
          "w.csv:2: remark: there is no row on 1 day, first 2027-05-02\n"
          "w.csv:3: remark: tmin is missing on 1 day, first 2027-05-03\n");
  }

  TEST_CASE("quality - reference ET of another unit or crop") {
    CHECK(contains(quality(days("eto", 2, [](int i) { return i == 0 ? "16" : "6"; })),
                   "reference_et is above 15 mm on 1 day"));
  }

  TEST_CASE("quality - an hourly clock that is not the sun's") {
    // A sun that culminates at `noon` by the clock. At 9.14 W and UTC+0 it does about 12.55 in June
    // (FAO-56 Eq. 31).
    const auto says = [](double noon, bool label_is_end) {
      std::string csv = "time,radiation,tdew,temp\n";
      for (int h = 0; h < 10 * 24; ++h) {
        const double x = (h % 24 + 0.5 - noon) / 7.0;
        const int hour = h % 24;
        csv += "2027-06-" + std::to_string(10 + h / 24) + "T" + (hour < 10 ? "0" : "") +
               std::to_string(hour) + ":00," + fixed(x * x < 1.0 ? 3.3 * (1.0 - x * x) : 0.0, 4) +
               ",12," + std::to_string(15 + h % 5) + "\n";
      }
      WeatherLayout layout;
      layout.hour_label_is_end = label_is_end;
      return quality(csv, lisbon, layout);
    };
    CHECK(says(12.6, false).empty());
    CHECK(contains(says(13.6, false), "radiation 1.0 h after solar noon"));
    CHECK(contains(says(12.6, true), "radiation 1.0 h before solar noon"));
    CHECK(says(13.6, true).empty());
  }

  TEST_CASE("quality - hours: dew point above the air, readings that stand still") {
    std::string csv = "time,temp,tdew,wind\n";
    for (int h = 0; h < 24; ++h) {
      csv += "2027-06-15T" + std::string(h < 10 ? "0" : "") + std::to_string(h) + ":00," +
             std::to_string(15 + h % 5) + (h == 7 ? ",19" : ",10") +
             (h >= 10 && h < 16 ? ",0" : "," + std::to_string(1 + h % 3)) + "\n";
    }
    const std::string says = quality(csv);
    CHECK(contains(says,
                   "w.csv:9: doubt: the dew point lies above the air temperature in 1 hour, first "
                   "2027-06-15 07:00"));
    CHECK(contains(says,
                   "w.csv:12: doubt: wind stands still for 6 hours or more 1 time, first from "
                   "2027-06-15 10:00"));
  }
}

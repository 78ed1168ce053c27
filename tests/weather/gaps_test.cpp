#include "runnel/weather/gaps.hpp"

#include <cmath>
#include <string>

#include "support/near.hpp"
#include "weather_support.hpp"

using namespace runnel;
using V = Variable;

namespace {

std::string filled_findings(std::string_view csv) {
  return text_of(fill_gaps(series_of(csv), "w.csv").findings);
}

WeatherSeries filled(std::string_view csv) {
  Read<WeatherSeries> read = fill_gaps(series_of(csv), "w.csv");
  INFO(text_of(read.findings));
  REQUIRE(read.value.has_value());
  return *read.value;
}

/// Hours of `days` days from 00:00 of 2027-06-15; `row` gives what stands after the time.
template <class RowText>
std::string hourly(const std::string& header, int from, int to, RowText row) {
  std::string csv = header + "\n";
  for (int h = from; h < to; ++h) {
    const int hour = h % 24;
    csv += "2027-06-" + std::to_string(15 + h / 24) + "T" + (hour < 10 ? "0" : "") +
           std::to_string(hour) + ":00," + row(h) + "\n";
  }
  return csv;
}

}  // namespace

TEST_SUITE("weather") {
  TEST_CASE("gaps - two days are filled by a straight line and flagged") {
    const WeatherSeries s =
        filled("date,tmax,tmin,wind\n2027-06-01,20,10,2\n2027-06-02,NA,10,\n2027-06-04,26,10,5\n");
    REQUIRE(s.rows() == 4);
    CHECK(s[V::t_max_c][1] == near(22.0, 1e-12));
    CHECK(s[V::t_max_c][2] == near(24.0, 1e-12));
    CHECK(s[V::wind_m_s][1] == near(3.0, 1e-12));
    CHECK(s[V::wind_m_s][2] == near(4.0, 1e-12));
    CHECK(s.origin(V::t_max_c)[0] == Origin::observed);
    CHECK(s.origin(V::t_max_c)[1] == Origin::interpolated);
    CHECK(s.origin(V::t_max_c)[2] == Origin::interpolated);
    CHECK(s.origin(V::t_min_c)[1] == Origin::observed);
    CHECK(s.origin(V::t_min_c)[2] == Origin::interpolated);
  }

  TEST_CASE("gaps - a longer gap in temperature is an error, in wind it stays") {
    const std::string csv =
        "date,tmax,tmin,wind\n2027-06-01,20,10,2\n2027-06-02,,11,\n2027-06-03,,11,\n2027-06-04,,11,"
        "\n2027-06-05,26,10,5\n";
    const std::string says = filled_findings(csv);
    CHECK(contains(says, "w.csv:3: error: no tmax from 2027-06-02 to 2027-06-04"));
    CHECK_FALSE(contains(says, "wind"));

    const WeatherSeries s = filled(
        "date,tmax,tmin,wind\n2027-06-01,20,10,2\n2027-06-02,20,11,\n2027-06-03,21,11,\n"
        "2027-06-04,22,11,\n2027-06-05,26,10,5\n");
    for (const int i : {1, 2, 3}) {
      CHECK(std::isnan(s[V::wind_m_s][i]));
      CHECK(s.origin(V::wind_m_s)[static_cast<std::size_t>(i)] == Origin::missing);
    }
  }

  TEST_CASE("gaps - nothing is known beyond either end") {
    CHECK(contains(filled_findings("date,tmax,tmin\n2027-06-01,,10\n2027-06-02,20,10\n"),
                   "w.csv:2: error: no tmax on 2027-06-01"));
    CHECK(contains(filled_findings("date,tmax,tmin\n2027-06-01,20,10\n2027-06-02,20,NA\n"),
                   "w.csv:3: error: no tmin on 2027-06-02"));
    const WeatherSeries s = filled("date,tmax,tmin,wind\n2027-06-01,20,10,\n2027-06-02,20,10,2\n");
    CHECK(std::isnan(s[V::wind_m_s][0]));
  }

  TEST_CASE("gaps - several gaps make one finding") {
    const std::string says = filled_findings(
        "date,tmax,tmin\n2027-06-01,20,10\n2027-06-05,20,10\n2027-06-09,20,10\n2027-06-13,20,10\n");
    CHECK(contains(says, "no tmax from 2027-06-02 to 2027-06-04, and 2 such gaps more"));
    CHECK(contains(says, "no tmin from 2027-06-02 to 2027-06-04, and 2 such gaps more"));
  }

  TEST_CASE("gaps - rain is never filled") {
    const Read<WeatherSeries> read = fill_gaps(
        series_of(
            "date,tmax,tmin,rain\n2027-06-01,20,10,5\n2027-06-02,20,10,\n2027-06-03,20,10,5\n"),
        "w.csv");
    REQUIRE(read.value.has_value());
    CHECK(std::isnan((*read.value)[V::rain_mm][1]));
    CHECK(text_of(read.findings) ==
          "w.csv:3: remark: rain is missing on 1 day, first 2027-06-02, and counts as none\n");
  }

  TEST_CASE("gaps - temperature is needed unless reference ET is given") {
    CHECK(contains(filled_findings("date,tmax,rain\n2027-06-01,20,0\n"),
                   "error: there is no column tmin"));
    CHECK(contains(filled_findings("date,rain\n2027-06-01,3\n"), "error: there is no column tmax"));
    CHECK(filled_findings("date,reference_et\n2027-06-01,5\n2027-06-02,6\n").empty());
  }

  TEST_CASE("gaps - hours are filled up to three") {
    const auto row = [](int missing) {
      return hourly("time,temp", 0, 24, [missing](int h) {
        return h >= 5 && h < 5 + missing ? "" : std::to_string(h);
      });
    };
    const WeatherSeries s = filled(row(3));
    for (const int h : {5, 6, 7}) {
      CHECK(s[V::t_mean_c][h] == near(h, 1e-12));
      CHECK(s.origin(V::t_mean_c)[static_cast<std::size_t>(h)] == Origin::interpolated);
    }
    CHECK(contains(filled_findings(row(4)),
                   "w.csv:7: error: no tmean from 2027-06-15 05:00 to 2027-06-15 08:00"));
  }

  TEST_CASE("gaps - a day that begins late is left out") {
    const Read<WeatherSeries> read = fill_gaps(
        series_of(hourly("time,temp", 7, 60, [](int h) { return std::to_string(h % 24); })),
        "w.csv");
    REQUIRE(read.value.has_value());
    CHECK(contains(text_of(read.findings),
                   "w.csv:2: remark: 2027-06-15 has only 17 hours and is left out"));
    CHECK(iso_date(read.value->first_day) == "2027-06-16");
    CHECK(read.value->rows() == 36);
    CHECK(read.value->lines.front() == 19);
    CHECK((*read.value)[V::t_mean_c][0] == 0.0);
    CHECK(contains(filled_findings("time,temp\n2027-06-15T05:00,20\n2027-06-15T06:00,20\n"),
                   "error: the file does not hold one whole day"));
  }

  TEST_CASE("daily - days from hours") {
    // Two whole days and five hours; temperature = hour, rain 1 mm an hour, radiation 0.5 MJ an
    // hour.
    const std::string csv =
        hourly("time,temp,rh,ea [kPa],tdew,wind,rs,sunshine [min],rain,eto", 0, 53, [](int h) {
          const int hour = h % 24;
          return std::to_string(hour) + "," + std::to_string(40 + hour) + ",1.5," +
                 (hour < 12 ? "5" : "7") + "," + (hour < 6 ? "0" : "4") + ",0.5," +
                 (hour == 12 ? "30" : "0") + ",1,0.25";
        });
    const WeatherSeries d = daily(series_of(csv));
    CHECK(d.step == Step::day);
    CHECK(iso_date(d.first_day) == "2027-06-15");
    REQUIRE(d.rows() == 2);
    CHECK(d.lines == std::vector<int>{2, 26});
    for (const int i : {0, 1}) {
      CHECK(d[V::t_max_c][i] == 23.0);
      CHECK(d[V::t_min_c][i] == 0.0);
      CHECK(d[V::t_mean_c][i] == near(11.5, 1e-12));
      CHECK(d[V::rh_max_pct][i] == 63.0);
      CHECK(d[V::rh_min_pct][i] == 40.0);
      CHECK(d[V::rh_mean_pct][i] == near(51.5, 1e-12));
      CHECK(d[V::ea_kpa][i] == near(1.5, 1e-12));
      CHECK(d[V::t_dew_c][i] == near(6.0, 1e-12));
      CHECK(d[V::wind_m_s][i] == near(3.0, 1e-12));
      CHECK(d[V::rs_mj_m2][i] == near(12.0, 1e-12));
      CHECK(d[V::sunshine_h][i] == near(0.5, 1e-12));
      CHECK(d[V::rain_mm][i] == near(24.0, 1e-12));
      CHECK(d[V::eto_mm][i] == near(6.0, 1e-12));
      CHECK(d.origin(V::t_max_c)[static_cast<std::size_t>(i)] == Origin::summarised);
    }
  }

  TEST_CASE("daily - a missing hour makes the day missing in that column, but not its rain") {
    const std::string csv = hourly("time,temp,wind,rain", 0, 48, [](int h) {
      return std::to_string(h % 24) + "," + (h == 30 ? "" : "2") + "," + (h == 30 ? "" : "1");
    });
    const WeatherSeries d = daily(series_of(csv));
    REQUIRE(d.rows() == 2);
    CHECK(d[V::wind_m_s][0] == 2.0);
    CHECK(std::isnan(d[V::wind_m_s][1]));
    CHECK(d.origin(V::wind_m_s)[1] == Origin::missing);
    CHECK(d[V::rain_mm][1] == 23.0);
    CHECK(d[V::t_max_c][1] == 23.0);
  }

  TEST_CASE("daily - a day made with a filled hour says so") {
    const WeatherSeries hours = filled(hourly("time,temp", 0, 48, [](int h) {
      return h == 30 ? std::string() : std::to_string(h % 24);
    }));
    const WeatherSeries d = daily(hours);
    CHECK(d.origin(V::t_max_c)[0] == Origin::summarised);
    CHECK(d.origin(V::t_max_c)[1] == Origin::interpolated);
  }

  TEST_CASE("daily - less than a day gives no row, days are returned as they are") {
    CHECK(daily(series_of(hourly("time,temp", 3, 20, [](int) { return "1"; }))).rows() == 0);
    const WeatherSeries d = daily(series_of(hourly("time,temp", 3, 48, [](int) { return "1"; })));
    REQUIRE(d.rows() == 1);
    CHECK(iso_date(d.first_day) == "2027-06-16");
    const WeatherSeries days = series_of("date,tmax\n2027-06-01,20\n");
    CHECK(daily(days)[V::t_max_c][0] == 20.0);
  }
}

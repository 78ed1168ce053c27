#include <cmath>
#include <string>
#include <vector>

#include "weather_support.hpp"

using namespace runnel;
using V = Variable;

namespace {

WeatherLayout by_end() {
  WeatherLayout layout;
  layout.hour_label_is_end = true;
  return layout;
}

std::string dates(const std::vector<std::string>& labels, const std::string& header = "date") {
  std::string csv = header + ",tmax [degC]\n";
  for (const std::string& label : labels) csv += label + ",20\n";
  return csv;
}

std::string times(const std::vector<std::string>& labels) { return dates(labels, "time"); }

}  // namespace

TEST_SUITE("weather") {
  TEST_CASE("time axis - days left out become rows of missing values, across New Year") {
    const WeatherSeries s = series_of("date,tmax [degC]\n2027-12-30,10\n2028-01-02,13\n");
    REQUIRE(s.rows() == 4);
    CHECK(s.lines == std::vector<int>{2, 0, 0, 3});
    CHECK(std::isnan(s[V::t_max_c][1]));
    CHECK(std::isnan(s[V::t_max_c][2]));
    CHECK(s[V::t_max_c][3] == 13.0);
    CHECK(iso_date(s.date_of(3)) == "2028-01-02");
  }

  TEST_CASE("time axis - one row, leap days, years with two faces") {
    CHECK(series_of(dates({"2028-02-29"})).rows() == 1);
    CHECK(series_of(dates({"2028-02-28", "2028-02-29", "2028-03-01"})).rows() == 3);
    CHECK(errors_of(dates({"2027-02-28", "2027-02-29"})) ==
          "w.csv:3:1: error: \"2027-02-29\": there is no such day (correct the date)\n");
    CHECK(contains(errors_of(dates({"2100-02-29"})), "there is no such day"));
    CHECK(contains(errors_of(dates({"2027-06-31"})), "there is no such day"));
  }

  TEST_CASE("time axis - dates that are not written as dates") {
    CHECK(contains(errors_of(dates({"15.06.2027"})),
                   "w.csv:2:1: error: \"15.06.2027\" is not a date"));
    for (const char* text : {"", "today", "2027-6-1", "2027-06", "20270615", "2027-06-155",
                             "-2027-06-15", "2027/06/15"}) {
      CAPTURE(text);
      CHECK(contains(errors_of(dates({text})), "is not a date"));
    }
    CHECK(contains(errors_of(dates({"x", "2027-06-15", "y"})),
                   "\"x\" is not a date, and so in 1 row more"));
  }

  TEST_CASE("time axis - the header says how dates are written") {
    CHECK(iso_date(series_of(dates({"15.06.2027"}, "date [DD.MM.YYYY]")).first_day) ==
          "2027-06-15");
    CHECK(iso_date(series_of(dates({"6/5/2027"}, "Date (MM/DD/YYYY)")).first_day) == "2027-06-05");
    CHECK(contains(errors_of(dates({"2027-06-15"}, "date [DD.MM.YYYY]")),
                   "write it as the header says: DD.MM.YYYY"));
  }

  TEST_CASE("time axis - year, month and day in columns of their own") {
    const WeatherSeries s = series_of("YEAR,MONTH,DAY,tmax\n2027,06,30,20\n2027,7,1,21\n");
    CHECK(s.rows() == 2);
    CHECK(iso_date(s.first_day) == "2027-06-30");
    CHECK(contains(errors_of("year,month,day,tmax\n2027,2,30,20\n"),
                   "w.csv:2:1: error: \"2027-2-30\": there is no such day"));
    CHECK(
        contains(errors_of("year,month,day,tmax\n2027,June,30,20\n"), "is no year, month and day"));
    CHECK(contains(errors_of("year,month,tmax\n2027,6,20\n"), "no column says which day a row is"));
    const WeatherSeries h = series_of("year,month,day,hour,temp\n2027,6,15,0,20\n2027,6,15,1,21\n");
    CHECK(h.step == Step::hour);
    CHECK(h[V::t_mean_c][1] == 21.0);
    const WeatherSeries e =
        series_of("year,month,day,hour,temp\n2027,6,15,1,20\n2027,6,15,2,21\n", by_end());
    CHECK(e[V::t_mean_c][0] == 20.0);
    CHECK(contains(errors_of("year,month,day,hour,temp\n2027,6,15,25,20\n"),
                   "\"25\" is no time of day"));
  }

  TEST_CASE("time axis - twice, and out of order") {
    CHECK(errors_of(dates({"2027-06-15", "2027-06-16", "2027-06-15"})) ==
          "w.csv:4:1: error: 2027-06-15 stands in the file twice, first in line 2 "
          "(keep one row for each, and one place in a file)\n");
    CHECK(errors_of(dates({"2027-06-15", "2027-06-18", "2027-06-16", "2027-06-17"})) ==
          "w.csv:4:1: error: 2027-06-16 comes after a later row, and so in 1 row more (sort the "
          "rows, the oldest first)\n");
  }

  TEST_CASE("time axis - years far off are refused and cost nothing") {
    CHECK(
        contains(errors_of(dates({"0001-01-01", "2027-06-15"})), "outside the years 1800 to 2299"));
    CHECK(
        contains(errors_of(dates({"2027-06-15", "9999-12-31"})), "outside the years 1800 to 2299"));
    CHECK(contains(errors_of(dates({"1900-01-01", "2200-01-01"})),
                   "w.csv:3:1: error: the file spans more than 100 years"));
    CHECK(contains(errors_of(times({"1900-01-01T00:00", "1900-01-01T01:00", "2200-01-01T01:00"})),
                   "more than 100 years"));
    CHECK(series_of(dates({"1950-01-01", "2049-12-31"})).rows() == 36525);
  }

  TEST_CASE("time axis - hours by their beginning") {
    for (const char* second :
         {"2027-06-15T05:00", "2027-06-15 05:00", "2027-06-15T05:00:00", "2027-06-15T05:00:00.000",
          "2027-06-15 5:00", "2027-06-15T05:00Z", "2027-06-15T05:00+00:00"}) {
      CAPTURE(second);
      const WeatherSeries s =
          series_of("time,temp\n2027-06-15T04:00,14\n" + std::string(second) + ",15\n");
      CHECK(s.step == Step::hour);
      REQUIRE(s.rows() == 6);
      CHECK(s[V::t_mean_c][4] == 14.0);
      CHECK(s[V::t_mean_c][5] == 15.0);
      CHECK(std::isnan(s[V::t_mean_c][0]));
      CHECK(s.lines == std::vector<int>{0, 0, 0, 0, 2, 3});
    }
  }

  TEST_CASE("time axis - hours by their end, 24:00 closes the day") {
    const std::string csv =
        "time,temp\n2027-12-31T23:00,22\n2027-12-31T24:00,23\n2028-01-01T01:00,0\n2028-01-01T02:00,"
        "1\n";
    const WeatherSeries s = series_of(csv, by_end());
    REQUIRE(s.rows() == 26);
    CHECK(iso_date(s.first_day) == "2027-12-31");
    CHECK(s[V::t_mean_c][22] == 22.0);
    CHECK(s[V::t_mean_c][23] == 23.0);
    CHECK(s[V::t_mean_c][24] == 0.0);
    CHECK(iso_date(s.date_of(24)) == "2028-01-01");
    CHECK_FALSE(contains(findings_of(csv, by_end()), "doubt"));
    CHECK(contains(findings_of(csv),
                   "w.csv:3:1: doubt: hours that are called 24 are usually labelled by their end"));
    // 00:00 as an end is the last hour of the day before.
    const WeatherSeries m =
        series_of("time,temp\n2027-06-15T00:00,23\n2027-06-15T01:00,0\n", by_end());
    CHECK(iso_date(m.first_day) == "2027-06-14");
    CHECK(m[V::t_mean_c][23] == 23.0);
  }

  TEST_CASE("time axis - date and time of day in two columns") {
    const WeatherSeries s = series_of("date,time,temp\n2027-06-15,00:00,20\n2027-06-15,01:00,21\n");
    CHECK(s.step == Step::hour);
    CHECK(s[V::t_mean_c][1] == 21.0);
    CHECK(contains(errors_of("date,time,temp\n2027-06-15,00:00,20\n2027-06-15,noon,21\n"),
                   "\"noon\" is no time of day"));
  }

  TEST_CASE("time axis - midnights alone are days") {
    const WeatherSeries s = series_of(times({"2027-06-15 00:00:00", "2027-06-16 00:00:00"}));
    CHECK(s.step == Step::day);
    CHECK(s.rows() == 2);
  }

  TEST_CASE("time axis - other steps are refused") {
    CHECK(contains(
        errors_of(times({"2027-06-15T00:00", "2027-06-15T00:30", "2027-06-15T01:00"})),
        "w.csv:3:1: error: rows stand 30 minutes apart; Runnel reads days or whole hours"));
    CHECK(contains(errors_of(times({"2027-06-15T00:00", "2027-06-15T03:00", "2027-06-15T06:00"})),
                   "most rows stand more than an hour apart (such as 3 hours)"));
    CHECK(contains(errors_of(times({"2027-06-15T00:20", "2027-06-15T01:20"})),
                   "2027-06-15 00:20 is not a whole hour"));
    CHECK(contains(errors_of(times({"2027-06-15T00:00", "2027-06-15", "2027-06-15T02:00"})),
                   "a date without a time of day, in an hourly file"));
  }

  TEST_CASE("time axis - times of day that cannot be read") {
    for (const char* text :
         {"2027-06-15T25:00", "2027-06-15T04:60", "2027-06-15T04:00:30", "2027-06-15T4:00 PM",
          "2027-06-15T04:00+1", "2027-06-15T04:00+", "2027-06-15T:", "2027-06-15T04:00+01:0x"}) {
      CAPTURE(text);
      CHECK_FALSE(errors_of(times({text})).empty());
    }
  }

  TEST_CASE("time axis - a stated offset must be the layout's") {
    WeatherLayout layout;
    layout.utc_offset = std::chrono::minutes(-480);
    CHECK(errors_of(times({"2027-06-15T04:00-08:00", "2027-06-15T05:00-0800"}), layout).empty());
    CHECK(contains(errors_of(times({"2027-06-15T04:00Z"}), layout),
                   "is on a clock of UTC+00:00, but this file's clock is taken to be UTC-08:00"));
  }

  TEST_CASE("time axis - clocks that observe daylight saving") {
    const std::string autumn =
        errors_of(times({"2027-10-31T00:00", "2027-10-31T01:00", "2027-10-31T02:00",
                         "2027-10-31T02:00", "2027-10-31T03:00"}));
    CHECK(contains(autumn,
                   "w.csv:5:1: error: 2027-10-31 02:00 stands in the file twice, first in line 4"));
    CHECK(contains(autumn, "this looks like a clock with daylight saving"));
    const std::string spring = findings_of(
        times({"2027-03-28T00:00", "2027-03-28T01:00", "2027-03-28T03:00", "2027-03-28T04:00"}));
    CHECK(contains(
        spring,
        "w.csv:4:1: doubt: one hour is left out before 2027-03-28 03:00 (this looks like a clock"));
    CHECK_FALSE(contains(
        findings_of(times({"2027-06-28T00:00", "2027-06-28T01:00", "2027-06-28T03:00"})), "doubt"));
    CHECK_FALSE(
        contains(errors_of(times({"2027-10-31T12:00", "2027-10-31T12:00"})), "daylight saving"));
  }
}

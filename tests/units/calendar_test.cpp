#include "runnel/units/calendar.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <stdexcept>
#include <string>

using runnel::Date;
using runnel::iso_date;
using runnel::parse_clock;
using runnel::parse_date;
using runnel::parse_weekday;
using runnel::WallTime;

namespace {

Date date(const char* text) { return parse_date(text).value(); }

}  // namespace

TEST_SUITE("units") {
  TEST_CASE("calendar - dates read and written") {
    for (const char* text :
         {"2027-06-15", "2024-02-29", "2000-02-29", "1970-01-01", "0001-01-01", "9999-12-31"}) {
      CHECK(iso_date(date(text)) == text);
    }
    CHECK(date("1970-01-01").time_since_epoch().count() == 0);
    CHECK(date("2027-06-15") + std::chrono::days(20) == date("2027-07-05"));
  }

  TEST_CASE("calendar - what is no date is nothing") {
    for (const char* text :
         {"", "2027-02-29", "1900-02-29", "2027-13-01", "2027-00-10", "2027-04-31", "2027-04-00",
          "27-04-01", "2027-4-1", "2027/04/01", "2027-04-01 ", " 2027-04-01", "2027-04-01T00:00",
          "+027-04-01", "2027-+4-01", "2027-04--1", "2027-04-1x", "15.06.2027", "20270615"}) {
      CAPTURE(text);
      CHECK_FALSE(parse_date(text));
    }
    CHECK_FALSE(parse_date(std::string(1'000'000, '2')));
  }

  TEST_CASE("calendar - day of the year") {
    CHECK(runnel::day_of_year(date("2027-01-01")) == 1);
    CHECK(runnel::day_of_year(date("2027-12-31")) == 365);
    CHECK(runnel::day_of_year(date("2024-12-31")) == 366);
    CHECK(runnel::day_of_year(date("2024-03-01")) == 61);
    CHECK(runnel::day_of_year(date("2023-09-03")) == 246);  // FAO-56 Example 8
    CHECK(runnel::year_of(date("2024-03-01")) == 2024);
    CHECK(runnel::month_of(date("2024-03-01")) == 3);
    CHECK(runnel::day_of_month(date("2024-03-09")) == 9);
  }

  TEST_CASE("calendar - weekdays") {
    // 1 January 2000 was a Saturday, 15 June 2027 is a Tuesday.
    CHECK(runnel::weekday_index(date("2000-01-01")) == 5);
    CHECK(runnel::weekday_index(date("2027-06-15")) == 1);
    CHECK(runnel::weekday_index(date("2027-06-20")) == 6);
    CHECK(runnel::short_date(date("2027-06-15")) == "Tue 15 Jun");
    CHECK(runnel::short_date(date("2000-01-01")) == "Sat 1 Jan");
    CHECK(runnel::weekday_name(0) == "Mon");
    CHECK(runnel::weekday_name(6) == "Sun");
    CHECK_THROWS_AS((void)runnel::weekday_name(7), std::invalid_argument);
    CHECK_THROWS_AS((void)runnel::weekday_name(-1), std::invalid_argument);
    for (int i = 0; i < 7; ++i) CHECK(parse_weekday(runnel::weekday_name(i)) == i);
    CHECK(parse_weekday("monday") == 0);
    CHECK(parse_weekday("SUNDAY") == 6);
    CHECK(parse_weekday("thurs") == 3);
    for (const char* text : {"", "m", "mo", "mondays", "funday", "mon ", "wednesdayx"}) {
      CAPTURE(text);
      CHECK_FALSE(parse_weekday(text));
    }
  }

  TEST_CASE("calendar - clock times") {
    CHECK(parse_clock("04:30") == WallTime(270));
    CHECK(parse_clock("4:30") == WallTime(270));
    CHECK(parse_clock("00:00") == WallTime(0));
    CHECK(parse_clock("23:59") == WallTime(1439));
    CHECK(parse_clock("24:00") == WallTime(1440));
    for (const char* text : {"", ":", "24:01", "25:00", "12:60", "12", "1230", "12:3", "12:300",
                             "004:30", "-1:30", "+1:30", "1 :30", "04:30 ", "04:30:00", "4.30"}) {
      CAPTURE(text);
      CHECK_FALSE(parse_clock(text));
    }
    CHECK(runnel::clock(WallTime(270)) == "04:30");
    CHECK(runnel::clock(WallTime(1440)) == "00:00");
    CHECK(runnel::clock(WallTime(1470)) == "00:30");
    CHECK(runnel::clock(WallTime(-30)) == "23:30");
  }
}

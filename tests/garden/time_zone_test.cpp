#include "runnel/garden/time_zone.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <optional>
#include <stdexcept>
#include <string>

using runnel::clock_change;
using runnel::Date;
using runnel::is_time_zone;
using runnel::nearest_time_zone;
using runnel::standard_utc_offset;
using runnel::utc_offset_at_noon;
using runnel::utc_offsets;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

Date day(int year, unsigned month, unsigned day_of_month) {
  return Date(std::chrono::year(year) / std::chrono::month(month) / std::chrono::day(day_of_month));
}

}  // namespace

// Offsets and rules of 2026-2027: IANA tz database.
TEST_SUITE("garden") {
  TEST_CASE("time zone - names") {
    CHECK(is_time_zone("Europe/Lisbon"));
    CHECK(is_time_zone("Etc/UTC"));
    CHECK_FALSE(is_time_zone("Europe/Lisboa"));
    CHECK_FALSE(is_time_zone("Lisbon"));
    CHECK_FALSE(is_time_zone(""));
    CHECK_FALSE(is_time_zone("../../etc/passwd"));
    CHECK_FALSE(is_time_zone("Europe"));
  }

  TEST_CASE("time zone - the name that was meant") {
    CHECK(nearest_time_zone("Lisbon") == "Europe/Lisbon");
    CHECK(nearest_time_zone("new york") == "America/New_York");
    CHECK(nearest_time_zone("europe/lisbon") == "Europe/Lisbon");
    CHECK(nearest_time_zone("Europe/Lisboan") == "Europe/Lisbon");
    CHECK(nearest_time_zone("my garden") == std::nullopt);
    CHECK(nearest_time_zone("") == std::nullopt);
  }

  TEST_CASE("time zone - standard offset on both halves of the earth") {
    CHECK(standard_utc_offset("Europe/Lisbon", 2027) == minutes(0));
    // The database calls Dublin's winter the saving time.
    CHECK(standard_utc_offset("Europe/Dublin", 2027) == minutes(0));
    CHECK(standard_utc_offset("Australia/Adelaide", 2027) == minutes(9 * 60 + 30));
    CHECK(standard_utc_offset("Asia/Kolkata", 2027) == minutes(5 * 60 + 30));
    CHECK(standard_utc_offset("Australia/Lord_Howe", 2027) == minutes(10 * 60 + 30));
    CHECK(standard_utc_offset("America/St_Johns", 2027) == minutes(-3 * 60 - 30));
    CHECK(standard_utc_offset("Etc/UTC", 2027) == minutes(0));
  }

  TEST_CASE("time zone - offset of a day") {
    CHECK(utc_offset_at_noon("Europe/Dublin", day(2027, 1, 15)) == minutes(0));
    CHECK(utc_offset_at_noon("Europe/Dublin", day(2027, 7, 15)) == hours(1));
    CHECK(utc_offset_at_noon("Australia/Adelaide", day(2027, 1, 15)) == minutes(10 * 60 + 30));
    CHECK(utc_offset_at_noon("Australia/Adelaide", day(2027, 7, 15)) == minutes(9 * 60 + 30));
    // Lord Howe Island changes its clocks by half an hour.
    CHECK(utc_offset_at_noon("Australia/Lord_Howe", day(2027, 1, 15)) == hours(11));
    // A day that Samoa left out.
    CHECK_NOTHROW((void)utc_offset_at_noon("Pacific/Apia", day(2011, 12, 30)));
  }

  TEST_CASE("time zone - the day on which clocks change") {
    CHECK(clock_change("Europe/Lisbon", day(2027, 3, 22), 7) == day(2027, 3, 28));
    CHECK(clock_change("Europe/Lisbon", day(2027, 3, 28), 1) == day(2027, 3, 28));
    CHECK(clock_change("Europe/Lisbon", day(2027, 3, 22), 6) == std::nullopt);
    CHECK(clock_change("Europe/Lisbon", day(2027, 3, 29), 7) == std::nullopt);
    CHECK(clock_change("Europe/Dublin", day(2027, 10, 25), 7) == day(2027, 10, 31));
    CHECK(clock_change("Australia/Lord_Howe", day(2027, 4, 1), 10) == day(2027, 4, 4));
    CHECK(clock_change("Asia/Kolkata", day(2027, 1, 1), 365) == std::nullopt);
    CHECK(clock_change("Europe/Lisbon", day(2027, 3, 28), 0) == std::nullopt);
  }

  TEST_CASE("time zone - offsets in force") {
    const auto at = [](Date date, hours hour) { return std::chrono::local_seconds(date + hour); };
    const auto lisbon = utc_offsets("Europe/Lisbon", day(2027, 3, 25), day(2027, 3, 31));
    REQUIRE(lisbon.size() == 2);
    CHECK(lisbon[0].begins == at(day(2026, 10, 25), hours(2)));
    CHECK(lisbon[0].before == hours(1));
    CHECK(lisbon[0].offset == hours(0));
    CHECK_FALSE(lisbon[0].summer);
    CHECK(lisbon[0].abbreviation == "WET");
    CHECK(lisbon[1].begins == at(day(2027, 3, 28), hours(1)));
    CHECK(lisbon[1].before == hours(0));
    CHECK(lisbon[1].offset == hours(1));
    CHECK(lisbon[1].summer);
    CHECK(lisbon[1].abbreviation == "WEST");
    // The database calls Dublin's winter the saving time.
    CHECK(utc_offsets("Europe/Dublin", day(2027, 7, 1), day(2027, 7, 1)).front().summer);
    CHECK(utc_offsets("Australia/Adelaide", day(2027, 9, 1), day(2028, 5, 1)).size() == 3);
    const auto utc = utc_offsets("Etc/UTC", day(2027, 1, 1), day(2027, 12, 31));
    REQUIRE(utc.size() == 1);
    CHECK(utc.front().begins == at(day(1970, 1, 1), hours(0)));
    CHECK(utc.front().before == utc.front().offset);
  }

  TEST_CASE("time zone - an unknown one is a broken promise of the caller") {
    CHECK_THROWS_AS((void)standard_utc_offset("Nowhere", 2027), std::invalid_argument);
    CHECK_THROWS_AS((void)utc_offset_at_noon("Nowhere", day(2027, 1, 1)), std::invalid_argument);
    CHECK_THROWS_AS((void)clock_change("Nowhere", day(2027, 1, 1), 7), std::invalid_argument);
    CHECK_THROWS_AS((void)utc_offsets("Nowhere", day(2027, 1, 1), day(2027, 1, 2)),
                    std::invalid_argument);
  }
}

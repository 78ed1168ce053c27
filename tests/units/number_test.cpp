#include "runnel/units/number.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <limits>
#include <optional>
#include <stdexcept>
#include <string>

using runnel::fixed;
using runnel::parse_int;
using runnel::parse_number;
using runnel::shortest;

TEST_SUITE("units") {
  TEST_CASE("number - decimal numbers are read exactly") {
    CHECK(parse_number("12") == 12.0);
    CHECK(parse_number("-0.5") == -0.5);
    CHECK(parse_number("+3.25") == 3.25);
    CHECK(parse_number("1e3") == 1000.0);
    CHECK(parse_number("1E-3") == 0.001);
    CHECK(parse_number(".5") == 0.5);
    CHECK(parse_number("-.5") == -0.5);
    CHECK(parse_number("5.") == 5.0);
    CHECK(parse_number("007") == 7.0);
    CHECK(parse_number("0.1") == 0.1);
    CHECK(parse_number("-0") == 0.0);
  }

  TEST_CASE("number - anything else is nothing") {
    for (const char* text : {"",
                             " ",
                             "12 ",
                             " 12",
                             "--5",
                             "+-5",
                             "-+5",
                             "++5",
                             "+",
                             "-",
                             ".",
                             "-.",
                             "e5",
                             "1e",
                             "1e+",
                             "1e999",
                             "-1e999",
                             "nan",
                             "NaN",
                             "inf",
                             "-inf",
                             "infinity",
                             "-nan",
                             "0x10",
                             "1,5",
                             "1.2.3",
                             "24m2",
                             "1_000",
                             "1 000",
                             "\xC2\xBD",
                             "\xE2\x88\x92"
                             "5",
                             "1\xC2\xA0",
                             "٣"}) {
      CAPTURE(text);
      CHECK_FALSE(parse_number(text));
    }
    CHECK_FALSE(parse_number(std::string("1\0", 2)));
    CHECK_FALSE(parse_number(std::string(1'000'000, '9')));  // overflows
    CHECK(parse_number("0." + std::string(1'000'000, '3')) == 1.0 / 3.0);
  }

  TEST_CASE("number - decimal comma") {
    CHECK(parse_number("0,5", true) == 0.5);
    CHECK(parse_number("-12,25", true) == -12.25);
    CHECK(parse_number(",5", true) == 0.5);
    CHECK(parse_number("+1,5e2", true) == 150.0);
    CHECK(parse_number("7", true) == 7.0);
    CHECK(parse_number("0," + std::string(1'000, '3'), true) == 1.0 / 3.0);
    for (const char* text : {"0.5", "1.000,5", "1,2,3", ",", "-,", "1,5 ", "nan"}) {
      CAPTURE(text);
      CHECK_FALSE(parse_number(text, true));
    }
  }

  TEST_CASE("number - whole numbers") {
    CHECK(parse_int("12") == 12);
    CHECK(parse_int("-3") == -3);
    CHECK(parse_int("+3") == 3);
    CHECK(parse_int("2147483647") == 2147483647);
    for (const char* text :
         {"", "2147483648", "1.0", "1e3", "0x1", " 1", "1 ", "--1", "+-1", "+"}) {
      CAPTURE(text);
      CHECK_FALSE(parse_int(text));
    }
  }

  TEST_CASE("number - fixed decimals, no negative zero") {
    CHECK(fixed(1.0 / 3.0, 2) == "0.33");
    CHECK(fixed(-0.004, 2) == "0.00");
    CHECK(fixed(-0.0, 0) == "0");
    CHECK(fixed(-0.006, 2) == "-0.01");
    CHECK(fixed(1234567.0, 1) == "1234567.0");
    CHECK(fixed(0.125, 2) == "0.12");  // a tie goes to the even digit
    CHECK(fixed(std::numeric_limits<double>::max(), 30).size() == 309 + 1 + 30);
    CHECK(fixed(std::numeric_limits<double>::quiet_NaN(), 2) == "nan");
    CHECK_THROWS_AS((void)fixed(1.0, -1), std::invalid_argument);
    CHECK_THROWS_AS((void)fixed(1.0, 31), std::invalid_argument);
  }

  TEST_CASE("number - the shortest text reads back as the same double") {
    CHECK(shortest(0.1) == "0.1");
    CHECK(shortest(100.0) == "100");
    CHECK(shortest(-2.5) == "-2.5");
    std::uint64_t state = 42;
    for (int i = 0; i < 10'000; ++i) {
      state = state * 6364136223846793005U + 1442695040888963407U;
      const double value =
          std::ldexp(static_cast<double>(state >> 11U), static_cast<int>(state % 200U) - 150);
      REQUIRE(parse_number(shortest(value)) == value);
      REQUIRE(parse_number(shortest(-value)) == -value);
    }
  }

  TEST_CASE("number - trimmed and lower") {
    CHECK(runnel::trimmed(" \t a b \r\n") == "a b");
    CHECK(runnel::trimmed(" \t ").empty());
    CHECK(runnel::trimmed("").empty());
    CHECK(runnel::lower("ABCxyz09") == "abcxyz09");
    CHECK(runnel::lower("\xC3\x84") == "\xC3\x84");  // ASCII letters only, whatever the locale
  }
}

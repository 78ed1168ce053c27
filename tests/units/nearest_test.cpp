#include "runnel/units/nearest.hpp"

#include <doctest/doctest.h>

#include <array>
#include <string>
#include <string_view>

using runnel::edit_distance;
using runnel::nearest;

TEST_SUITE("units") {
  TEST_CASE("nearest - edit distance is the optimal string alignment") {
    CHECK(edit_distance("", "") == 0);
    CHECK(edit_distance("", "area") == 4);
    CHECK(edit_distance("area", "") == 4);
    CHECK(edit_distance("area", "AREA") == 0);
    CHECK(edit_distance("kitten", "sitting") == 3);
    CHECK(edit_distance("aera", "area") == 1);  // neighbours swapped
    CHECK(edit_distance("ca", "abc") == 3);     // 2 if a part could be edited twice
    CHECK(edit_distance("flow", "flwo") == 1);
    CHECK(edit_distance("emmiter", "emitter") == 2);
  }

  TEST_CASE("nearest - distance is symmetric") {
    constexpr std::array<std::string_view, 6> words = {"area", "aera", "valve", "vlaves", "x", ""};
    for (const auto a : words) {
      for (const auto b : words) CHECK(edit_distance(a, b) == edit_distance(b, a));
    }
  }

  TEST_CASE("nearest - a slip finds its word, another word does not") {
    constexpr std::array<std::string_view, 5> known = {"area", "emitters", "exposure", "soil",
                                                       "m2"};
    CHECK(nearest("aera", known) == "area");
    CHECK(nearest("Area", known) == "area");
    CHECK(nearest("emiters", known) == "emitters");
    CHECK(nearest("expsoure", known) == "exposure");
    CHECK(nearest("m 2", known) == "m2");
    CHECK_FALSE(nearest("colour", known));
    CHECK_FALSE(nearest("x", known));
    CHECK_FALSE(nearest("", known));
    CHECK_FALSE(nearest("area", {}));
    CHECK_FALSE(nearest(std::string(1'000'000, 'a'), known));
  }

  TEST_CASE("nearest - ties go to the earlier word") {
    constexpr std::array<std::string_view, 2> known = {"tmax", "tmin"};
    constexpr std::array<std::string_view, 2> turned = {"tmin", "tmax"};
    CHECK(nearest("tmix", known) == "tmax");
    CHECK(nearest("tmix", turned) == "tmin");
  }
}

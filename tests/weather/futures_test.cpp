#include "runnel/weather/futures.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <set>

using namespace runnel;

namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();

Date day(const char* text) { return *parse_date(text); }

std::vector<Date> starts(const char* first, const char* last, const char* from, int days = 14,
                         int skipped = 0) {
  return alike_starts(day(first), day(last), day(from), days, skipped);
}

WeatherSeries with_t_max(const std::vector<double>& t_max_c) {
  WeatherSeries series;
  series.first_day = day("2027-06-01");
  const auto rows = static_cast<Eigen::Index>(t_max_c.size());
  series[Variable::t_max_c] = Eigen::Map<const Column>(t_max_c.data(), rows);
  series[Variable::t_min_c] = Column::Constant(rows, 5.0);
  for (const Variable variable : {Variable::t_max_c, Variable::t_min_c})
    series.origin(variable).assign(t_max_c.size(), Origin::observed);
  series.lines.assign(t_max_c.size(), 1);
  return series;
}

}  // namespace

TEST_SUITE("weather/futures") {
  TEST_CASE("futures - every year of the record and ten days either way") {
    const auto all = starts("2012-01-01", "2015-12-31", "2027-07-13");
    REQUIRE(all.size() == 4 * 21);
    CHECK(all.front() == day("2012-07-03"));
    CHECK(all.back() == day("2015-07-23"));
    CHECK(std::set<Date>(all.begin(), all.end()).size() == all.size());
  }

  TEST_CASE("futures - 29 February stands for 28 February where there is none") {
    const auto all = starts("2013-01-01", "2013-12-31", "2028-02-29");
    REQUIRE(all.size() == 21);
    CHECK(all[10] == day("2013-02-28"));
    CHECK(starts("2012-01-01", "2012-12-31", "2028-02-29")[10] == day("2012-02-29"));
  }

  TEST_CASE("futures - windows cross New Year and those cut short are dropped") {
    const auto all = starts("2012-01-01", "2013-12-31", "2027-12-28");
    // 1 to 7 January 2012, 18 December 2012 to 7 January 2013, 18 December 2013.
    CHECK(all.front() == day("2012-01-01"));
    CHECK(all[7] == day("2012-12-18"));
    CHECK(all.back() == day("2013-12-18"));
    CHECK(all.size() == 7 + 21 + 1);
    // From the end of 2011 only windows whose needed days begin in 2012.
    CHECK(starts("2012-01-01", "2013-12-31", "2027-12-28", 14, 7).front() == day("2011-12-25"));
    CHECK(starts("2012-01-01", "2012-06-30", "2027-12-28").size() == 7);  // 1 to 7 January
    CHECK(starts("2012-07-01", "2012-07-13", "2027-07-01").empty());
  }

  TEST_CASE("futures - thinned evenly") {
    const auto all = starts("2012-01-01", "2015-12-31", "2027-07-13");
    const auto few = thinned(all, 64);
    REQUIRE(few.size() == 64);
    CHECK(few.front() == all.front());
    CHECK(few.back() == all[63 * 84 / 64]);
    CHECK(std::set<Date>(few.begin(), few.end()).size() == 64);
    CHECK(thinned(few, 64) == few);
  }

  TEST_CASE("futures - a long hole parts a record and a short one does not") {
    const auto series = with_t_max({none, 20, 21, none, none, 22, none, none, none, 23, 24, none});
    const auto stretches = whole_stretches(series);
    REQUIRE(stretches.size() == 2);
    CHECK(stretches[0] == std::pair<Eigen::Index, Eigen::Index>{1, 6});
    CHECK(stretches[1] == std::pair<Eigen::Index, Eigen::Index>{9, 11});
    const WeatherSeries part = rows_of(series, 9, 11);
    CHECK(part.first_day == day("2027-06-10"));
    CHECK(part.rows() == 2);
    CHECK(part[Variable::t_max_c][1] == 24.0);
    CHECK(part.origin(Variable::t_min_c).size() == 2);
  }
}

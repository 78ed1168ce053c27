#include "runnel/schedule/timer.hpp"

#include <doctest/doctest.h>

#include <set>

using namespace runnel;
using std::chrono::days;

namespace {

const Date monday = *parse_date("2027-07-12");

Weekdays on(unsigned mask) { return {.on = mask}; }
EveryN every(int n, int phase) { return {.n = n, .first = monday + days(phase)}; }

}  // namespace

TEST_CASE("timer - days that are counted are told from the first still to come") {
  const Date from = *parse_date("2027-07-12");  // a Monday
  const auto text = [from](const DayPattern& pattern) { return to_text(as_of(pattern, from)); };
  CHECK(text(EveryN{.n = 2, .first = *parse_date("2027-04-02")}) == "every 2 days from Tue 13 Jul");
  CHECK(text(EveryN{.n = 3, .first = from}) == "every 3 days from Mon 12 Jul");
  CHECK(text(EveryN{.n = 5, .first = *parse_date("2027-07-20")}) == "every 5 days from Thu 15 Jul");
  CHECK(text(DateParity{.odd = true}) == "odd dates");
  for (int n = 1; n <= 9; ++n)
    for (int d = 0; d < 20; ++d) {
      const EveryN counted{.n = n, .first = *parse_date("2027-03-01")};
      const Date date = from + std::chrono::days{d};
      CHECK(waters_on(counted, date) == waters_on(as_of(counted, from), date));
    }
}

TEST_CASE("timer - the days of each pattern") {
  const DayPattern mon_thu = on(0b0001001);
  CHECK(waters_on(mon_thu, monday));
  CHECK_FALSE(waters_on(mon_thu, monday + days(1)));
  CHECK(waters_on(mon_thu, monday + days(3)));
  CHECK(waters_on(mon_thu, monday - days(4)));
  const DayPattern third = every(3, 1);
  CHECK_FALSE(waters_on(third, monday));
  CHECK(waters_on(third, monday + days(1)));
  CHECK(waters_on(third, monday + days(4)));
  CHECK(waters_on(third, monday - days(2)));  // the days before the first follow the same beat
  CHECK(waters_on(EveryN{.n = 3, .first = Date{days(-2)}}, Date{days(-5)}));  // before 1970
  CHECK_FALSE(waters_on(EveryN{.n = 0, .first = monday}, monday));
  CHECK(waters_on(DateParity{.odd = false}, monday));
  CHECK_FALSE(waters_on(DateParity{.odd = true}, monday));
  // Two odd dates in a row at the end of a long month.
  CHECK(waters_on(DateParity{.odd = true}, *parse_date("2027-07-31")));
  CHECK(waters_on(DateParity{.odd = true}, *parse_date("2027-08-01")));
}

TEST_CASE("timer - patterns in words") {
  CHECK(to_text(on(0b1111111)) == "every day");
  CHECK(to_text(on(0b0001001)) == "Mon Thu");
  CHECK(to_text(on(0b0011111)) == "Mon Tue Wed Thu Fri");
  CHECK(to_text(on(0)) == "never");
  CHECK(to_text(every(3, 1)) == "every 3 days from Tue 13 Jul");
  CHECK(to_text(every(1, 0)) == "every day");
  CHECK(to_text(DateParity{.odd = true}) == "odd dates");
  CHECK(to_text(DateParity{.odd = false}) == "even dates");
}

TEST_CASE("timer - patterns that can meet do so within ten years, the others never") {
  std::vector<DayPattern> patterns = {on(0), on(1), on(0b1000100), on(0b1111111)};
  patterns.insert(patterns.end(), {DateParity{.odd = true}, DateParity{.odd = false}});
  for (int n = 1; n <= 14; ++n) {
    for (int phase = 0; phase < n; phase += 3) patterns.emplace_back(every(n, phase));
  }
  for (const DayPattern& a : patterns) {
    for (const DayPattern& b : patterns) {
      CAPTURE(to_text(a));
      CAPTURE(to_text(b));
      bool met = false;
      for (int day = 0; !met && day < 3650; ++day) {
        met = met || (waters_on(a, monday + days(day)) && waters_on(b, monday + days(day)));
      }
      CHECK(can_meet(a, b) == met);
    }
  }
}

TEST_CASE("timer - every pattern it can be told, once, in a fixed order") {
  Timer timer;
  CHECK(day_patterns(timer, monday).size() == 127);
  CHECK(to_text(day_patterns(timer, monday).front()) == "Mon");
  CHECK(to_text(day_patterns(timer, monday)[7]) == "Mon Tue");
  CHECK(to_text(day_patterns(timer, monday).back()) == "every day");
  timer.every_n_days = 7;
  timer.odd_even = true;
  const std::vector<DayPattern> all = day_patterns(timer, monday);
  CHECK(all.size() == 127 + 27 + 2);
  CHECK(to_text(all[127]) == "every 2 days from Mon 12 Jul");
  std::set<std::string> texts;
  for (const DayPattern& pattern : all) {
    texts.insert(to_text(pattern));
    int waterings = 0;
    for (int day = 0; day < 7; ++day) waterings += waters_on(pattern, monday + days(day)) ? 1 : 0;
    CHECK(waterings > 0);
  }
  CHECK(texts.size() == all.size());
}

TEST_CASE("timer - intervals only") {
  Timer timer;
  timer.weekdays = false;
  CHECK(day_patterns(timer, monday).empty());
  timer.every_n_days = 10;
  const std::vector<DayPattern> all = day_patterns(timer, monday);
  CHECK(to_text(all.front()) == "every day");
  // 1 + 2 + ... + 7, and seven phases each of 8, 9 and 10 days that begin within the week.
  CHECK(all.size() == 28 + 21);
}

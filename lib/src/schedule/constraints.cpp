#include "runnel/schedule/constraints.hpp"

#include <algorithm>

namespace runnel {
namespace {

bool date_is_odd(Date date) { return day_of_month(date) % 2 == 1; }

/// Whether the pattern waters on no day that the rules forbid for good, however far ahead.
bool keeps_always(const ValveRules& rules, const DayPattern& days) {
  const DayPattern other_weekdays = Weekdays{~rules.weekdays};
  if (!rules.weekdays.all() && can_meet(days, other_weekdays)) return false;
  return !rules.odd_dates || !can_meet(days, DateParity{.odd = !*rules.odd_dates});
}

}  // namespace

bool allowed_on(const ValveRules& rules, Date date) {
  if (!rules.weekdays.test(static_cast<std::size_t>(weekday_index(date)))) return false;
  if (rules.odd_dates && date_is_odd(date) != *rules.odd_dates) return false;
  return std::find(rules.shut_on.begin(), rules.shut_on.end(), date) == rules.shut_on.end();
}

ValveRules Constraints::rules_of(int valve) const {
  const auto found = rules.find(valve);
  return found == rules.end() ? ValveRules{.hours = hours} : found->second;
}

double Constraints::litres_per_minute(int valve) const {
  const auto found = flows.find(valve);
  return found == flows.end() ? 0.0 : found->second.litres_per_hour() / 60.0;
}

Keeps keeps_to(const ValveRules& rules, const DayPattern& days, Date from, int days_ahead) {
  for (int d = 0; d < days_ahead; ++d) {
    const Date date = from + std::chrono::days{d};
    if (waters_on(days, date) && !allowed_on(rules, date)) return Keeps::not_at_all;
  }
  return keeps_always(rules, days) ? Keeps::always : Keeps::this_week;
}

}  // namespace runnel

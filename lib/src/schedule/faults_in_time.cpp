#include "faults_in_time.hpp"

#include <algorithm>
#include <cstdint>
#include <numeric>
#include <optional>

#include "runnel/units/number.hpp"

namespace runnel {
namespace {

using std::chrono::days;

constexpr int kDayMinutes = 24 * 60;
constexpr int kWeekDays = 7;
constexpr int kLeastDays = 14;
constexpr int kMostDays = 4 * 365 + 1;  // odd and even dates repeat with the leap years
constexpr double kRounding = 1e-9;      // relative: sums of litres that a limit just allows

/// Days after which the days of all patterns repeat together, within the limits above.
int days_to_look_at(std::span<const ValveTimes> valves) {
  int period = kWeekDays;
  for (const ValveTimes& times : valves) {
    if (const auto* every = std::get_if<EveryN>(&times.days); every != nullptr && every->n > 0) {
      period = std::min(std::lcm(period, every->n), kMostDays);
    } else if (std::holds_alternative<DateParity>(times.days)) {
      return kMostDays;
    }
  }
  return std::max(period, kLeastDays);
}

std::string when(Date from, std::int64_t minute) {
  return short_date(from + days(minute / kDayMinutes)) + " " +
         clock(WallTime(minute % kDayMinutes));
}

/// What is open in each minute from midnight of the first day: valves or litres, each valve once,
/// also for `pause` minutes after a run.
template <class Amount>
class MinuteSum {
 public:
  explicit MinuteSum(int days_shown)
      : sum_(static_cast<std::size_t>(days_shown) * kDayMinutes, Amount{0}) {}

  template <class Then>
  void add(const ValveTimes& times, Amount amount, Date from, int pause, Then&& then) {
    std::int64_t counted_until = 0;
    const auto shown = static_cast<std::int64_t>(sum_.size());
    for (std::int64_t day = -1; day * kDayMinutes < shown; ++day) {  // -1: may run past midnight
      if (!waters_on(times.days, from + days(day))) continue;
      for (const ValveTimes::Opening& opening : times.openings) {
        const std::int64_t opens = day * kDayMinutes + opening.start.count();
        const std::int64_t over = std::min(opens + opening.length.count() + pause, shown);
        for (std::int64_t m = std::max(opens, counted_until); m < over; ++m) {
          Amount& sum = sum_[static_cast<std::size_t>(m)];
          sum = static_cast<Amount>(sum + amount);
          then(m, sum);
        }
        counted_until = std::max(counted_until, over);
      }
    }
  }

 private:
  std::vector<Amount> sum_;
};

/// One finding for each valve that meets more others than allowed, at the first minute it does.
void check_together(std::span<const ValveTimes> valves, const Timer& timer, Date from, int pause,
                    Faults& faults) {
  MinuteSum<std::uint16_t> open_in(days_to_look_at(valves) + 1);
  for (const ValveTimes& times : valves) {
    std::int64_t first = -1;
    open_in.add(times, 1, from, pause, [&](std::int64_t minute, int open) {
      if (first < 0 && open > timer.together) first = minute;
    });
    if (first < 0) continue;
    if (pause == 0) {
      faults.add(times.valve, "more valves open than allowed on " + when(from, first),
                 "at most " + std::to_string(timer.together) + " at once");
    } else {
      faults.add(times.valve, "too short a pause after another valve on " + when(from, first),
                 std::to_string(pause) + " minutes between valves");
    }
  }
}

/// One finding for each valve that, with those before it, takes more than the supply feeds.
void check_supply(std::span<const ValveTimes> valves, const Constraints& constraints, Date from,
                  Faults& faults) {
  const double most_l_min = constraints.supply->litres_per_hour() / 60.0;
  MinuteSum<double> taken_l_min(days_to_look_at(valves) + 1);
  for (const ValveTimes& times : valves) {
    const double own_l_min = constraints.litres_per_minute(times.valve);
    if (own_l_min <= 0.0) continue;
    std::int64_t first = -1;
    double first_l_min = 0.0;
    taken_l_min.add(times, own_l_min, from, 0, [&](std::int64_t minute, double sum_l_min) {
      const bool alone = sum_l_min <= own_l_min * (1.0 + kRounding);
      if (first >= 0 || alone || sum_l_min <= most_l_min * (1.0 + kRounding)) return;
      first = minute;
      first_l_min = sum_l_min;
    });
    if (first < 0) continue;
    faults.add(
        times.valve,
        "with the others open takes " + fixed(first_l_min, 1) + " L/min on " + when(from, first),
        "the supply feeds " + fixed(most_l_min, 1) + " L/min");
  }
}

std::string weekdays_of(const std::bitset<kWeekDays>& allowed) {
  std::string names;
  for (int day = 0; day < kWeekDays; ++day)
    if (allowed.test(static_cast<std::size_t>(day)))
      names += (names.empty() ? "" : " ") + std::string(weekday_name(day));
  return names.empty() ? "no day" : names;
}

/// Why a valve must stay shut on a day; empty where it need not.
std::string shut_because(const ValveRules& rules, Date date) {
  for (const Date shut : rules.shut_on)
    if (shut == date) return "it must stay shut on that day";
  const auto weekday = static_cast<std::size_t>(weekday_index(date));
  if (!rules.weekdays[weekday]) return "allowed: " + weekdays_of(rules.weekdays);
  if (rules.odd_dates) {
    const bool odd = (day_of_month(date) & 1U) == 1U;
    if (*rules.odd_dates && !odd) return "only odd dates are allowed";
    if (!*rules.odd_dates && odd) return "only even dates are allowed";
  }
  return {};
}

/// One finding for each valve: the first day of the week on which it must stay shut.
void check_days(const ValveTimes& times, const ValveRules& rules, Date from, Faults& faults) {
  if (times.openings.empty()) return;
  for (int d = 0; d < kWeekDays; ++d) {
    const Date date = from + days(d);
    if (!waters_on(times.days, date)) continue;
    const std::string because = shut_because(rules, date);
    if (because.empty()) continue;
    faults.add(times.valve,
               "opens on " + short_date(date) + " at " + clock(times.openings.front().start),
               because);
    return;
  }
}

double minutes_a_day(const ValveTimes& times) {
  double sum_min = 0.0;
  for (const ValveTimes::Opening& opening : times.openings)
    sum_min += static_cast<double>(opening.length.count());
  return sum_min;
}

/// An amount on each day, and a week beyond the days after which the patterns repeat.
std::vector<double> by_day(std::span<const ValveTimes> valves, Date from, int days_shown,
                           const std::vector<double>& of_valve) {
  std::vector<double> amount(static_cast<std::size_t>(days_shown + kWeekDays), 0.0);
  for (std::size_t v = 0; v < valves.size(); ++v) {
    if (of_valve[v] <= 0.0) continue;
    for (std::size_t d = 0; d < amount.size(); ++d)
      if (waters_on(valves[v].days, from + days(static_cast<int>(d)))) amount[d] += of_valve[v];
  }
  return amount;
}

struct Excess {
  Date first;
  double amount;
};
/// The first so many days running that bring more than `most`.
std::optional<Excess> first_excess(const std::vector<double>& amount, std::size_t running,
                                   double most, Date from) {
  for (std::size_t d = 0; d + running <= amount.size(); ++d) {
    double sum = 0.0;
    for (std::size_t i = d; i < d + running; ++i) sum += amount[i];
    if (sum > most * (1.0 + kRounding))
      return Excess{.first = from + days(static_cast<int>(d)), .amount = sum};
  }
  return std::nullopt;
}

std::string week_from(Date first) {
  return "from " + short_date(first) + " to " + short_date(first + days(kWeekDays - 1));
}

void check_minutes(const ValveTimes& times, const ValveRules& rules, Date from, Faults& faults) {
  const std::span<const ValveTimes> alone(&times, 1);
  const std::vector<double> minutes =
      by_day(alone, from, days_to_look_at(alone), {minutes_a_day(times)});
  if (rules.most_minutes_a_day) {
    const int most = *rules.most_minutes_a_day;
    if (const auto excess = first_excess(minutes, 1, most, from))
      faults.add(
          times.valve,
          "open for " + fixed(excess->amount, 0) + " minutes on " + short_date(excess->first),
          "at most " + std::to_string(most) + " a day");
  }
  if (rules.most_minutes_a_week) {
    const int most = *rules.most_minutes_a_week;
    if (const auto excess = first_excess(minutes, kWeekDays, most, from))
      faults.add(times.valve,
                 "open for " + fixed(excess->amount, 0) + " minutes " + week_from(excess->first),
                 "at most " + std::to_string(most) + " in any seven days running");
  }
}

std::string named(const std::vector<int>& valves) {
  std::string text = valves.size() == 1 ? "valve " : "valves ";
  for (std::size_t v = 0; v < valves.size(); ++v)
    text += (v == 0 ? "" : ", ") + std::to_string(valves[v]);
  return text;
}

void check_litres(std::span<const ValveTimes> valves, const LitreLimit& limit,
                  const Constraints& constraints, Date from, Faults& faults) {
  std::vector<ValveTimes> limited;
  std::vector<double> litres_of;
  for (const ValveTimes& times : valves) {
    if (std::find(limit.valves.begin(), limit.valves.end(), times.valve) == limit.valves.end())
      continue;
    limited.push_back(times);
    litres_of.push_back(minutes_a_day(times) * constraints.litres_per_minute(times.valve));
  }
  const std::vector<double> litres = by_day(limited, from, days_to_look_at(limited), litres_of);
  if (limit.a_day) {
    if (const auto excess = first_excess(litres, 1, *limit.a_day, from))
      faults.add(named(limit.valves),
                 fixed(excess->amount, 1) + " L on " + short_date(excess->first),
                 "at most " + fixed(*limit.a_day, 1) + " L a day");
  }
  if (limit.a_week) {
    if (const auto excess = first_excess(litres, kWeekDays, *limit.a_week, from))
      faults.add(named(limit.valves), fixed(excess->amount, 1) + " L " + week_from(excess->first),
                 "at most " + fixed(*limit.a_week, 1) + " L in any seven days running");
  }
}

}  // namespace

bool has_neighbouring_days(const DayPattern& pattern, Date from) {
  const ValveTimes times{.valve = 0, .days = pattern, .openings = {}};
  const int shown = days_to_look_at(std::span(&times, 1));
  for (int d = 0; d < shown; ++d)
    if (waters_on(pattern, from + days(d)) && waters_on(pattern, from + days(d + 1))) return true;
  return false;
}

void check_in_time(std::span<const ValveTimes> valves, const Constraints& constraints, Date from,
                   Faults& faults) {
  for (const ValveTimes& times : valves) {
    const ValveRules rules = constraints.rules_of(times.valve);
    check_days(times, rules, from, faults);
    if (rules.most_minutes_a_day || rules.most_minutes_a_week)
      check_minutes(times, rules, from, faults);
  }
  for (const LitreLimit& limit : constraints.litres)
    check_litres(valves, limit, constraints, from, faults);
  const Timer& timer = constraints.timer;
  check_together(valves, timer, from, 0, faults);
  if (timer.pause_minutes > 0) check_together(valves, timer, from, timer.pause_minutes, faults);
  if (constraints.supply) check_supply(valves, constraints, from, faults);
}

}  // namespace runnel

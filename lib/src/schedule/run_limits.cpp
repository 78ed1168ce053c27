#include "run_limits.hpp"

#include <algorithm>
#include <cmath>

#include "runnel/schedule/candidates.hpp"

namespace runnel {
namespace {

using std::chrono::minutes;

int days_in_seven(const Weekdays& weekdays) { return static_cast<int>(weekdays.on.count()); }
int days_in_seven(const EveryN& every) { return every.n < 1 ? 0 : (7 + every.n - 1) / every.n; }
// The 29th or 31st, and the 1st, 3rd and 5th that follow; in no seven days are there five.
int days_in_seven(const DateParity&) { return 4; }

}  // namespace

int most_days_in_seven(const DayPattern& days) {
  return std::visit([](const auto& of_kind) { return days_in_seven(of_kind); }, days);
}

std::optional<int> most_minutes_a_day(const ValveRules& rules, const DayPattern& days) {
  std::optional<int> most = rules.most_minutes_a_day;
  if (rules.most_minutes_a_week) {
    const int share = *rules.most_minutes_a_week / std::max(1, most_days_in_seven(days));
    most = std::min(most.value_or(share), share);
  }
  return most;
}

bool keeps_minutes(const ValveRules& rules, const ValveTimes& times) {
  const std::optional<int> most = most_minutes_a_day(rules, times.days);
  return !most || times.a_day() <= minutes{*most};
}

minutes longest_run(std::span<const ZoneTask> tasks, const Timer& timer) {
  const std::vector<RunLength> lengths = run_lengths(timer);
  double longest = lengths.empty() ? 0.0 : static_cast<double>(lengths.back().runs.count());
  for (const ZoneTask& task : tasks)
    longest =
        std::min(longest, cycle_limit(task.delivery.rate(), task.intake).longest_cycle.minutes());
  return minutes{static_cast<int>(longest)};
}

minutes soak_minutes(std::span<const ZoneTask> tasks, minutes run) {
  double longest = 0.0;
  for (const ZoneTask& task : tasks) {
    const auto cycle = Duration::minutes(static_cast<double>(run.count()));
    longest = std::max(longest, soak_after(cycle, task.delivery.rate(), task.intake).minutes());
  }
  return minutes{static_cast<int>(std::ceil(longest))};
}

}  // namespace runnel

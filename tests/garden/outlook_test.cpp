// How long a plan can be left: against the balance looked at day by day.
#include "runnel/garden/outlook.hpp"

#include <doctest/doctest.h>

#include "runnel/garden/plan_garden.hpp"
#include "runnel/schedule/days_within.hpp"

using namespace runnel;

namespace {

/// Two beds on a record of four years.
Garden in_new_york() {
  const std::string file = std::string{RUNNEL_REFERENCE_DIR} + "/new-york-weather.csv";
  const std::string bed =
      "area: 10 m2, plants: {kind: mixed shrubs}, soil: {texture: sandy loam},"
      " emitters: {type: dripline, flow: 2 L/h, spacing: 30 cm, rows: 40 cm}}\n";
  Read<Garden> read = read_garden(
      "garden: g\nsite: {latitude: 40.78, longitude: -73.97, elevation: 40 m, timezone: "
      "America/New_York}\nweather: {observed: " +
          file + ", record: " + file +
          "}\nwatering hours: [\"04:00-09:00\"]\nzones:\n  - {name: sunny, valve: 1, " + bed +
          "  - {name: shady, valve: 2, exposure: full shade, " + bed,
      "g.yaml");
  for (const Finding& finding : read.findings)
    if (finding.kind == Finding::Kind::error) FAIL(to_text(finding));
  return *read.value;
}

struct Ahead {
  Garden garden = in_new_york();
  PlanRequest request{.from = parse_date("2015-06-01"), .risk = 0.10};
  GardenPlan planned = plan_garden(garden, request);
  std::vector<Finding> findings;
  SiteWeather weather = read_site_weather(garden, findings);
  AssumedWeather assumed =
      assume_weather(garden, weather, planned.plan.from, outlook_days, findings);

  [[nodiscard]] ZoneTask task(std::size_t zone) {
    ZoneTask task = prepare_zone(garden, garden.zones[zone], assumed, findings).task;
    task.start = planned.zones[zone].task.start;
    return task;
  }
};

/// The first day on which more than the allowed futures stand beyond the limit or have stood so
/// before, by the trace of each future; all days when there is none.
int first_day_beyond(const ZoneTask& task, const Waterings& waterings, double risk) {
  const Eigen::Index futures = task.horizon.et_mm.rows();
  const Eigen::Index days = task.horizon.et_mm.cols();
  std::vector<int> gone(static_cast<std::size_t>(days), 0);
  for (Eigen::Index future = 0; future < futures; ++future) {
    const BalanceTrace t =
        trace(task.root_zone, task.start, task.model, task.horizon, waterings, future);
    for (Eigen::Index day = 0; day < days; ++day) {
      if (t.after_morning_mm[day] <= t.limit_mm[day] + 1e-9) continue;
      for (Eigen::Index later = day; later < days; ++later) ++gone[static_cast<std::size_t>(later)];
      break;
    }
  }
  for (std::size_t day = 0; day < gone.size(); ++day)
    if (gone[day] > allowed_beyond(futures, risk)) return static_cast<int>(day);
  return static_cast<int>(days);
}

}  // namespace

TEST_SUITE("garden/outlook") {
  TEST_CASE("outlook - days without water are those the balance counts one by one") {
    Ahead ahead;
    REQUIRE(ahead.assumed.futures() > 40);
    for (std::size_t zone = 0; zone < 2; ++zone) {
      const ZoneTask task = ahead.task(zone);
      const int expected = first_day_beyond(task, Waterings{}, ahead.request.risk);
      CHECK(ahead.planned.outlook.days_if_shut[zone] == expected);
      CHECK(expected > 0);
    }
    CHECK(ahead.planned.outlook.days_if_shut[0] < outlook_days);
    CHECK(ahead.planned.outlook.days_if_shut[0] < ahead.planned.outlook.days_if_shut[1]);
  }

  TEST_CASE("outlook - the programme holds through its week and until the balance says") {
    Ahead ahead;
    const Plan& plan = ahead.planned.plan;
    REQUIRE(plan.unharmed());
    int held = outlook_days;
    for (std::size_t zone = 0; zone < 2; ++zone) {
      const ZoneTask task = ahead.task(zone);
      const Waterings given =
          waterings_of(task, plan.valves[zone], ahead.planned.constraints.hours, plan.from);
      held = std::min(held, first_day_beyond(task, given, ahead.request.risk));
    }
    const Outlook& outlook = ahead.planned.outlook;
    CHECK(outlook.holds_until == plan.from + std::chrono::days{held - 1});
    CHECK(outlook.holds_until >= plan.until);
    CHECK(outlook.further == (held == outlook_days));
  }

  TEST_CASE("outlook - a record after the plan's first day is not looked at") {
    const Ahead ahead;
    for (const DailyWeather& stretch : ahead.assumed.stretches)
      CHECK(stretch.last_day() < ahead.planned.plan.from);
    CHECK(ahead.planned.weather.source.front() == DaySource::record);
    CHECK(ahead.planned.weather.futures() == 63);  // three years, twenty-one days each
  }
}

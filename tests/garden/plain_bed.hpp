#pragma once

#include <string>
#include <vector>

#include "runnel/garden/plan_garden.hpp"
#include "runnel/garden/saved_plan.hpp"

namespace runnel {

inline Date july(unsigned day, int year = 2026) {
  return std::chrono::local_days{std::chrono::year{year} / 7 / std::chrono::day{day}};
}

inline Garden read(const std::string& yaml, const std::string& name) {
  std::vector<Finding> findings;
  return value_or_throw(read_garden(yaml, name), findings);
}

inline std::string says_all(const std::vector<Finding>& findings, Finding::Kind kind) {
  std::string text;
  for (const Finding& finding : findings)
    if (finding.kind == kind) text += finding.says + "\n";
  return text;
}

inline bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// A bed on days of 7 mm without rain, 1 to 12 July, and coefficient 0.5: 3.5 mm a day, and 12 mm/h
/// brought evenly: 0.2 mm a minute. It holds 130 mm.
inline Garden plain_bed(const std::string& more = "") {
  return read(
      "garden: plain\nsite: {latitude: 38.72, longitude: -9.14, elevation: 95 m, timezone: "
      "Europe/Lisbon}\nweather: {observed: " +
          std::string(RUNNEL_TEST_DATA) +
          "/garden/seven-mm-a-day.csv}\nwatering hours: [\"05:00-08:00\"]\nzones:\n"
          "  - {name: bed, valve: 1, area: 10 m2, plants: {kind: mixed shrubs, coefficient: "
          "0.5, root depth: 1 m}, exposure: {factor: 1}, soil: {texture: loam}, emitters: "
          "{type: spray, rate: 12 mm/h, uniformity: 100 %}" +
          more + "}\n",
      "plain.yaml");
}

/// 10 minutes, 2 mm, on every third day from 4 July; the bed begins on 3 July 20 mm dry.
inline SavedPlan plain_plan() {
  SavedPlan plan;
  plan.file = "plan.yaml";
  plan.garden = "plain";
  plan.from = july(3);
  plan.until = july(9);
  plan.programmes = {{.days = EveryN{.n = 3, .first = july(4)},
                      .starts = {WallTime{5 * 60}},
                      .runs = {{.valve = 1, .typed_min = {10}}}}};
  plan.zones = {{.name = "bed",
                 .valve = 1,
                 .litres = 0,
                 .demand_mm = 0,
                 .start = {.depletion_mm = 20.0},
                 .end = {.depletion_mm = 0.0}}};
  plan.weather.assign(14, {.eto_mm = 4.0, .rain_mm = 0.0, .source = DaySource::recent_mean});
  plan.weather[11].rain_mm = 3.0;  // 14 July
  return plan;
}

}  // namespace runnel

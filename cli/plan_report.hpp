#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "json_writer.hpp"
#include "remedy_report.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {

/// The programme as a person reads it beside the timer, at 80 columns.
[[nodiscard]] std::string plan_text(const Garden& garden, const GardenPlan& planned,
                                    const Mending& mending);
/// Of that all but its first lines: what to set, and what stands behind it.
[[nodiscard]] std::string programme_text(const Garden& garden, const GardenPlan& planned,
                                         const Mending& mending);
/// "This programme can run unchanged ", and on what condition.
[[nodiscard]] std::string run_unchanged(const GardenPlan& planned);
/// What of the weather was not measured, and what stands in its place: "wind (2.0 m/s taken)".
[[nodiscard]] std::vector<std::string> not_measured(const Garden& garden,
                                                    const AssumedWeather& weather);
/// What is to be cautious about with any plan, in a few sentences; the same under a heading.
[[nodiscard]] std::string caution_text();
[[nodiscard]] std::string take_care_text();
/// One line per zone.
[[nodiscard]] std::string plan_csv(const Garden& garden, const GardenPlan& planned);
/// Without line ends. @param z a zone of the plan
[[nodiscard]] std::string plan_csv_heading();
[[nodiscard]] std::string plan_csv_row(const Garden& garden, const GardenPlan& planned,
                                       std::size_t z);
[[nodiscard]] std::string plan_json(const Garden& garden, const GardenPlan& planned,
                                    const Mending& mending);
/// Its members, into an object.
void write_plan(JsonWriter& json, const Garden& garden, const GardenPlan& planned,
                const Mending& mending);

/// One zone from weather to minutes, each figure with its source.
/// @throws InputError naming the nearest zone when there is none of that name.
[[nodiscard]] std::string explain_text(const Garden& garden, const GardenPlan& planned,
                                       const std::string& name);

}  // namespace runnel::cli

#include "start_states.hpp"

#include <string>

#include "log_since_plan.hpp"
#include "runnel/garden/moisture_reading.hpp"

namespace runnel {
namespace {

using std::chrono::days;

/// Zones of which the plan knows nothing stay as they are.
void carry_on(const Garden& garden, const SiteWeather& weather, const SavedPlan& plan, Date from,
              const PastWater& water, std::vector<StartState>& starts,
              std::vector<Finding>& findings) {
  const auto states = states_at(garden, weather, plan, from, water, findings);
  const auto length = (from - plan.from).count();
  const std::string source = "carried on from " + plan.file + " over " + std::to_string(length) +
                             (length == 1 ? " day" : " days");
  for (std::size_t z = 0; z < states.size(); ++z) {
    if (!states[z]) continue;
    starts[z].state = states[z];
    starts[z].source = source;
    if (length == 0) continue;
    starts[z].evening_before.reset();  // the state has it already
    if (const auto reading = last_reading(water.log, z, plan.from - days{1}, from - days{1}))
      starts[z].corrected_by = to_text(*reading);
  }
}

/// From a reading of days before one cannot go on without knowing what has run since.
void doubt_readings_gone_by(const Garden& garden, const WaterLog& log, Date from,
                            const std::vector<StartState>& starts, std::vector<Finding>& findings) {
  constexpr days lately{7};  // longer ago than that nobody counts on it; our choice
  for (std::size_t z = 0; z < starts.size(); ++z) {
    if (starts[z].state || starts[z].evening_before) continue;
    const auto reading = last_reading(log, z, from - lately, from - days{2});
    if (!reading) continue;
    findings.push_back({.kind = Finding::Kind::doubt,
                        .at = reading->at,
                        .says = garden.zones[z].name + ": the " + to_text(*reading) +
                                " is not looked at: no plan before says what has run since",
                        .mend = "feel the soil again on the evening of " +
                                short_date(from - days{1}) + " and log it"});
  }
}

}  // namespace

std::vector<StartState> start_states(const Garden& garden, const SiteWeather& weather,
                                     const std::optional<SavedPlan>& after, Date from,
                                     const PastWater& water, std::vector<Finding>& findings) {
  const Date evening_before = from - days{1};
  std::vector<StartState> starts(garden.zones.size());
  for (std::size_t z = 0; z < starts.size(); ++z)
    starts[z].evening_before = last_reading(water.log, z, evening_before, evening_before);
  if (after) {
    carry_on(garden, weather, *after, from, water, starts, findings);
    doubt_log(garden, *after, from, water, findings);
  }
  doubt_readings_gone_by(garden, water.log, from, starts, findings);
  return starts;
}

StartState start_again(const PreparedZone& zone) {
  if (!zone.start_found) return {};
  return {.state = zone.task.start, .source = "carried on"};
}

}  // namespace runnel

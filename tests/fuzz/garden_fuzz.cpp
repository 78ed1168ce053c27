// Any bytes as a garden file. What reads without an error must also prepare without a broken
// precondition: the reader's ranges have to suffice for all layers behind it.

#include <algorithm>
#include <chrono>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <string>
#include <tuple>
#include <vector>

#include "fuzz_support.hpp"
#include "runnel/garden/garden.hpp"
#include "runnel/garden/planning_constraints.hpp"
#include "runnel/garden/site_weather.hpp"
#include "runnel/garden/zone_task.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/finding.hpp"

namespace {

using runnel::fuzz::require;

runnel::AssumedWeather some_summer_days() {
  constexpr int days = runnel::horizon_days;
  constexpr runnel::Date first(std::chrono::year(2027) / std::chrono::June / 15);
  runnel::DailyWeather summer{
      .first_day = first,
      .eto_mm = runnel::Column::LinSpaced(days, 3.0, 8.0),
      .rain_mm = runnel::Column::LinSpaced(days, 0.0, 20.0),
      .u2_m_s = runnel::Column::LinSpaced(days, 0.0, 6.0),
      .rh_min_pct = runnel::Column::LinSpaced(days, 20.0, 60.0),
      .estimated = std::vector<runnel::Estimates>(days, 0),
      .inputs = runnel::EtInputs{.first_day = first,
                                 .t_max_c = runnel::Column::LinSpaced(days, 18.0, 35.0),
                                 .t_min_c = runnel::Column::LinSpaced(days, 9.0, 20.0),
                                 .ea_kpa = runnel::Column::LinSpaced(days, 1.0, 1.6),
                                 .u2_m_s = runnel::Column::LinSpaced(days, 0.0, 6.0),
                                 .rs_mj_m2_d = runnel::Column::LinSpaced(days, 2.0, 30.0),
                                 .estimated = std::vector<runnel::Estimates>(days, 0)}};
  const runnel::SiteWeather weather{.observed = summer, .forecast = std::nullopt, .record = {}};
  return runnel::observed_weather(weather, first, days);
}

/// Every valve has its piece of each window, at most one and within it.
void constrain(const runnel::Garden& garden, const runnel::AssumedWeather& weather,
               const std::vector<runnel::PreparedZone>& zones) {
  std::vector<runnel::Finding> findings;
  const runnel::Constraints constraints =
      runnel::constraints_of(garden, weather, zones, weather.first_day, findings);
  for (const auto& [valve, rules] : constraints.rules) {
    require(rules.hours.size() == constraints.hours.size(), "a valve's windows match the garden's");
    require(rules.weekdays.any(), "a garden that reads leaves every valve a day");
    for (std::size_t w = 0; w < rules.hours.size(); ++w)
      require(rules.hours[w].opens >= constraints.hours[w].opens &&
                  rules.hours[w].closes <= constraints.hours[w].closes,
              "a valve's window lies within the garden's");
  }
}

void prepare(const runnel::Garden& garden) {
  const runnel::AssumedWeather weather = some_summer_days();
  std::vector<runnel::PreparedZone> prepared;
  // A garden of thousands of zones says no more than one of eight.
  const std::size_t count = std::min<std::size_t>(garden.zones.size(), 8);
  for (std::size_t i = 0; i < count; ++i) {
    std::vector<runnel::Finding> findings;
    try {
      const auto zone = runnel::prepare_zone(garden, garden.zones[i], weather, findings);
      require(zone.chain.demand_mm().allFinite() && zone.task.model.kc.allFinite(),
              "what is prepared is finite", garden.zones[i].name);
      prepared.push_back(zone);
    } catch (const runnel::InputError& error) {
      require(!error.findings().empty(), "an input error says why");
    } catch (const std::exception& error) {
      require(false, "a garden that reads can be prepared", error.what());
    }
  }
  constrain(garden, weather, prepared);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto read = runnel::read_garden(runnel::fuzz::as_text(data, size), "g.yaml");
  runnel::fuzz::require_presentable(read.findings, read.value.has_value());
  const bool sorted =
      std::is_sorted(read.findings.begin(), read.findings.end(), [](const auto& a, const auto& b) {
        return std::tie(a.at.line, a.at.column) < std::tie(b.at.line, b.at.column);
      });
  require(sorted, "findings come in order");
  if (read.value) prepare(*read.value);
  return 0;
}

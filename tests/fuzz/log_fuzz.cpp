// Any bytes as a water log. What reads without an error takes one row more, and a plan's days.

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "fuzz_support.hpp"
#include "runnel/garden/meter.hpp"
#include "runnel/garden/moisture_reading.hpp"
#include "runnel/garden/water_log.hpp"
#include "runnel/garden/water_taken.hpp"

namespace {

using runnel::fuzz::require;

constexpr runnel::Date first_day{std::chrono::year{2027} / std::chrono::July / 12};
constexpr Eigen::Index days = 14;

runnel::Garden two_zones() {
  runnel::Garden garden;
  for (const char* const name : {"terrace bed", "-shade"}) {
    runnel::Zone zone{};
    zone.name = name;
    zone.valve = 1 + static_cast<int>(garden.zones.size());
    garden.zones.push_back(zone);
  }
  return garden;
}

void require_one_more(std::string_view csv, const runnel::WaterLog& log,
                      const runnel::Garden& garden) {
  const runnel::LogRow row{
      .date = "2027-07-12", .zone = "-shade", .what = "by hand", .amount = "2.5 L", .note = ""};
  const auto longer = runnel::with_log_row(csv, "log.csv", row, garden);
  runnel::fuzz::require_presentable(longer.findings, longer.value.has_value());
  if (!longer.value) return;
  require(longer.value->size() > csv.size(), "a row more makes a log longer");
  const auto again = runnel::read_water_log(*longer.value, "log.csv", garden);
  require(again.value && again.value->entries.size() == log.entries.size() + 1,
          "a row more is one entry more");
}

void require_usable(const runnel::WaterLog& log) {
  const std::vector<runnel::Delivery> deliveries(2, {.flow = runnel::Flow::litres_per_hour(400.0),
                                                     .area = runnel::Area::m2(20.0),
                                                     .multiplier = 1.2,
                                                     .leaching_share = 0.0});
  const runnel::WaterTaken planned{.first_day = first_day,
                                   .timer_min = runnel::Lanes::Constant(2, days, 10.0),
                                   .by_hand_min = runnel::Lanes::Constant(2, days, 5.0),
                                   .by_hand_mm = runnel::Lanes::Zero(2, days)};
  const runnel::WaterTaken taken = runnel::what_really_ran(log, planned, deliveries);
  const runnel::Lanes open_min = taken.valve_min();
  require((open_min >= 0.0).all() && open_min.allFinite(), "minutes are minutes");
  require((taken.by_hand_mm >= 0.0).all() && taken.by_hand_mm.allFinite(), "depths are depths");
  for (const auto& check : runnel::check_meter(log, taken, deliveries))
    runnel::fuzz::require_presentable({runnel::meter_finding(check)}, true);
  for (std::size_t zone = 0; zone < 2; ++zone) {
    const runnel::Column rain =
        runnel::rain_with_gauges(log, zone, 0.5, first_day, runnel::Column::Zero(days));
    require((rain >= 0.0).all() && rain.allFinite(), "rain is rain");
    for (const auto& reading : runnel::moisture_readings(log, zone)) {
      const double depletion_mm = reading.depletion_mm(65.0);
      require(depletion_mm >= 0.0 && depletion_mm <= 65.0, "a depletion is within what there is");
    }
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const runnel::Garden garden = two_zones();
  const std::string_view csv = runnel::fuzz::as_text(data, size);
  const auto read = runnel::read_water_log(csv, "log.csv", garden);
  runnel::fuzz::require_presentable(read.findings, read.value.has_value());
  if (!read.value) return 0;
  require_one_more(csv, *read.value, garden);
  require_usable(*read.value);
  return 0;
}

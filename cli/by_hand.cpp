#include "by_hand.hpp"

#include <algorithm>

namespace runnel::cli {

double litres_by_hand(const Plan& plan, const HandRun& run) {
  double litres = 0.0;
  for (const ZonePlan& zone : plan.zones)
    if (zone.valve == run.valve)
      litres += (zone.delivery.flow * Duration::minutes(run.minutes)).litres();
  return litres;
}

bool decided_before(const SavedPlan& before, const Plan& plan, int valve) {
  return std::any_of(before.by_hand.begin(), before.by_hand.end(), [&](const HandWatering& run) {
    return run.date == plan.from && run.valve == valve;
  });
}

std::string as_said_before(const HandRun& run) {
  return std::to_string(run.minutes) + " min, as the plan before said; counted as given";
}

void write_by_hand(JsonWriter& json, const Plan& plan) {
  json.begin_array("by_hand");
  for (const HandRun& run : plan.by_hand) {
    json.begin_object();
    json.value("valve", run.valve);
    json.value("minutes", run.minutes);
    json.value("litres", litres_by_hand(plan, run));
    json.end();
  }
  json.end();
}

}  // namespace runnel::cli

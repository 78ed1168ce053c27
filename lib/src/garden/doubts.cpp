#include "runnel/garden/doubts.hpp"

#include <algorithm>
#include <set>
#include <tuple>
#include <utility>

#include "runnel/garden/planning_constraints.hpp"
#include "runnel/garden/water_taken.hpp"
#include "start_states.hpp"
#include "uncertain_inputs.hpp"

namespace runnel {
namespace {

/// What is typed for one valve, and whether its zones come through.
struct ValvePlan {
  ValveTimes times;
  bool short_of = false;
};

bool same_typed(const ValvePlan& a, const ValvePlan& b) {
  if (a.times.openings.empty() && b.times.openings.empty()) return true;
  return a.times.days == b.times.days && a.times.openings == b.times.openings;
}

double minutes_a_week(const ValveTimes& times, Date from) {
  std::chrono::minutes sum{0};
  for (int day = 0; day < horizon_days; ++day)
    if (waters_on(times.days, from + std::chrono::days{day})) sum += times.a_day();
  constexpr double week_days = 7.0;
  return static_cast<double>(sum.count()) * week_days / horizon_days;
}

/// Plans valves one by one, each as if it were alone on the timer.
class Planner {
 public:
  Planner(const Garden& garden, const GardenPlan& planned, const PlanRequest& request)
      : garden_(garden),
        planned_(planned),
        request_(request),
        zones_(planned.zones),
        log_(water_log_of(garden, said_before_)) {
    for (const PreparedZone& zone : zones_) valves_.insert(zone.task.valve);
    for (const int valve : valves_) now_.push_back(plan(valve, garden_, planned_.weather));
  }

  [[nodiscard]] Doubt ask(const UncertainInput& input) {
    Doubt doubt{.input = input.input.empty() ? input.row->input : input.input,
                .zone = input.zone ? garden_.zones[*input.zone].name : "",
                .now = {},
                .low = {},
                .high = {},
                .how = input.row->how,
                .write = input.row->write,
                .source = input.row->source};
    const std::vector<ValvePlan> now = input.zone ? now_of(*input.zone) : now_;
    // An end that reads as what is taken anyhow needs no plan.
    const std::vector<ValvePlan> low =
        input.low == input.taken ? now : moved(input.zone, input.put_low);
    const std::vector<ValvePlan> high =
        input.high == input.taken ? now : moved(input.zone, input.put_high);
    doubt.now = answer(now, input.taken);
    doubt.low = answer(low, input.low);
    doubt.high = answer(high, input.high);
    const auto same = [&now](const std::vector<ValvePlan>& then) {
      return std::equal(now.begin(), now.end(), then.begin(), then.end(), same_typed);
    };
    doubt.matters = !same(low) || !same(high);
    return doubt;
  }

 private:
  [[nodiscard]] std::vector<ValvePlan> now_of(std::size_t zone) const {
    const auto at = std::distance(valves_.begin(), valves_.find(garden_.zones[zone].valve));
    return {now_[static_cast<std::size_t>(at)]};
  }

  /// The valves concerned in a garden that is otherwise in one thing; as they are where that
  /// cannot be, such as hours of sun on a date on which it is down.
  [[nodiscard]] std::vector<ValvePlan> moved(std::optional<std::size_t> zone,
                                             const std::function<void(Garden&)>& put) {
    Garden other = garden_;
    put(other);
    std::vector<ValvePlan> plans;
    if (zone) {
      PreparedZone then;
      try {
        then = prepared(other, *zone, weather());
      } catch (const InputError&) {
        return now_of(*zone);
      }
      const PreparedZone before = std::exchange(zones_[*zone], std::move(then));
      plans.push_back(plan(other.zones[*zone].valve, other, weather()));
      zones_[*zone] = before;
      return plans;
    }
    const AssumedWeather otherwise = weather_of(other);
    const std::vector<PreparedZone> before = zones_;
    for (std::size_t z = 0; z < zones_.size(); ++z) zones_[z] = prepared(other, z, otherwise);
    for (const int valve : valves_) plans.push_back(plan(valve, other, otherwise));
    zones_ = before;
    return plans;
  }

  [[nodiscard]] const AssumedWeather& weather() const { return planned_.weather; }

  [[nodiscard]] AssumedWeather weather_of(const Garden& other) {
    const SiteWeather site = read_weather_with_gauge(other, log_, said_before_);
    return assume_weather(other, site, planned_.plan.from,
                          static_cast<int>(planned_.weather.eto_mm.size()), said_before_);
  }

  [[nodiscard]] PreparedZone prepared(const Garden& other, std::size_t zone,
                                      const AssumedWeather& weather) {
    return prepare_zone(other, other.zones[zone], weather, said_before_,
                        start_again(planned_.zones[zone]));
  }

  [[nodiscard]] ValvePlan plan(int valve, const Garden& garden, const AssumedWeather& weather) {
    const Date from = planned_.plan.from;
    const Constraints constraints = constraints_of(garden, weather, zones_, from, said_before_);
    std::vector<ZoneTask> tasks;
    for (const PreparedZone& zone : zones_)
      if (zone.task.valve == valve) tasks.push_back(zone.task);
    Plan alone = plan_week(tasks, constraints, from, {.risk = request_.risk});
    return {.times = std::move(alone.valves.front()), .short_of = !alone.unharmed()};
  }

  [[nodiscard]] DoubtAnswer answer(const std::vector<ValvePlan>& plans, std::string value) const {
    DoubtAnswer answer{.value = std::move(value)};
    for (const ValvePlan& plan : plans) {
      answer.minutes += minutes_a_week(plan.times, planned_.plan.from);
      answer.short_of = answer.short_of || plan.short_of;
    }
    if (plans.size() == 1 && !plans.front().times.openings.empty())
      answer.days = to_text(plans.front().times.days);
    return answer;
  }

  const Garden& garden_;
  const GardenPlan& planned_;
  const PlanRequest& request_;
  std::vector<Finding> said_before_;
  std::vector<PreparedZone> zones_;  // those of the plan, but for what is looked at
  WaterLog log_;
  std::set<int> valves_;
  std::vector<ValvePlan> now_;  // by valve
};

std::vector<UncertainInput> uncertain_inputs(const Garden& garden, const GardenPlan& planned) {
  std::vector<UncertainInput> inputs = uncertain_site(garden, planned);
  for (std::size_t z = 0; z < garden.zones.size(); ++z) {
    const UncertainZone zone(garden, planned, z, inputs);
    add_uncertain_delivery(zone);
    add_uncertain_plants(zone);
    add_uncertain_exposure(zone);
    add_uncertain_ground(zone);
    add_uncertain_pots(zone);
  }
  return inputs;
}

}  // namespace

double Doubt::change_minutes() const {
  const auto [least, most] = std::minmax({now.minutes, low.minutes, high.minutes});
  return most - least;
}

std::vector<Doubt> doubts(const Garden& garden, const GardenPlan& planned,
                          const PlanRequest& request) {
  Planner planner(garden, planned, request);
  std::vector<Doubt> all;
  for (const UncertainInput& input : uncertain_inputs(garden, planned))
    all.push_back(planner.ask(input));
  std::stable_sort(all.begin(), all.end(), [](const Doubt& a, const Doubt& b) {
    return std::tuple(a.matters, a.change_minutes()) > std::tuple(b.matters, b.change_minutes());
  });
  return all;
}

}  // namespace runnel

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <variant>

#include "garden_changes.hpp"
#include "runnel/demand/containers.hpp"
#include "runnel/demand/plants.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/number.hpp"

namespace runnel {
namespace {

// Sizes that are tried, the least first (our choice).
constexpr std::array<double, 4> more_flow = {1.25, 1.5, 1.75, 2.0};
constexpr std::array<double, 5> less_flow = {0.8, 0.65, 0.5, 0.35, 0.25};
constexpr std::array<double, 6> larger_pots = {1.25, 1.5, 2.0, 2.5, 3.0, 4.0};

template <std::size_t n>
double size_of(const std::array<double, n>& sizes, int size) {
  return sizes[static_cast<std::size_t>(size - 1)];
}

/// As it is then written: a figure with one decimal, and no less than that.
double written(double value) { return std::max(0.1, std::round(10.0 * value) / 10.0); }
Flow written(Flow flow) { return Flow::litres_per_hour(written(flow.litres_per_hour())); }

/// A spec with its flow times a factor, and how in words.
struct OtherFlow {
  EmitterSpec spec;
  std::string does;
};

struct TimesFlow {
  double factor;
  Display display;

  [[nodiscard]] std::string figure(Flow flow) const {
    return number(display, Shown::emitter_flow, flow.litres_per_hour(), 1);
  }
  [[nodiscard]] std::string with_unit(Flow flow) const {
    return measure(display, Shown::emitter_flow, flow.litres_per_hour(), 1);
  }

  [[nodiscard]] OtherFlow operator()(Drippers drippers) const {
    const Flow before = drippers.each;
    drippers.each = written(factor * before);
    return {drippers,
            "emitters of " + with_unit(drippers.each) + " each instead of " + figure(before)};
  }
  [[nodiscard]] OtherFlow operator()(Dripline line) const {
    const Flow before = line.each;
    line.each = written(factor * before);
    return {line,
            "dripline of " + with_unit(line.each) + " an emitter instead of " + figure(before)};
  }
  [[nodiscard]] OtherFlow operator()(SoakerHose hose) const {
    const Flow before = hose.per_metre;
    hose.per_metre = written(factor * before);
    const double length_m = 1.0 / converted(display, Shown::height, 1.0);
    return {hose, "a soaker hose of " + with_unit(length_m * hose.per_metre) +
                      (display.units == UnitSystem::us ? " a foot" : " a metre") + " instead of " +
                      figure(length_m * before)};
  }
  [[nodiscard]] OtherFlow operator()(Heads heads) const {
    for (Head& head : heads.heads) head.each = factor * head.each;
    return {heads, "heads of " + fixed(factor, 2) + " times the flow each"};
  }
  [[nodiscard]] OtherFlow operator()(MeasuredFlow flow) const {
    const Flow before = flow.total;
    flow.total = written(factor * before);
    return {flow, "emitters that bring " + with_unit(flow.total) + " in all instead of " +
                      figure(before)};
  }
  [[nodiscard]] OtherFlow operator()(MeasuredRate rate) const {
    const double before_mm_h = rate.rate.mm_per_hour();
    rate.rate = Rate::mm_per_hour(written(factor * before_mm_h));
    return {rate, "emitters that bring " +
                      measure(display, Shown::rate, rate.rate.mm_per_hour(), 1) + " instead of " +
                      number(display, Shown::rate, before_mm_h, 1)};
  }
};

/// A change to one zone alone: it says what it does and makes it.
using InZone = std::function<std::string(Zone&, int size)>;

GardenChange change(Ease ease, int sizes, std::size_t which, InZone make) {
  return {.ease = ease,
          .sizes = sizes,
          .make =
              [which, make = std::move(make)](const Garden& before, int size) {
                ChangedGarden changed{.does = {}, .garden = before};
                Zone& zone = changed.garden.zones[which];
                changed.does = zone.name + ": " + make(zone, size);
                return changed;
              },
          .zones = {which}};
}

template <std::size_t n>
GardenChange other_flow(const std::array<double, n>& factors, int sizes, std::size_t which,
                        const Display& display) {
  return change(Ease::emitters, sizes, which, [&factors, display](Zone& zone, int size) {
    OtherFlow other = std::visit(TimesFlow{size_of(factors, size), display}, zone.emitters.spec);
    zone.emitters.spec = std::move(other.spec);
    return other.does;
  });
}

/// How many of the larger flows the supply feeds.
int sizes_within_supply(const Garden& garden, const Delivery& delivery) {
  if (!garden.supply_flow) return static_cast<int>(more_flow.size());
  return static_cast<int>(std::count_if(more_flow.begin(), more_flow.end(), [&](double factor) {
    return factor * delivery.flow <= *garden.supply_flow;
  }));
}

/// The lowest number that no zone has.
int free_valve(const Garden& garden) {
  std::set<int> used;
  for (const Zone& zone : garden.zones) used.insert(zone.valve);
  int valve = 1;
  while (used.contains(valve)) ++valve;
  return valve;
}

/// The timer gets valves enough, and the words for it.
std::string timer_for(Garden& garden, int valve) {
  if (valve <= garden.timer.valves) return {};
  garden.timer.valves = valve;
  return ", on a timer for " + std::to_string(valve) + " valves";
}

GardenChange own_valve(std::size_t which) {
  return {.ease = Ease::valves,
          .sizes = 1,
          .make =
              [which](const Garden& before, int /*size*/) {
                ChangedGarden changed{.does = {}, .garden = before};
                Zone& zone = changed.garden.zones[which];
                zone.valve = free_valve(before);
                zone.shared_valve = false;
                changed.does = zone.name + ": a valve of its own (valve " +
                               std::to_string(zone.valve) + ")" +
                               timer_for(changed.garden, zone.valve);
                return changed;
              },
          .zones = {which}};
}

/// Whether runs are cut short before water runs off; of a valve that stays shut, whether they
/// would.
bool runoff_binds(const GardenPlan& planned, const ZoneTask& task, const Timer& timer) {
  std::chrono::minutes longest{0};
  for (const ValveTimes& times : planned.plan.valves)
    if (times.valve == task.valve)
      for (const ValveTimes::Opening& opening : times.openings)
        longest = std::max(longest, opening.length);
  const double limit_min = cycle_limit(task.delivery.rate(), task.intake).longest_cycle.minutes();
  if (longest.count() == 0) return limit_min < timer.minutes_most;
  return static_cast<double>(longest.count()) + 1.0 > limit_min;
}

bool is_turf(const Zone& zone) {
  const auto plant = find_kind(plant_table(), zone.plants.name);
  return plant && std::holds_alternative<Turf>(*plant);
}

/// Only where the soil's evaporation is worked out apart does a mulch show.
bool mulch_shows(const Zone& zone, const ZoneTask& task) {
  return zone.soil && zone.soil->mulch.empty() && task.root_zone.surface && !is_turf(zone);
}

GardenChange bark_mulch(std::size_t which) {
  return change(Ease::mulch, 1, which, [](Zone& zone, int /*size*/) {
    zone.soil->mulch = "bark";
    zone.soil->mulch_cover = 1.0;
    return std::string("bark mulch on all of the ground");
  });
}

GardenChange close_together(std::size_t which) {
  return change(Ease::place_of_pots, 1, which, [](Zone& zone, int /*size*/) {
    zone.containers->placed = "in a group";
    return std::string("pots placed in a group");
  });
}

GardenChange into_shade(std::size_t which) {
  return change(Ease::place_of_pots, 1, which, [](Zone& zone, int /*size*/) {
    zone.exposure = {};
    zone.exposure.words = "part shade";
    return std::string("pots moved into part shade");
  });
}

/// Pots of the same shape for the same plants.
GardenChange more_volume(std::size_t which, const Display& display) {
  return change(
      Ease::size_of_pots, static_cast<int>(larger_pots.size()), which,
      [display](Zone& zone, int size) {
        ContainersEntry& pots = *zone.containers;
        const double before_l = pots.volume_l;
        const auto whole_cm = [](double metres) { return std::round(100.0 * metres) / 100.0; };
        const auto cm = [&display](double metres) {
          return measure(display, Shown::size, metres, 0);
        };
        if (!pots.canopy_diameter_m)
          pots.canopy_diameter_m = whole_cm(canopy_over_mouth * pots.mouth_diameter_m);
        pots.volume_l = written(size_of(larger_pots, size) * before_l);
        const double wider = std::cbrt(pots.volume_l / before_l);
        pots.mouth_diameter_m = whole_cm(wider * pots.mouth_diameter_m);
        std::string shape = cm(pots.mouth_diameter_m) + " across";
        if (pots.height_m) {
          pots.height_m = whole_cm(wider * *pots.height_m);
          shape += ", " + cm(*pots.height_m) + " high";
        }
        return "pots of " + measure(display, Shown::volume, pots.volume_l, 1) + " instead of " +
               number(display, Shown::volume, before_l, 1) + " (" + shape +
               ") for the same plants (canopy " + cm(*pots.canopy_diameter_m) + ")";
      });
}

bool shares_valve(const Garden& garden, std::size_t which) {
  return std::count_if(garden.zones.begin(), garden.zones.end(), [&](const Zone& zone) {
           return zone.valve == garden.zones[which].valve;
         }) > 1;
}

void add_pot_changes(const Garden& garden, std::size_t which, std::vector<GardenChange>& changes) {
  const Zone& zone = garden.zones[which];
  const PotPlaceTable places = pot_place_table();
  const double in_a_group = find_pot_place(places, "in a group")->factor;
  if (!zone.plants.coefficient &&
      find_pot_place(places, zone.containers->placed)->factor > in_a_group)
    changes.push_back(close_together(which));
  changes.push_back(into_shade(which));
  changes.push_back(more_volume(which, garden.display));
}

GardenChange without_wish(std::size_t which, const std::string& wish,
                          void (*give_up)(ZoneWishes& wishes)) {
  return change(Ease::wishes, 1, which, [wish, give_up](Zone& zone, int /*size*/) {
    give_up(zone.wishes);
    return "without the wish " + wish;
  });
}

}  // namespace

std::vector<GardenChange> changes_of_wishes(const Garden& garden, std::size_t which) {
  const ZoneWishes& wishes = garden.zones[which].wishes;
  std::vector<GardenChange> changes;
  if (!wishes.hours.empty()) {
    std::string hours;
    for (const Window& window : wishes.hours)
      hours +=
          (hours.empty() ? "" : ", ") + clock_span(garden.display, window.opens, window.closes);
    changes.push_back(without_wish(which, "for hours of its own (" + hours + ")",
                                   [](ZoneWishes& given) { given.hours.clear(); }));
  }
  if (wishes.finish_by)
    changes.push_back(without_wish(which,
                                   "to finish by " + clock(garden.display, *wishes.finish_by),
                                   [](ZoneWishes& given) { given.finish_by.reset(); }));
  if (wishes.not_on.any())
    changes.push_back(
        without_wish(which, "for no water on " + to_text(DayPattern(Weekdays{wishes.not_on})),
                     [](ZoneWishes& given) { given.not_on.reset(); }));
  return changes;
}

std::vector<GardenChange> changes_of_zone(const Garden& garden, const GardenPlan& planned,
                                          std::size_t which) {
  const Zone& zone = garden.zones[which];
  const ZoneTask& task = planned.zones[which].task;
  const Delivery& delivery = task.delivery;
  std::vector<GardenChange> changes;
  if (runoff_binds(planned, task, garden.timer)) {
    changes.push_back(
        other_flow(less_flow, static_cast<int>(less_flow.size()), which, garden.display));
  } else if (const int sizes = sizes_within_supply(garden, delivery); sizes > 0) {
    changes.push_back(other_flow(more_flow, sizes, which, garden.display));
  }
  if (shares_valve(garden, which)) changes.push_back(own_valve(which));
  if (mulch_shows(zone, task)) changes.push_back(bark_mulch(which));
  if (zone.containers) add_pot_changes(garden, which, changes);
  return changes;
}

}  // namespace runnel

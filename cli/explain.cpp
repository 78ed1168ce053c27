#include <algorithm>
#include <string_view>
#include <vector>

#include "find_zone.hpp"
#include "plan_report.hpp"
#include "runnel/units/number.hpp"
#include "settings.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

std::string facts_table(const PreparedZone& zone) {
  const TextTable table({{"figure", 24}, {"value", 16}, {"source", 34}});
  std::string text = table.heading();
  for (const Fact& fact : zone.facts) text += table.row({fact.what, fact.value, fact.source});
  return text;
}

std::string day_table(const Display& display, const GardenPlan& planned,
                      const PreparedZone& prepared, const ZonePlan& zone) {
  const TextTable table({{"day", 10},
                         {"ETo", 5, true},
                         {"expos.", 6, true},
                         {"coeff.", 6, true},
                         {"ETc", 5, true},
                         {"rain", 5, true},
                         {"water", 5, true},
                         {"drain", 5, true},
                         {"deplet.", 7, true},
                         {"limit", 5, true}});
  const Column exposure = prepared.chain.exposure();
  const auto depth = [&display](double depth_mm, int decimals) {
    return number(display, Shown::depth, depth_mm, decimals);
  };
  std::string text = table.heading();
  for (Eigen::Index day = 0; day < 7; ++day) {
    text +=
        table.row({short_date(planned.plan.from + std::chrono::days{day}),
                   depth(planned.weather.eto_mm[day], 2), fixed(exposure[day], 2),
                   fixed(prepared.task.model.kc[day], 2), depth(zone.trace.etc_mm[day], 2),
                   depth(zone.trace.rain_mm[day], 1), depth(zone.trace.net_irrigation_mm[day], 1),
                   depth(zone.trace.drained_mm[day], 1), depth(zone.trace.end_mm[day], 1),
                   depth(zone.trace.limit_mm[day], 1)});
  }
  return text;
}

/// What the soil surface and the ground beside the emitters do, where the zone has them.
std::string parts_table(const Display& display, const GardenPlan& planned, const ZonePlan& zone) {
  const BalanceTrace& trace = zone.trace;
  const bool surface = trace.e_mm.size() > 0;
  const bool dry_part = trace.dry_end_mm.size() > 0;
  if (!surface && !dry_part) return {};
  std::string text;
  if (surface)
    text += "\ncoeff. is Kcb; ETc holds E = Ke ET from the soil; De: depletion of its surface\n";
  if (dry_part)
    text += "\ndeplet. and limit are of the " + fixed(100.0 * zone.wetted_share, 0) +
            " % that irrigation reaches, dry of the rest;\nall else is over the zone\n";
  std::vector<TextTable::Heading> headings{{"day", 10}};
  if (surface) headings.insert(headings.end(), {{"Ke", 5, true}, {"E", 5, true}, {"De", 5, true}});
  if (dry_part) headings.push_back({"dry", 5, true});
  const TextTable table(headings);
  text += table.heading();
  for (Eigen::Index day = 0; day < 7; ++day) {
    std::vector<std::string> cells{short_date(planned.plan.from + std::chrono::days{day})};
    if (surface) {
      cells.push_back(fixed(trace.ke[day], 2));
      cells.push_back(number(display, Shown::depth, trace.e_mm[day], 2));
      cells.push_back(number(display, Shown::depth, trace.surface_end_mm[day], 1));
    }
    if (dry_part) cells.push_back(number(display, Shown::depth, trace.dry_end_mm[day], 1));
    text += table.row(cells);
  }
  return text;
}

}  // namespace

std::string explain_text(const Garden& garden, const GardenPlan& planned, const std::string& name) {
  const std::size_t index = find_zone(garden, name);
  const ZonePlan& zone = planned.plan.zones[index];
  const PreparedZone& prepared = planned.zones[index];
  const ValveTimes& times = times_of(planned.plan, zone.valve);
  const Delivery& delivery = zone.delivery;
  const Display& display = garden.display;
  const auto depth = [&display](double depth_mm, int decimals) {
    return measure(display, Shown::depth, depth_mm, decimals);
  };

  std::string text = printable(garden.name) + ": " + printable(zone.name) + ", valve " +
                     std::to_string(zone.valve) + "\n\n";
  text += "1. WHAT IS KNOWN\n" + facts_table(prepared);
  if (display.units == UnitSystem::us)
    text +=
        "\n" + paragraph("",
                         "The equations named are metric, and so is what the program reckons with: "
                         "the figures here are converted for reading.");
  text += "\n2. DAY BY DAY, " + std::string(unit_shown(display, Shown::depth)) +
          " (FAO-56 Eq. 85: deplet. + ETc + drain - rain - water)\n";
  text += "depletion at the start: " + depth(zone.start_depletion_mm, 1) + "\n" +
          day_table(display, planned, prepared, zone) + parts_table(display, planned, zone);
  text += "\n3. MINUTES\n";
  const auto first = times.openings.empty() ? std::chrono::minutes{0} : times.openings[0].length;
  const auto run = static_cast<double>(first.count());
  text += "one run:   " + std::to_string(first.count()) + " min x " +
          measure(display, Shown::rate, delivery.rate().mm_per_hour(), 2) +
          " / 60 = " + depth(run * delivery.rate().mm_per_hour() / 60.0, 2) + " gross\n";
  text += "to roots:  / " + fixed(delivery.multiplier, 3) + " for uneven watering";
  if (delivery.leaching_share > 0.0)
    text += ", x " + fixed(1.0 - delivery.leaching_share, 2) + " for leaching";
  text += " = " + depth(run * delivery.net_mm_per_minute(), 2) + "\n";
  text += "the week:  " + std::to_string(zone.waterings) +
          (zone.waterings == 1 ? " run" : " runs") + ", " + depth(zone.gross_mm, 1) + " gross x " +
          measure(display, Shown::area, delivery.area.m2(), 2) + " = " +
          measure(display, Shown::volume, zone.gross_litres, 0) + "\n";
  const Setting setting = setting_of(planned.plan, garden, zone.valve);
  text += "set:       " + setting.days + " at " + setting.starts + ", " + setting.minutes +
          " minutes each\n";
  if (zone.days_beyond > 0)
    return text + paragraph("",
                            "No minutes that could be found keep depletion within the limit: "
                            "with these it is beyond it on " +
                                std::to_string(zone.days_beyond) + " of " +
                                std::to_string(zone.days_judged) + " days.");
  const Eigen::Index looked_at = zone.trace.end_mm.size();
  const std::string how_long =
      looked_at == horizon_days ? "two weeks" : std::to_string(looked_at) + " days";
  return text + paragraph("",
                          "These are the fewest minutes with which depletion stays within the "
                          "limit for " +
                              how_long +
                              " and ends, on average, no drier than the start or half the limit, "
                              "whichever is drier.");
}

}  // namespace runnel::cli

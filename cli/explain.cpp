#include <algorithm>
#include <string_view>
#include <vector>

#include "by_hand.hpp"
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
  // The trace is of the first future, and so is all that is multiplied here.
  const Column eto_mm = planned.weather.eto_by_future_mm().row(0).transpose();
  const Column et_mm = prepared.task.horizon.et_mm.row(0).transpose();
  const Column exposure = (eto_mm > 0.0).select(et_mm / eto_mm, 1.0);
  const auto depth = [&display](double depth_mm, int decimals) {
    return number(display, Shown::depth, depth_mm, decimals);
  };
  std::string text = table.heading();
  for (Eigen::Index day = 0; day < 7; ++day) {
    text += table.row(
        {short_date(planned.plan.from + std::chrono::days{day}), depth(eto_mm[day], 2),
         fixed(exposure[day], 2), fixed(prepared.task.model.kc[day], 2),
         depth(zone.trace.etc_mm[day], 2), depth(zone.trace.rain_mm[day], 1),
         depth(zone.trace.net_irrigation_mm[day], 1), depth(zone.trace.drained_mm[day], 1),
         depth(zone.trace.end_mm[day], 1), depth(zone.trace.limit_mm[day], 1)});
  }
  return text;
}

/// What the soil surface and the ground beside the emitters do, where the zone has them, and what
/// plants that stand too dry go without.
std::string parts_table(const Display& display, const GardenPlan& planned, const ZonePlan& zone) {
  const BalanceTrace& trace = zone.trace;
  const bool surface = trace.e_mm.size() > 0;
  const bool dry_part = trace.dry_end_mm.size() > 0;
  constexpr double shown_mm = 0.005;
  const bool unmet = (trace.unmet_mm.head(7) >= shown_mm).any();
  if (!surface && !dry_part && !unmet) return {};
  std::string text;
  if (surface)
    text +=
        "\ncoeff. is Kcb; ETc holds E besides: Ke ET, or what is left at the surface;\n"
        "De: depletion of the surface\n";
  if (dry_part)
    text += "\ndeplet. and limit are of the " + fixed(100.0 * zone.wetted_share, 0) +
            " % that irrigation reaches, dry of the rest;\nall else is over the zone\n";
  if (unmet) text += "\nunmet: what plants go without while it is too dry; ETc is that much less\n";
  std::vector<TextTable::Heading> headings{{"day", 10}};
  if (surface) headings.insert(headings.end(), {{"Ke", 5, true}, {"E", 5, true}, {"De", 5, true}});
  if (dry_part) headings.push_back({"dry", 5, true});
  if (unmet) headings.push_back({"unmet", 5, true});
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
    if (unmet) cells.push_back(number(display, Shown::depth, trace.unmet_mm[day], 2));
    text += table.row(cells);
  }
  return text;
}

/// One run and the week's, in minutes and litres; nothing of a valve that stays shut.
std::string runs_text(const Display& display, const ZonePlan& zone, const ValveTimes& times) {
  if (times.openings.empty()) return {};
  const auto depth = [&display](double depth_mm, int decimals) {
    return measure(display, Shown::depth, depth_mm, decimals);
  };
  const Delivery& delivery = zone.delivery;
  const std::chrono::minutes first = times.openings.front().length;
  const auto run = static_cast<double>(first.count());
  std::string text = "one run:   " + std::to_string(first.count()) + " min x " +
                     measure(display, Shown::rate, delivery.rate().mm_per_hour(), 2) +
                     " / 60 = " + depth(run * delivery.rate().mm_per_hour() / 60.0, 2) + " gross\n";
  text += "to roots:  / " + fixed(delivery.multiplier, 3) + " for uneven watering";
  if (delivery.leaching_share > 0.0)
    text += ", x " + fixed(1.0 - delivery.leaching_share, 2) + " for leaching";
  text += " = " + depth(run * delivery.net_mm_per_minute(), 2) + "\n";
  return text + "the week:  " + std::to_string(zone.waterings) +
         (zone.waterings == 1 ? " run" : " runs") + ", " + depth(zone.gross_mm, 1) + " gross x " +
         measure(display, Shown::area, delivery.area.m2(), 2) + " = " +
         measure(display, Shown::volume, zone.gross_litres, 0) + "\n";
}

/// "in 53 of 64 futures, as the risk allows".
std::string in_futures(const ZonePlan& zone, bool away) {
  const std::string all = std::to_string(zone.futures) + " futures";
  if (zone.futures_beyond == 0) return "in all " + all;
  return "in " + std::to_string(zone.futures - zone.futures_beyond) + " of " + all +
         ", as the risk allows" +
         (away ? "" : " (one that goes beyond it only after the week counts as a fifth)");
}

/// What the minutes achieve, of a zone that does not fall short.
std::string achieved(const ZonePlan& zone, const std::string& with, bool away) {
  const std::string how_long =
      zone.days_judged == horizon_days ? "two weeks" : std::to_string(zone.days_judged) + " days";
  if (zone.futures == 1)
    return with + " depletion stays within the limit for " + how_long +
           " and ends no drier than the start or half the limit, whichever is drier.";
  return with + " depletion stays within the limit for " + how_long + " " + in_futures(zone, away) +
         ", and ends, on average, no drier than the start or the limit, whichever is drier.";
}

}  // namespace

std::string explain_text(const Garden& garden, const GardenPlan& planned, const std::string& name) {
  const std::size_t index = find_zone(garden, name);
  const ZonePlan& zone = planned.plan.zones[index];
  const PreparedZone& prepared = planned.zones[index];
  const ValveTimes& times = times_of(planned.plan, zone.valve);
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
  if (zone.futures > 1)
    text += "the first of " + std::to_string(zone.futures) +
            " futures; what is said of the week in 1 is their mean\n";
  text += "depletion at the start: " + depth(zone.start_depletion_mm, 1) + "\n" +
          day_table(display, planned, prepared, zone) + parts_table(display, planned, zone);
  text += "\n3. MINUTES\n";
  const int by_hand_min = planned.plan.by_hand_min(zone.valve);
  if (by_hand_min > 0)
    text += "by hand:   " + as_said_before({.valve = zone.valve, .minutes = by_hand_min}) + "\n";
  text += runs_text(display, zone, times);
  const Setting setting = setting_of(planned.plan, garden, zone.valve);
  const bool shut = times.openings.empty();
  text +=
      "set:       " +
      (shut ? "stays shut"
            : setting.days + " at " + setting.starts + ", " + setting.minutes + " minutes each") +
      "\n";
  if (zone.days_beyond > 0)
    return text + paragraph("",
                            "No minutes that could be found keep depletion within the limit: "
                            "with these it is beyond it on " +
                                std::to_string(zone.days_beyond) + " of " +
                                std::to_string(zone.days_judged) + " days.");
  const std::string with = !shut             ? "These are the fewest minutes with which"
                           : by_hand_min > 0 ? "With that alone"
                                             : "Without water";
  return text + paragraph("", achieved(zone, with, planned.away.has_value()));
}

}  // namespace runnel::cli

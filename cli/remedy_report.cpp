#include "remedy_report.hpp"

#include <algorithm>

#include "runnel/units/number.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

constexpr std::size_t most_remedies = 5;

std::string days(const ZonePlan& zone) {
  return std::to_string(zone.days_beyond) + " of " + std::to_string(zone.days_judged) + " days";
}

/// "10.9 mm too dry on 11 of 14 days, going without 43 mm of water".
std::string how_dry(const Display& display, const ZonePlan& zone) {
  const std::string dry =
      some(display, Shown::depth, zone.beyond_mm_a_day(), 1) + " too dry on " + days(zone);
  return zone.unmet_mm < 0.5 ? dry
                             : dry + ", going without " +
                                   measure(display, Shown::depth, zone.unmet_mm, 0) + " of water";
}

std::string effect(const Display& display, const Remedy& remedy) {
  const std::string litres = measure(display, Shown::volume, remedy.litres, 0) + " a week";
  if (remedy.zones_short == 0) return "then nothing falls short; " + litres;
  const ZonePlan& worst = *std::max_element(
      remedy.plan.zones.begin(), remedy.plan.zones.end(), [](const ZonePlan& a, const ZonePlan& b) {
        return a.beyond_mm + a.unmet_mm < b.beyond_mm + b.unmet_mm;
      });
  const std::string still =
      "then still short: " + printable(worst.name) + ", " + how_dry(display, worst);
  const int others = remedy.zones_short - 1;
  if (others == 0) return still + "; " + litres;
  return still + ", and " + std::to_string(others) +
         (others == 1 ? " other zone; " : " other zones; ") + litres;
}

}  // namespace

std::string shortfall(const Display& display, const ZonePlan& zone) {
  return printable(zone.name) + ": from " + short_date(*zone.first_beyond) + " " +
         how_dry(display, zone) + "; can spare " +
         measure(display, Shown::depth, zone.limit_mm, 1) + ".";
}

std::string remedy_text(const Display& display, const Remedy& remedy) {
  return printable(remedy.does) + ": " + effect(display, remedy) + ".";
}

std::string shortfall_text(const Display& display, const Plan& plan, const Mending& mending) {
  if (plan.unharmed()) return {};
  std::string text = "\nFALLS SHORT\n";
  for (const ZonePlan& zone : plan.zones)
    if (zone.days_beyond > 0) text += paragraph("  ", shortfall(display, zone));
  for (const Finding& rule : mending.binding_rules)
    text += paragraph("  ", "Line " + std::to_string(rule.at.line) + ", " + rule.says + ".");
  const std::vector<Remedy>& remedies = mending.remedies;
  if (remedies.empty())
    return text + paragraph("  ", "  ",
                            "Nothing that was tried helps: give the roots more to draw on, or more "
                            "shade.");
  text += remedies.front().zones_short == 0 ? "\nWOULD MEND IT\n" : "\nWOULD HELP IN PART\n";
  for (std::size_t i = 0; i < std::min(most_remedies, remedies.size()); ++i)
    text +=
        paragraph("  " + std::to_string(i + 1) + ". ", "     ", remedy_text(display, remedies[i]));
  return text;
}

void write_shortfalls(JsonWriter& json, const GardenPlan& planned, const Mending& mending) {
  json.begin_array("shortfalls");
  for (const ZonePlan& zone : planned.plan.zones) {
    if (zone.days_beyond == 0) continue;
    json.begin_object();
    json.value("zone", zone.name);
    json.value("beyond_mm_a_day", zone.beyond_mm_a_day());
    json.value("days_beyond", zone.days_beyond);
    json.value("first_beyond", iso_date(*zone.first_beyond));
    json.value("unmet_mm", zone.unmet_mm);
    json.value("limit_mm", zone.limit_mm);
    json.end();
  }
  json.end();
  json.begin_array("binding_rules");
  for (const Finding& rule : mending.binding_rules) json.element(to_text(rule));
  json.end();
  json.begin_array("remedies");
  for (const Remedy& remedy : mending.remedies) {
    json.begin_object();
    json.value("does", remedy.does);
    json.value("zones_short", remedy.zones_short);
    json.value("harm_mm", remedy.harm_mm);
    json.value("days_beyond", remedy.days_beyond);
    json.value("litres", planned.away ? planned_litres(remedy.plan) : remedy.litres);
    json.begin_array("futures_unharmed");
    for (const ZonePlan& zone : remedy.plan.zones)
      json.element(static_cast<double>(zone.futures - zone.futures_beyond));
    json.end();
    json.end();
  }
  json.end();
}

}  // namespace runnel::cli

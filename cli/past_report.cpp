#include "past_report.hpp"

#include <algorithm>

#include "text_table.hpp"

namespace runnel::cli {
namespace {

/// The evenings on which a moisture reading found otherwise.
std::string found_text(const Display& display, const std::vector<PastDay>& days) {
  std::string text;
  for (const PastDay& day : days)
    if (day.found_mm)
      text += " On the evening of " + short_date(day.date) + " " +
              measure(display, Shown::depth, *day.found_mm, 1) + " were found missing where " +
              number(display, Shown::depth, day.end_mm, 1) + " were reckoned.";
  return text;
}

/// The evening that was driest, or how far the zone went beyond its limit where no evening shows
/// it.
std::string worst_text(const Display& display, const std::vector<PastDay>& days) {
  const auto depth = [&display](double depth_mm) {
    return measure(display, Shown::depth, depth_mm, 1);
  };
  const auto driest =
      std::max_element(days.begin(), days.end(),
                       [](const PastDay& a, const PastDay& b) { return a.end_mm < b.end_mm; });
  const auto worst = std::max_element(
      days.begin(), days.end(),
      [](const PastDay& a, const PastDay& b) { return a.beyond_mm < b.beyond_mm; });
  if (worst->beyond() && driest->end_mm <= driest->limit_mm)
    return "; at worst " + depth(worst->limit_mm + worst->beyond_mm) + " of " +
           depth(worst->limit_mm) + ", on " + short_date(worst->date) + " before its watering.";
  std::string text =
      "; driest on the evening of " + short_date(driest->date) + ": " + depth(driest->end_mm);
  // A bed is judged after its morning's water.
  if (!driest->beyond() && driest->end_mm > driest->limit_mm)
    return text + " missing, before the next morning's watering.";
  return text + " of " + depth(driest->limit_mm) + ".";
}

std::string zone_text(const Display& display, const std::string& name,
                      const std::vector<PastDay>& days) {
  const auto beyond =
      std::count_if(days.begin(), days.end(), [](const PastDay& day) { return day.beyond(); });
  std::string text = printable(name) + ": ";
  if (beyond == 0) {
    text += "within its limit on all " + std::to_string(days.size()) + " days";
  } else {
    text += "BEYOND its limit on " + std::to_string(beyond) + " of " + std::to_string(days.size()) +
            " days";
    const char* before = " (";
    for (const PastDay& day : days) {
      if (!day.beyond()) continue;
      text += before + short_date(day.date);
      before = ", ";
    }
    text += ")";
  }
  return text + worst_text(display, days) + found_text(display, days);
}

}  // namespace

std::string past_text(const Display& display, const GardenPlan& planned) {
  std::string text;
  for (std::size_t z = 0; z < planned.past.size(); ++z)
    if (!planned.past[z].empty())
      text += paragraph("  ", zone_text(display, planned.plan.zones[z].name, planned.past[z]));
  return text.empty() ? text : "\nHOW THE DAYS SINCE THE PLAN BEFORE WENT\n" + text;
}

void write_past(JsonWriter& json, const GardenPlan& planned) {
  json.begin_array("past");
  for (std::size_t z = 0; z < planned.past.size(); ++z) {
    for (const PastDay& day : planned.past[z]) {
      json.begin_object();
      json.value("zone", planned.plan.zones[z].name);
      json.value("date", iso_date(day.date));
      json.value("end_depletion_mm", day.end_mm);
      json.value("limit_mm", day.limit_mm);
      json.value("beyond", day.beyond());
      if (day.found_mm) json.value("found_depletion_mm", *day.found_mm);
      json.end();
    }
  }
  json.end();
}

}  // namespace runnel::cli

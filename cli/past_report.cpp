#include "past_report.hpp"

#include <algorithm>

#include "runnel/units/number.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

std::string zone_text(const Display& display, const std::string& name,
                      const std::vector<PastDay>& days) {
  const auto beyond =
      std::count_if(days.begin(), days.end(), [](const PastDay& day) { return day.beyond; });
  const auto driest =
      std::max_element(days.begin(), days.end(),
                       [](const PastDay& a, const PastDay& b) { return a.end_mm < b.end_mm; });
  std::string text = printable(name) + ": ";
  if (beyond == 0) {
    text += "within its limit on all " + std::to_string(days.size()) + " days";
  } else {
    text += "BEYOND its limit on " + std::to_string(beyond) + " of " + std::to_string(days.size()) +
            " days";
    const char* before = " (";
    for (const PastDay& day : days) {
      if (!day.beyond) continue;
      text += before + short_date(day.date);
      before = ", ";
    }
    text += ")";
  }
  text += "; driest on the evening of " + short_date(driest->date) + ": " +
          measure(display, Shown::depth, driest->end_mm, 1);
  // A bed is judged after its morning's water.
  if (!driest->beyond && driest->end_mm > driest->limit_mm)
    return text + " missing, before the next morning's watering.";
  return text + " of " + measure(display, Shown::depth, driest->limit_mm, 1) + ".";
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
      json.value("beyond", day.beyond);
      json.end();
    }
  }
  json.end();
}

}  // namespace runnel::cli

#include "sheet/plan_page.hpp"

#include "settings.hpp"
#include "sheet/by_hand_section.hpp"
#include "sheet/html.hpp"
#include "sheet/notes.hpp"
#include "sheet/page.hpp"
#include "sheet/settings_section.hpp"
#include "sheet/water_section.hpp"
#include "sheet/week_picture.hpp"

namespace runnel::cli {
namespace {

using namespace sheet;

std::string header(const Garden& garden, const Plan& plan) {
  const std::string set_by = set_by_text(garden, plan);
  return "<header>\n<h1>" + own_words(garden.name) + "</h1>\n<p>Watering from " + day(plan.from) +
         " to " + day(plan.until) + " <time>" + std::to_string(year_of(plan.until)) + "</time>" +
         (set_by.empty() ? "" : ". " + words("/set_by", set_by)) + "</p>\n" + alarm_content(plan) +
         "</header>\n";
}

std::string week_content(const Display& display, const GardenPlan& planned) {
  const std::string picture = week_picture(display, planned);
  if (picture.empty()) return "<p>No valve runs.</p>\n";
  return "<figure>\n" + picture +
         "<figcaption>Along the foot of each day: hours of the clock, those that some valve "
         "uses.</figcaption>\n</figure>\n";
}

}  // namespace

std::string plan_html(const Garden& garden, const GardenPlan& planned, const Mending& mending) {
  const Plan& plan = planned.plan;
  const Display& display = garden.display;
  std::string body = header(garden, plan) + "<main>\n";
  body += section("settings", "Set on the timer", settings_content(garden, planned));
  body += section("by-hand", "Run once by hand", by_hand_content(display, plan));
  body += section("advice", "Advice", advice_content(display, planned));
  body += fault_sections(display, plan, mending);
  body += section("when", "When each valve runs", week_content(display, planned));
  body += section("water", "Water within reach of the roots", water_content(display, planned));
  body += "<div class=\"notes\">\n";
  body += section("weather", "Weather taken", weather_content(display, planned));
  body += closing_sections(garden, planned);
  body += "</div>\n</main>\n";
  return page(garden.name + ": watering from " + short_date(plan.from), body,
              {.zones = plan.zones.size(), .crowded = !plan.unharmed()});
}

}  // namespace runnel::cli

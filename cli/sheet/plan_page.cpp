#include "sheet/plan_page.hpp"

#include "plan_report.hpp"
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
  std::string text = "<header>\n<h1>" + own_words(garden.name) + "</h1>\n<p>Watering from " +
                     day(plan.from) + " to " + day(plan.until) + " <time>" +
                     std::to_string(year_of(plan.until)) + "</time></p>\n";
  if (!plan.unharmed())
    text +=
        "<p class=\"alarm\"><strong>Falls short:</strong> this cannot keep every zone "
        "unharmed. See <a href=\"#short-heading\">what is missing</a>.</p>\n";
  return text + "</header>\n";
}

std::string faults(const Display& display, const Plan& plan, const Mending& mending) {
  if (plan.unharmed()) return {};
  const bool mends = !mending.remedies.empty() && mending.remedies.front().zones_short == 0;
  return "<div class=\"faults\">\n" +
         section("short", "Falls short", shortfall_content(display, plan, mending)) +
         section("mend", mends ? "Would mend it" : "Would help in part",
                 remedy_content(display, mending)) +
         "</div>\n";
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
  body += section("advice", "Advice", advice_content(display, planned));
  body += faults(display, plan, mending);
  body += section("when", "When each valve runs", week_content(display, planned));
  body += section("water", "Water within reach of the roots", water_content(display, planned));
  body += "<div class=\"notes\">\n";
  body += section("weather", "Weather taken", weather_content(display, planned));
  body += section("left", "If left alone", outlook_content(planned));
  body += section("unknown", "Taken without knowing", assumption_content(garden, planned));
  body += section("care", "Take care", "<p>" + escaped(caution_text()) + "</p>\n");
  body += "</div>\n</main>\n";
  return page(garden.name + ": watering from " + short_date(plan.from), body,
              {.zones = plan.zones.size(), .falls_short = !plan.unharmed()});
}

}  // namespace runnel::cli

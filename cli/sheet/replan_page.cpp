#include "sheet/replan_page.hpp"

#include "plan_report.hpp"
#include "sheet/by_hand_section.hpp"
#include "sheet/change_section.hpp"
#include "sheet/dryness_section.hpp"
#include "sheet/html.hpp"
#include "sheet/notes.hpp"
#include "sheet/page.hpp"
#include "sheet/programme_section.hpp"
#include "sheet/weather_twice_section.hpp"

namespace runnel::cli {
namespace {

using namespace sheet;

std::string header(const Garden& garden, const SavedPlan& before, const Plan& plan) {
  return "<header>\n<h1>" + own_words(garden.name) + "</h1>\n<p>The plan of " + day(before.from) +
         " looked at again, for " + day(plan.from) + " to " + day(plan.until) + " <time>" +
         std::to_string(year_of(plan.until)) + "</time></p>\n" + alarm_content(plan) +
         "</header>\n";
}

}  // namespace

std::string replan_html(const Garden& garden, const SavedPlan& before, const Replan& again,
                        const Mending& mending) {
  const GardenPlan& planned = again.planned;
  const Plan& plan = planned.plan;
  const Display& display = garden.display;
  std::string body = header(garden, before, plan) + "<main>\n";
  body += section("change", "Change on the timer", change_content(garden, before, again));
  body += "<div class=\"pair\">\n" +
          section("by-hand", "Run once by hand", by_hand_content(display, before, again)) +
          section("leave", "Leave as is", left_content(display, again)) + "</div>\n";
  body += section("advice", "Advice", advice_content(display, planned));
  body += fault_sections(display, plan, mending);
  body += "<div class=\"pair\">\n";
  body +=
      section("weather", "Weather: as taken, and as it is", weather_twice_content(display, again));
  body += "<div>\n" + section("dryness", "How dry each zone is", dryness_content(display, again)) +
          section("programme", "The programme from then on", programme_content(garden, planned)) +
          "</div>\n</div>\n";
  body += "<div class=\"notes\">\n" + closing_sections(garden, planned) + "</div>\n</main>\n";
  return page(garden.name + ": changes from " + short_date(plan.from), body,
              {.zones = plan.zones.size(), .crowded = !plan.unharmed()});
}

}  // namespace runnel::cli

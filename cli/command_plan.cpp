#include <ostream>
#include <utility>

#include "commands.hpp"
#include "doubts_report.hpp"
#include "plan_calendar.hpp"
#include "plan_files.hpp"
#include "plan_report.hpp"
#include "planned_garden.hpp"
#include "print.hpp"
#include "progress.hpp"
#include "runnel/garden/remedies.hpp"
#include "sheet/away_page.hpp"
#include "sheet/plan_page.hpp"

namespace runnel::cli {
namespace {

std::string report(const PlanOptions& options, const Garden& garden, const GardenPlan& plan,
                   const PlanRequest& request) {
  if (!options.explain.empty()) return explain_text(garden, plan, options.explain);
  if (options.doubts)
    return doubts_report(garden, plan, doubts(garden, plan, request), options.format);
  if (options.format == "csv") return plan_csv(garden, plan);
  if (options.format == "ics") return plan_calendar(garden, plan, request.after, options);
  const Mending mending{.remedies = remedies(garden, plan, request),
                        .binding_rules = binding_rules(garden, plan, request)};
  if (options.format == "json") return plan_json(garden, plan, mending);
  if (options.format == "html")
    return plan.away ? away_html(garden, plan, mending) : plan_html(garden, plan, mending);
  return plan_text(garden, plan, mending);
}

/// All the work: the plan, saved, and what is printed of it.
std::pair<PlannedGarden, std::string> planned_and_told(const PlanOptions& options,
                                                       const Streams& streams) {
  const Progress progress(streams, "planning");
  PlannedGarden planned = planned_garden(options);
  std::string text = report(options, planned.garden, planned.plan, planned.request);
  save_plan(options, planned.garden, planned.plan);
  return {std::move(planned), std::move(text)};
}

/// Of a week planned twice, since the days since are not in the weather.
Finding same_week_again(const Plan& plan, const SavedPlan& before) {
  return {.kind = Finding::Kind::doubt,
          .at = {.file = before.file, .line = 0, .column = 0, .key = {}},
          .says = "is for the same days, from " + short_date(plan.from) +
                  " on: no day has been observed since",
          .mend = "add the days since to the observed weather, or plan --from another day"};
}

}  // namespace

int plan(const PlanOptions& options, const Streams& streams) {
  if (const std::string fault = calendar_fault(options); !fault.empty()) {
    streams.err << "runnel plan: " << fault << '\n';
    return wrong_usage;
  }
  const auto [all, text] = planned_and_told(options, streams);
  const auto& [garden, request, planned] = all;
  streams.out << text;
  if (request.after && !options.from && request.after->from == planned.plan.from)
    print_doubts({same_week_again(planned.plan, *request.after)}, streams.err);
  print_doubts(planned.findings, streams.err);
  print_doubts(shortfalls(planned.plan, garden.display), streams.err);
  return planned.plan.unharmed() ? done : falls_short;
}

}  // namespace runnel::cli

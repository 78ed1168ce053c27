#include <optional>
#include <ostream>
#include <utility>

#include "commands.hpp"
#include "plan_calendar.hpp"
#include "plan_files.hpp"
#include "planned_garden.hpp"
#include "print.hpp"
#include "progress.hpp"
#include "replan_report.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/garden/plan_file.hpp"
#include "runnel/garden/replan.hpp"
#include "sheet/replan_page.hpp"

namespace runnel::cli {
namespace {

std::string report(const PlanOptions& options, const Garden& garden, const Replan& again,
                   const PlanRequest& request) {
  if (options.format == "csv") return replan_csv(garden, *request.after, again);
  if (options.format == "ics") return plan_calendar(garden, again.planned, request.after, options);
  const Mending mending{.remedies = remedies(garden, again.planned, request),
                        .binding_rules = binding_rules(garden, again.planned, request)};
  if (options.format == "json") return replan_json(garden, *request.after, again, mending);
  if (options.format == "html") return replan_html(garden, *request.after, again, mending);
  return replan_text(garden, *request.after, again, mending);
}

}  // namespace

int replan(const PlanOptions& options, const Streams& streams) {
  if (const std::string fault = calendar_fault(options); !fault.empty()) {
    streams.err << "runnel replan: " << fault << '\n';
    return wrong_usage;
  }
  std::vector<Finding> findings;
  const Garden garden = displayed_garden(options.garden, options.display, options.format, findings);
  const PlanRequest request{
      .from = options.from,
      .risk = options.risk,
      .after = value_or_throw(read_plan_file(read_file(options.after), options.after), findings),
      .by_hand = true};
  std::optional<Progress> progress(std::in_place, streams, "planning");
  Replan again = runnel::replan(garden, request);
  GardenPlan& planned = again.planned;
  findings.insert(findings.end(), planned.findings.begin(), planned.findings.end());
  planned.findings = std::move(findings);

  const std::string text = report(options, garden, again, request);
  save_plan(options, garden, planned);
  progress.reset();
  streams.out << text;
  print_doubts(planned.findings, streams.err);
  print_doubts(shortfalls(planned.plan, garden.display), streams.err);
  return planned.plan.unharmed() ? done : falls_short;
}

}  // namespace runnel::cli

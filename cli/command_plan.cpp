#include <ostream>

#include "commands.hpp"
#include "plan_report.hpp"
#include "print.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/garden/plan_file.hpp"
#include "runnel/garden/plan_garden.hpp"
#include "runnel/garden/remedies.hpp"
#include "sheet/plan_page.hpp"

namespace runnel::cli {
namespace {

std::string report(const PlanOptions& options, const Garden& garden, const GardenPlan& plan,
                   const PlanRequest& request) {
  if (!options.explain.empty()) return explain_text(garden, plan, options.explain);
  if (options.format == "csv") return plan_csv(garden, plan);
  const Mending mending{.remedies = remedies(garden, plan, request),
                        .binding_rules = binding_rules(garden, plan, request)};
  if (options.format == "json") return plan_json(garden, plan, mending);
  if (options.format == "html") return plan_html(garden, plan, mending);
  return plan_text(garden, plan, mending);
}

}  // namespace

int plan(const PlanOptions& options, const Streams& streams) {
  std::vector<Finding> findings;
  const Garden garden =
      value_or_throw(read_garden(read_file(options.garden), options.garden), findings);
  PlanRequest request{.from = options.from, .risk = options.risk};
  if (!options.after.empty())
    request.after =
        value_or_throw(read_plan_file(read_file(options.after), options.after), findings);
  GardenPlan planned = plan_garden(garden, request);
  findings.insert(findings.end(), planned.findings.begin(), planned.findings.end());
  planned.findings = std::move(findings);

  const std::string text = report(options, garden, planned, request);
  if (!options.save.empty())
    write_file(options.save, plan_file_text(garden, planned), options.replace);
  streams.out << text;
  print_doubts(planned.findings, streams.err);
  print_doubts(planned.plan.remarks, streams.err);
  return planned.plan.unharmed() ? done : falls_short;
}

}  // namespace runnel::cli

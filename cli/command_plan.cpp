#include <ostream>

#include "commands.hpp"
#include "plan_report.hpp"
#include "print.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/garden/plan_file.hpp"
#include "runnel/garden/plan_garden.hpp"

namespace runnel::cli {
namespace {

std::string report(const PlanOptions& options, const Garden& garden, const GardenPlan& plan) {
  if (!options.explain.empty()) return explain_text(garden, plan, options.explain);
  if (options.format == "csv") return plan_csv(garden, plan);
  if (options.format == "json") return plan_json(garden, plan);
  return plan_text(garden, plan);
}

}  // namespace

int plan(const PlanOptions& options, const Streams& streams) {
  std::vector<Finding> findings;
  const Garden garden =
      value_or_throw(read_garden(read_file(options.garden), options.garden), findings);
  GardenPlan planned = plan_garden(garden, {.from = options.from, .risk = options.risk});
  findings.insert(findings.end(), planned.findings.begin(), planned.findings.end());
  planned.findings = std::move(findings);

  const std::string text = report(options, garden, planned);
  if (!options.save.empty())
    write_file(options.save, plan_file_text(garden, planned), options.replace);
  streams.out << text;
  print_doubts(planned.findings, streams.err);
  print_doubts(planned.plan.remarks, streams.err);
  return planned.plan.unharmed() ? done : falls_short;
}

}  // namespace runnel::cli

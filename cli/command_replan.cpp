#include <ostream>

#include "commands.hpp"
#include "print.hpp"
#include "replan_report.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/garden/plan_file.hpp"
#include "runnel/garden/replan.hpp"

namespace runnel::cli {

int replan(const PlanOptions& options, const Streams& streams) {
  std::vector<Finding> findings;
  const Garden garden =
      value_or_throw(read_garden(read_file(options.garden), options.garden), findings);
  const SavedPlan before =
      value_or_throw(read_plan_file(read_file(options.after), options.after), findings);
  Replan again =
      runnel::replan(garden, {.from = options.from, .risk = options.risk, .after = before});
  const GardenPlan& planned = again.planned;
  findings.insert(findings.end(), planned.findings.begin(), planned.findings.end());
  if (!options.save.empty())
    write_file(options.save, plan_file_text(garden, planned), options.replace);
  streams.out << replan_text(garden, before, again);
  print_doubts(findings, streams.err);
  print_doubts(planned.plan.remarks, streams.err);
  return planned.plan.unharmed() ? done : falls_short;
}

}  // namespace runnel::cli

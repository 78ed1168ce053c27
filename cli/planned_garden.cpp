#include "planned_garden.hpp"

#include <utility>
#include <vector>

#include "plan_files.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/garden/plan_file.hpp"

namespace runnel::cli {

Garden displayed_garden(const std::string& path, const Display& display, const std::string& format,
                        std::vector<Finding>& findings) {
  Garden garden = value_or_throw(read_garden(read_file(path), path), findings);
  if (format != "csv" && format != "json") garden.display = display;
  return garden;
}

PlannedGarden planned_garden(const PlanOptions& options) {
  std::vector<Finding> findings;
  PlannedGarden planned{
      .garden = displayed_garden(options.garden, options.display, options.format, findings),
      .request = {.from = options.from, .risk = options.risk, .until = options.until},
      .plan = {}};
  if (const std::string after = after_path(options, findings); !after.empty())
    planned.request.after = value_or_throw(read_plan_file(read_file(after), after), findings);
  planned.plan = plan_garden(planned.garden, planned.request);
  findings.insert(findings.end(), planned.plan.findings.begin(), planned.plan.findings.end());
  planned.plan.findings = std::move(findings);
  return planned;
}

}  // namespace runnel::cli

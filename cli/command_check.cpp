#include <algorithm>
#include <ostream>
#include <vector>

#include "commands.hpp"
#include "print.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/garden/plan_garden.hpp"
#include "runnel/garden/water_log.hpp"

namespace runnel::cli {

int check(const CheckOptions& options, const Streams& streams) {
  Read<Garden> garden = read_garden(read_file(options.garden), options.garden);
  std::vector<Finding> findings = std::move(garden.findings);
  if (garden.value) {
    garden.value->display = options.display;
    try {
      std::vector<Finding> said_when_planning;
      (void)water_log_of(*garden.value, said_when_planning);
    } catch (const InputError& error) {
      findings.insert(findings.end(), error.findings().begin(), error.findings().end());
      garden.value->log.reset();  // the rest is looked at all the same
    }
    try {
      const GardenPlan planned = plan_garden(*garden.value, PlanRequest{});
      findings.insert(findings.end(), planned.findings.begin(), planned.findings.end());
      const std::vector<Finding> short_of = shortfalls(planned.plan, garden.value->display);
      findings.insert(findings.end(), short_of.begin(), short_of.end());
    } catch (const InputError& error) {
      findings.insert(findings.end(), error.findings().begin(), error.findings().end());
    }
  }
  print_wrapped(findings, streams.out);
  const auto count = [&](Finding::Kind kind) {
    return std::count_if(findings.begin(), findings.end(),
                         [kind](const Finding& f) { return f.kind == kind; });
  };
  const auto errors = count(Finding::Kind::error);
  streams.out << errors << (errors == 1 ? " error, " : " errors, ") << count(Finding::Kind::doubt)
              << " doubtful, " << count(Finding::Kind::remark) << " remarks\n";
  return errors > 0 ? unusable_input : done;
}

}  // namespace runnel::cli

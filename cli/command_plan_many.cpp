#include <algorithm>
#include <cstddef>
#include <ostream>
#include <set>

#include "commands.hpp"
#include "garden_outcome.hpp"
#include "gardens_sheet.hpp"
#include "in_parallel.hpp"
#include "plan_calendar.hpp"
#include "plan_files.hpp"
#include "print.hpp"
#include "progress.hpp"

namespace runnel::cli {
namespace {

std::string fault_of(const std::vector<std::string>& gardens, const PlanOptions& options) {
  if (!options.explain.empty()) return "--explain is for a zone of one garden (name one garden)";
  if (options.until) return "--until is for one garden (name one garden)";
  if (options.doubts) return "--doubts is for one garden (name one garden)";
  if (options.format == "ics") return "a calendar is of one garden (name one garden)";
  if (std::string fault = calendar_fault(options); !fault.empty()) return fault;
  return fault_of_folders(gardens, options);
}

std::vector<GardenOutcome> outcomes(const std::vector<std::string>& gardens,
                                    const PlanOptions& options, const Streams& streams) {
  std::vector<GardenOutcome> all(gardens.size());
  Progress progress(streams, "gardens", gardens.size());
  const auto plan_one = [&](std::size_t i) {
    PlanOptions one = options;
    one.garden = gardens[i];
    all[i] = garden_outcome(one);
    progress.step();
  };
  in_parallel(gardens.size(), options.threads > 0 ? options.threads : usual_threads(), plan_one);
  return all;
}

std::string report(const std::vector<GardenOutcome>& gardens, const std::string& format) {
  if (format == "csv") return gardens_csv(gardens);
  if (format == "json") return gardens_json(gardens);
  return gardens_sheet(gardens);
}

/// What several gardens share, such as a doubt about their weather file, once.
void print_findings_once(const std::vector<GardenOutcome>& gardens, std::ostream& err) {
  std::set<std::string> said;
  for (const GardenOutcome& garden : gardens)
    for (const auto* findings : {&garden.findings, &garden.of_the_plan})
      for (const Finding& finding : *findings)
        if (said.insert(words_of(finding)).second) print_findings({finding}, err);
}

int exit_code(const std::vector<GardenOutcome>& gardens) {
  const auto any = [&gardens](GardenOutcome::Standing standing) {
    return std::any_of(gardens.begin(), gardens.end(), [standing](const GardenOutcome& garden) {
      return garden.standing == standing;
    });
  };
  if (any(GardenOutcome::Standing::not_planned)) return unusable_input;
  return any(GardenOutcome::Standing::falls_short) ? falls_short : done;
}

}  // namespace

int plan_many(const std::vector<std::string>& gardens, PlanOptions options,
              const Streams& streams) {
  // A slash at the end says that it is a folder, there already or not.
  for (std::string* folder : {&options.save, &options.after})
    if (!folder->empty() && !folder->ends_with('/')) *folder += '/';
  if (const std::string fault = fault_of(gardens, options); !fault.empty()) {
    streams.err << "runnel plan: " << fault << '\n';
    return wrong_usage;
  }
  const std::vector<GardenOutcome> all = outcomes(gardens, options, streams);
  streams.out << report(all, options.format);
  print_findings_once(all, streams.err);
  return exit_code(all);
}

}  // namespace runnel::cli

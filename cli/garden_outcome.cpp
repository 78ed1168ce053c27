#include "garden_outcome.hpp"

#include <algorithm>
#include <cstddef>
#include <exception>
#include <filesystem>
#include <iterator>
#include <utility>

#include "advice_report.hpp"
#include "by_hand.hpp"
#include "changed_settings.hpp"
#include "json_writer.hpp"
#include "plan_files.hpp"
#include "plan_report.hpp"
#include "planned_garden.hpp"
#include "remedy_report.hpp"
#include "runnel/garden/files.hpp"
#include "runnel/garden/remedies.hpp"
#include "runnel/units/csv.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

using Standing = GardenOutcome::Standing;
using Changes = std::vector<ChangedSetting>;

Mending mending_of(const PlannedGarden& planned) {
  return {.remedies = remedies(planned.garden, planned.plan, planned.request),
          .binding_rules = binding_rules(planned.garden, planned.plan, planned.request)};
}

std::vector<Finding> without_remarks(const std::vector<Finding>& findings) {
  std::vector<Finding> kept;
  std::copy_if(findings.begin(), findings.end(), std::back_inserter(kept),
               [](const Finding& finding) { return finding.kind != Finding::Kind::remark; });
  return kept;
}

/// Those about a plan name no file: with many gardens they must.
std::vector<Finding> of_the_plan(const PlannedGarden& planned) {
  std::vector<Finding> findings = shortfalls(planned.plan.plan, planned.garden.display);
  for (Finding& finding : findings)
    if (finding.at.file.empty()) finding.at.file = planned.garden.file;
  return findings;
}

void say_shortfalls(std::vector<std::string>& says, const PlannedGarden& planned) {
  const Plan& plan = planned.plan.plan;
  for (const ZonePlan& zone : plan.zones)
    if (zone.days_beyond > 0)
      says.push_back("FALLS SHORT: " + shortfall(planned.garden.display, zone));
  const Mending mending = mending_of(planned);
  for (const Finding& rule : mending.binding_rules)
    says.push_back("Line " + std::to_string(rule.at.line) + ", " + rule.says + ".");
  if (mending.remedies.empty()) return;
  const Remedy& best = mending.remedies.front();
  says.push_back((best.zones_short == 0 ? "Would mend it: " : "Would help in part: ") +
                 remedy_text(planned.garden.display, best));
}

std::vector<std::string> paragraphs(const PlannedGarden& planned, const Changes& changes) {
  std::vector<std::string> says;
  for (const ChangedSetting& change : changes) says.push_back(change.where + ": " + change.says);
  for (const HandRun& run : planned.plan.plan.by_hand)
    says.push_back("Run once by hand before " + short_date(planned.plan.plan.from) + ": valve " +
                   std::to_string(run.valve) + ", " + as_said_before(run) + ".");
  if (!planned.plan.plan.unharmed()) say_shortfalls(says, planned);
  for (std::string& line : advice_lines(planned.garden.display, planned.plan))
    says.push_back(std::move(line));
  return says;
}

/// What is to be set anew for a valve, in one cell.
std::string change_of_valve(const Changes& changes, int valve) {
  std::string text;
  for (const ChangedSetting& change : changes)
    if (std::find(change.valves.begin(), change.valves.end(), valve) != change.valves.end())
      text += (text.empty() ? "" : "; ") + change.says;
  return text;
}

std::string csv_rows(const PlannedGarden& planned, const Changes& changes) {
  std::string rows;
  for (std::size_t z = 0; z < planned.plan.plan.zones.size(); ++z)
    rows += csv_cell(planned.garden.name) + "," + csv_cell(planned.garden.file) + "," +
            csv_cell(change_of_valve(changes, planned.plan.plan.zones[z].valve)) + "," +
            plan_csv_row(planned.garden, planned.plan, z) + "\n";
  return rows;
}

std::string json_object(const GardenOutcome& outcome, const PlannedGarden& planned,
                        const Changes& changes) {
  JsonWriter json;
  json.begin_object();
  json.value("file", outcome.file);
  json.value("settings", outcome.settings);
  json.begin_array("changes");
  for (const ChangedSetting& change : changes) {
    json.begin_object();
    json.value("where", change.where);
    json.value("says", change.says);
    json.value("settings", change.settings);
    json.end();
  }
  json.end();
  write_plan(json, planned.garden, planned.plan, mending_of(planned));
  json.end();
  return json.text();
}

std::string json_object(const GardenOutcome& refused) {
  JsonWriter json;
  json.begin_object();
  json.value("file", refused.file);
  json.begin_array("errors");
  for (const Finding& finding : refused.findings) json.element(runnel::to_text(finding));
  json.end();
  json.end();
  return json.text();
}

Standing standing_of(const PlannedGarden& planned, const Changes& changes) {
  if (!planned.plan.plan.unharmed()) return Standing::falls_short;
  if (!changes.empty()) return Standing::to_set;
  const bool remarks = !planned.plan.advice.empty() || !planned.plan.plan.by_hand.empty();
  return remarks ? Standing::remarked : Standing::unchanged;
}

GardenOutcome planned_outcome(const PlanOptions& options) {
  const PlannedGarden planned = planned_garden(options);
  const SavedPlan* before = planned.request.after ? &*planned.request.after : nullptr;
  const Plan& plan = planned.plan.plan;
  const Changes changes = changed_settings(planned.garden, plan, before);
  GardenOutcome outcome{.standing = standing_of(planned, changes),
                        .file = options.garden,
                        .name = planned.garden.name,
                        .from = plan.from,
                        .until = plan.until,
                        .display = planned.garden.display,
                        .says = {},
                        .record = {},
                        .findings = without_remarks(planned.plan.findings),
                        .of_the_plan = of_the_plan(planned)};
  for (const ZonePlan& zone : plan.zones) outcome.litres += zone.gross_litres;
  for (const ChangedSetting& change : changes) outcome.settings += change.settings;
  if (options.format == "csv") outcome.record = csv_rows(planned, changes);
  if (options.format == "json") outcome.record = json_object(outcome, planned, changes);
  if (options.format == "text") outcome.says = paragraphs(planned, changes);
  save_plan(options, planned.garden, planned.plan);
  return outcome;
}

GardenOutcome refused(const PlanOptions& options, const std::vector<Finding>& findings) {
  GardenOutcome outcome{.file = options.garden,
                        .name = {},
                        .says = {},
                        .record = {},
                        .findings = without_remarks(findings),
                        .of_the_plan = {}};
  if (options.format == "json") outcome.record = json_object(outcome);
  return outcome;
}

std::vector<Finding> error(const PlanOptions& options, const std::string& says) {
  return {{.kind = Finding::Kind::error, .at = in_file(options.garden), .says = says, .mend = {}}};
}

}  // namespace

std::string words_of(Finding finding) {
  finding.at.file = std::filesystem::path(finding.at.file).lexically_normal().string();
  return runnel::to_text(finding);
}

GardenOutcome garden_outcome(const PlanOptions& options) {
  try {
    return planned_outcome(options);
  } catch (const InputError& fault) {
    return refused(options, fault.findings());
  } catch (const FileExists& fault) {
    return refused(options, error(options, fault.what()));
  } catch (const std::exception& fault) {
    return refused(
        options,
        error(options, std::string("this should not happen, please report it: ") + fault.what()));
  }
}

}  // namespace runnel::cli

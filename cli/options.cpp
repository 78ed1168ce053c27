#include "options.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <iostream>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "command_line.hpp"
#include "command_words.hpp"
#include "runnel/units/calendar.hpp"
#include "runnel/units/finding.hpp"
#include "runnel/units/nearest.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

/// Dates are read by our own rules: what CLI11 does not know it must not guess.
std::optional<Date> date_of(const std::string& text) {
  return text.empty() ? std::nullopt : parse_date(text);
}

/// "(did you mean "plan"?)", or what else to do.
std::string mend(std::string_view written, const std::vector<std::string>& known,
                 const std::string& otherwise) {
  const std::vector<std::string_view> views(known.begin(), known.end());
  const auto near = nearest(written, views);
  return near ? " (did you mean " + runnel::quoted(*near) + "?)" : " (" + otherwise + ")";
}

std::string command_fault(const CLI::App& app, const std::vector<std::string>& extra) {
  std::vector<std::string> names;
  std::string listed;
  for (const CLI::App* command : app.get_subcommands(nullptr)) {
    names.push_back(command->get_name());
    listed += (listed.empty() ? "" : ", ") + names.back();
  }
  if (extra.empty())
    return "runnel: no command is given (there are " + listed +
           "; runnel new writes a garden to start with)";
  if (extra.front().starts_with('-'))
    return "runnel: " + runnel::quoted(extra.front()) + " needs a command before it (there are " +
           listed + ")";
  return "runnel: there is no command " + runnel::quoted(extra.front()) +
         mend(extra.front(), names, "there are " + listed);
}

std::string extra_fault(const CLI::App& command, const std::string& extra) {
  const std::string name = "runnel " + command.get_name();
  if (!extra.starts_with('-'))
    return name + ": " + runnel::quoted(extra) + " is one word too many (" + name +
           " --help shows how; a name with spaces goes between quotes)";
  std::vector<std::string> options;
  for (const CLI::Option* option : command.get_options())
    for (const std::string& known : option->get_lnames()) options.push_back("--" + known);
  return name + ": there is no option " + runnel::quoted(extra) +
         mend(extra, options, name + " --help lists them");
}

/// What is wrong with the command line, naming the word; CLI11's own account names no command that
/// it does not know, and turns the order of words round.
std::string usage_fault(const CLI::App& app, const CLI::ParseError& error) {
  const std::vector<std::string> extra = app.remaining(true);
  const std::vector<CLI::App*> given = app.get_subcommands();
  if (given.empty()) return command_fault(app, extra);
  if (dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr && !extra.empty())
    return extra_fault(*given.front(), extra.front());
  const std::string name = "runnel " + given.front()->get_name();
  return name + ": " + printable(error.what()) + " (" + name + " --help shows how)";
}

/// What was asked for in a form that it does not have; empty when there is nothing.
std::string without_form(const CommandLine& line) {
  const PlanOptions& plan = line.plan;
  if (plan.format == "html" && line.gardens.size() > 1)
    return "several gardens have no html form (leave out --format html)";
  if (plan.format == "html" && plan.doubts)
    return "--doubts has no html form (leave out --format html)";
  if (plan.format != "text" && !plan.explain.empty())
    return "--explain has no " + plan.format + " form (leave out --format " + plan.format + ")";
  return {};
}

/// Where no garden is named, garden.yaml of this folder. @return false, said so, when there is
/// none.
bool find_garden(std::string& garden, const CLI::App& command, const Streams& streams) {
  if (!garden.empty()) return true;
  garden = "garden.yaml";
  if (std::filesystem::exists(garden)) return true;
  streams.err << "runnel " << command.get_name()
              << ": no garden is named, and there is no garden.yaml in this folder (runnel new "
                 "writes one to start with)\n";
  return false;
}

}  // namespace

int run_command_line(int argc, char** argv, const Streams& streams) {
  CLI::App app("Works out what to set on a garden's watering timer: minutes, start times and days.",
               "runnel");
  app.require_subcommand(1);
  CommandLine line;
  app.formatter_fn([](const CLI::App* asked, const std::string&, CLI::AppFormatMode) {
    return asked->get_parent() == nullptr
               ? help_of(words_of(*asked))
               : help_of(command_words(*asked), asked->get_parent()->get_name());
  });
  app.set_version_flag("--version", "runnel " RUNNEL_VERSION);
  app.footer(
      "Examples:\n"
      "  runnel new my-garden\n"
      "  runnel plan my-garden/garden.yaml\n\n"
      "runnel COMMAND --help shows what a command takes.");
  const CLI::App* new_command = add_new(app, line);
  const CLI::App* plan_command = add_plan(app, line);
  const CLI::App* replan_command = add_replan(app, line);
  const CLI::App* compare_command = add_compare(app, line);
  const CLI::App* et_command = add_et(app, line);
  const CLI::App* check_command = add_check(app, line);
  const CLI::App* plants_command = add_plants(app, line);
  const CLI::App* audit_command = add_audit(app, line);
  const CLI::App* log_command = add_log(app, line);
  const CLI::App* completion_command = add_completion(app, line);
  const CLI::App* manual_command = add_manual(app);
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    if (error.get_exit_code() == 0) return app.exit(error, streams.out, streams.err);  // --help
    streams.err << usage_fault(app, error) << '\n';
    return wrong_usage;
  }
  line.plan.from = date_of(line.plan_from);
  line.plan.until = date_of(line.plan_until);
  line.compare.from = date_of(line.compare_from);
  line.replan.from = date_of(line.replan_from);
  if (plan_command->parsed()) {
    if (const std::string fault = without_form(line); !fault.empty()) {
      streams.err << "runnel plan: " << fault << '\n';
      return wrong_usage;
    }
    if (line.gardens.size() > 1) return plan_many(line.gardens, line.plan, streams);
    if (!line.gardens.empty()) line.plan.garden = line.gardens.front();
  }
  for (const auto& [command, garden] : {std::pair{plan_command, &line.plan.garden},
                                        {replan_command, &line.replan.garden},
                                        {compare_command, &line.compare.garden},
                                        {check_command, &line.check.garden},
                                        {log_command, &line.log.garden}})
    if (command->parsed() && !find_garden(*garden, *command, streams)) return wrong_usage;
  if (new_command->parsed()) return new_garden(line.start, streams);
  if (completion_command->parsed()) {
    streams.out << completion(words_of(app), line.shell);
    return done;
  }
  if (manual_command->parsed()) {
    streams.out << manual_page(words_of(app));
    return done;
  }
  if (plan_command->parsed()) return plan(line.plan, streams);
  if (replan_command->parsed()) return replan(line.replan, streams);
  if (compare_command->parsed()) return compare(line.compare, streams);
  if (et_command->parsed()) return et(line.et, streams);
  if (check_command->parsed()) return check(line.check, streams);
  if (plants_command->parsed()) return plants(line.plants, streams);
  if (audit_command->parsed()) return audit(line.audit, streams);
  if (log_command->parsed()) return log(line.log, streams);
  return wrong_usage;
}

}  // namespace runnel::cli

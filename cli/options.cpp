#include "options.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <iostream>
#include <string_view>
#include <vector>

#include "runnel/units/finding.hpp"
#include "runnel/units/nearest.hpp"
#include "runnel/units/number.hpp"
#include "runnel/units/unit_table.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

/// Dates are read by our own rules: what CLI11 does not know it must not guess.
std::optional<Date> date_of(const std::string& text) {
  return text.empty() ? std::nullopt : parse_date(text);
}

const CLI::Validator is_date(
    [](std::string& text) {
      return parse_date(text) ? std::string{}
                              : "\"" + text + "\" is not a date: write it as 2027-06-15";
    },
    "DATE");

const CLI::Validator is_number(
    [](std::string& text) {
      return parse_number(text) ? std::string{} : "\"" + text + "\" is not a number";
    },
    "NUMBER");

/// "10%" or "0.1".
const CLI::Validator is_risk(
    [](std::string& text) {
      const bool percent = text.ends_with('%');
      const auto number =
          parse_number(percent ? std::string_view(text).substr(0, text.size() - 1) : text);
      const double share = number ? *number / (percent ? 100.0 : 1.0) : -1.0;
      if (!(share >= 0.0 && share < 1.0))
        return "\"" + text + "\" is not a share below 1: write it as 10% or 0.1";
      text = shortest(share);
      return std::string{};
    },
    "SHARE");

/// "1 h", in whole minutes.
const CLI::Validator is_lead_time(
    [](std::string& text) {
      const MeasureOrFault read = parse_measure(text, Dimension::duration);
      constexpr double most_min = 28.0 * 24.0 * 60.0;
      if (!read.fault.empty() || !(read.value >= 0.0 && read.value <= most_min))
        return "\"" + text + "\" is not a time up to four weeks: write it as \"1 h\" or \"30 min\"";
      text = fixed(read.value, 0);
      return std::string{};
    },
    "");

/// What goes into a calendar file.
void add_calendar(CLI::App& command, PlanOptions& options) {
  command.add_flag("--every-watering", options.every_watering,
                   "With --format ics: each watering too, not only the days on which to act");
  command
      .add_option("--alarm", options.alarm_min,
                  "With --format ics: an alarm so long before each day on which to act begins, at "
                  "midnight: \"4 h\" rings the evening before")
      ->transform(is_lead_time)
      ->type_name("TIME");
}

struct CommandLine {
  PlanOptions plan;
  std::string plan_from, plan_until;
  PlanOptions replan;
  std::string replan_from;
  std::vector<std::string> gardens;  ///< of plan
  CompareOptions compare;
  std::string compare_from;
  EtOptions et;
  CheckOptions check;
  PlantsOptions plants;
  AuditOptions audit;
  LogOptions log;
};

CLI::App* add_plan(CLI::App& app, CommandLine& line) {
  CLI::App* plan = app.add_subcommand("plan", "This week's programme for the timer");
  plan->add_option("garden", line.gardens, "Garden files; several are planned on one sheet")
      ->required()
      ->type_name("GARDEN");
  plan->add_option("--from", line.plan_from,
                   "First day to plan (default: the day after the last observed one)")
      ->check(is_date);
  plan->add_option("--until", line.plan_until,
                   "Last day of an absence: one programme that holds so long without a touch")
      ->check(is_date);
  plan->add_option("--risk", line.plan.risk,
                   "Share of futures that may go beyond a zone's limit (default 10%)")
      ->transform(is_risk);
  plan->add_option("--explain", line.plan.explain,
                   "Show one zone's figures from weather to minutes")
      ->type_name("ZONE");
  plan->add_flag("--doubts", line.plan.doubts,
                 "Show what to measure first: each input in doubt, and the minutes it could change")
      ->excludes("--explain")
      ->excludes("--until");
  plan->add_option("--format", line.plan.format,
                   "text, csv, json, html (a sheet to print or to read on a phone) or ics (a "
                   "calendar)")
      ->check(CLI::IsMember({"text", "csv", "json", "html", "ics"}))
      ->type_name("FORM");
  add_calendar(*plan, line.plan);
  plan->add_option("--after", line.plan.after,
                   "Carry on from this plan file: what ran, and the weather since, say how dry "
                   "each zone is; of several gardens, the folder with their plan files")
      ->type_name("PLAN");
  plan->add_option("--save", line.plan.save,
                   "Write the plan to this file as well; of several gardens, a folder for a file "
                   "of each, named as its garden file is, or as the folder of a garden.yaml")
      ->type_name("FILE");
  plan->add_flag("--replace", line.plan.replace, "Let --save write over existing files");
  plan->add_option("--threads", line.plan.threads,
                   "Gardens planned at once (default: one for each processor)")
      ->check(CLI::Range(1, 1024))
      ->type_name("N");
  plan->footer(
      "Ends with 0: done; 1: a zone cannot be kept unharmed; 2: wrong usage; 3: unusable input. "
      "Of\n"
      "several gardens, 3 says that some could not be planned: the others are, and their plans "
      "are\n"
      "written.\n\n"
      "Examples:\n"
      "  runnel plan garden.yaml --save week-28.yaml\n"
      "  runnel plan garden.yaml --after week-28.yaml --save week-29.yaml\n"
      "  runnel plan garden.yaml --after week-29.yaml --until 2027-08-15\n"
      "  runnel plan garden.yaml --format ics --alarm \"4 h\" > garden.ics\n"
      "  runnel plan gardens/*.yaml --after week-28 --save week-29");
  return plan;
}

CLI::App* add_replan(CLI::App& app, CommandLine& line) {
  CLI::App* replan = app.add_subcommand(
      "replan", "Mid-week: what to change on the timer, run once by hand, or leave");
  replan->add_option("garden", line.replan.garden, "Garden file")->required()->type_name("GARDEN");
  replan->add_option("--after", line.replan.after, "The plan file in force")
      ->required()
      ->type_name("PLAN");
  replan
      ->add_option("--from", line.replan_from,
                   "First day to plan (default: the day after the last observed one)")
      ->check(is_date);
  replan
      ->add_option("--risk", line.replan.risk,
                   "Share of futures that may go beyond a zone's limit (default 10%)")
      ->transform(is_risk);
  replan->add_option("--format", line.replan.format, "text, csv, json or ics (a calendar)")
      ->check(CLI::IsMember({"text", "csv", "json", "ics"}))
      ->type_name("FORM");
  add_calendar(*replan, line.replan);
  replan->add_option("--save", line.replan.save, "Write the new plan to this file as well")
      ->type_name("FILE");
  replan->add_flag("--replace", line.replan.replace, "Let --save write over an existing file");
  replan->footer(
      "Example:\n"
      "  runnel replan garden.yaml --after week-28.yaml --save week-28-thursday.yaml");
  return replan;
}

CLI::App* add_compare(CLI::App& app, CommandLine& line) {
  CLI::App* compare =
      app.add_subcommand("compare", "Zones side by side: what each needs, day by day");
  compare->add_option("garden", line.compare.garden, "Garden file")
      ->required()
      ->type_name("GARDEN");
  compare
      ->add_option("--from", line.compare_from,
                   "First day (default: the day after the last observed one)")
      ->check(is_date);
  compare
      ->add_option("--between", line.compare.between,
                   "Why one zone uses more than another, factor by factor")
      ->expected(2)
      ->type_name("ZONE ZONE");
  compare
      ->add_option("--format", line.compare.format,
                   "text, csv, json or html (a page to print or to read on a phone)")
      ->check(CLI::IsMember({"text", "csv", "json", "html"}))
      ->type_name("FORM");
  return compare;
}

CLI::App* add_et(CLI::App& app, CommandLine& line) {
  EtOptions& et = line.et;
  CLI::App* command = app.add_subcommand("et", "Reference evapotranspiration of a weather file");
  command->add_option("weather", et.weather, "Weather file (CSV)")
      ->required()
      ->type_name("WEATHER");
  command->add_option("--latitude", et.latitude_deg, "Degrees, north positive")
      ->required()
      ->check(is_number)
      ->type_name("DEG");
  command
      ->add_option("--elevation", et.elevation, R"(Above sea level, with unit: "95 m", "310 ft")")
      ->required()
      ->type_name("LENGTH");
  auto* longitude =
      command->add_option("--longitude", et.longitude_deg, "Degrees, east positive; hourly files")
          ->check(is_number)
          ->type_name("DEG");
  auto* offset = command
                     ->add_option("--utc-offset", et.utc_offset_h,
                                  "Hours of the file's clock, east positive; hourly files")
                     ->check(is_number)
                     ->type_name("HOURS");
  command
      ->add_option("--wind-height", et.wind_height,
                   "Height of the anemometer, with unit (default 2 m)")
      ->type_name("LENGTH");
  command->add_option("--method", et.method, "fao56, asce-short, asce-tall or temperature")
      ->check(CLI::IsMember({"fao56", "asce-short", "asce-tall", "temperature"}))
      ->type_name("METHOD");
  command
      ->add_option("--column", et.columns,
                   "What a column holds: \"tmax=MX [degF]\"; may be repeated")
      ->type_name("NAME=HEADER");
  command->add_flag("--label-ends", et.hour_label_is_end,
                    "An hour is labelled by its end, not its beginning");
  command->add_flag("--coast", et.coast,
                    "Radiation from temperature as at the coast (FAO-56 Eq. 50: 0.19)");
  command->add_flag("--dry-air", et.dry_air,
                    "Dew point from Tmin as in dry air (FAO-56 Eq. 48: 2 degC lower)");
  command->add_flag("--steps", et.steps, "Every intermediate value");
  command->add_option("--format", et.format, "text or csv")
      ->check(CLI::IsMember({"text", "csv"}))
      ->type_name("FORM");
  command->parse_complete_callback([&et, longitude, offset] {
    et.has_longitude = longitude->count() > 0;
    et.has_utc_offset = offset->count() > 0;
  });
  return command;
}

CLI::App* add_check(CLI::App& app, CommandLine& line) {
  CLI::App* check =
      app.add_subcommand("check", "All that is wrong or doubtful with a garden's files");
  check->add_option("garden", line.check.garden, "Garden file")->required()->type_name("GARDEN");
  return check;
}

CLI::App* add_plants(CLI::App& app, CommandLine& line) {
  CLI::App* plants =
      app.add_subcommand("plants", "The plant table: names, coefficients, roots, sources");
  plants->add_option("word", line.plants.word, "Part of a name or group (default: all plants)")
      ->type_name("WORD");
  plants->add_option("--format", line.plants.format, "text or csv")
      ->check(CLI::IsMember({"text", "csv"}))
      ->type_name("FORM");
  return plants;
}

CLI::App* add_audit(CLI::App& app, CommandLine& line) {
  AuditOptions& audit = line.audit;
  CLI::App* command = app.add_subcommand(
      "audit", "What a zone's valve really delivers, from a test with catch cans");
  command
      ->add_option(
          "cans", audit.file,
          "Catch-can test (CSV): can, volume [mL] or depth [mm], and x [m], y [m] if known")
      ->required()
      ->type_name("CANS");
  command
      ->add_option(
          "--run", audit.run,
          R"(How long the valve was open, with unit: "15 min" (or a line "# run: 15 min"))")
      ->type_name("TIME");
  command
      ->add_option("--mouth", audit.mouth,
                   R"(A can's mouth, its area "95 cm2" or across "11 cm" (or "# mouth: 11 cm"))")
      ->type_name("SIZE");
  command->add_option("--type", audit.type, "Type of emitter (default spray)")->type_name("TYPE");
  command->add_option("--format", audit.format, "text, csv or json")
      ->check(CLI::IsMember({"text", "csv", "json"}))
      ->type_name("FORM");
  return command;
}

CLI::App* add_log(CLI::App& app, CommandLine& line) {
  LogOptions& log = line.log;
  CLI::App* command = app.add_subcommand(
      "log", "Add one entry to a garden's water log: what ran otherwise, or was read off");
  command->add_option("garden", log.garden, "Garden file, which names the log")
      ->required()
      ->type_name("GARDEN");
  command->add_option("--date", log.date, "Day it was (needed: the program reads no clock)")
      ->type_name("DATE");
  command->add_option("--zone", log.zone, R"(Name of a zone, or "valve 2" for all zones on it)")
      ->type_name("ZONE");
  command->add_flag("--did-not-run", log.did_not_run, "That day's planned watering fell out");
  const auto amount = [command](const char* name, std::string& into, const char* says,
                                const char* type) {
    command->add_option(name, into, says)->type_name(type);
  };
  amount("--ran", log.ran, R"(In place of what was planned: "20 min", "40 L" or "5 mm")", "AMOUNT");
  amount("--by-hand", log.by_hand, R"(Besides what was planned: "5 L", "10 min" or "3 mm")",
         "AMOUNT");
  amount("--rain", log.rain, R"(What a rain gauge caught: "12 mm", "0.5 in")", "DEPTH");
  amount("--depletion", log.depletion, R"(A moisture reading in the evening: "8 mm" are missing)",
         "DEPTH");
  amount("--feel", log.feel, "A finger test in the evening: dry, slightly moist, moist or wet",
         "WORDS");
  amount("--meter", log.meter, R"(What the water meter showed in the evening: "12345 L")",
         "VOLUME");
  command->add_option("--note", log.note, "Anything worth remembering")->type_name("TEXT");
  command->footer(
      "Examples:\n"
      "  runnel log garden.yaml --date 2027-07-15 --zone \"terrace bed\" --ran \"20 min\"\n"
      "  runnel log garden.yaml --date 2027-07-16 --rain \"12 mm\" --note \"gauge by the shed\"");
  return command;
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
  if (extra.empty()) return "runnel: no command is given (there are " + listed + ")";
  if (extra.front().starts_with('-'))
    return "runnel: " + runnel::quoted(extra.front()) + " needs a command before it (there are " +
           listed + ")";
  return "runnel: there is no command " + runnel::quoted(extra.front()) +
         mend(extra.front(), names, "there are " + listed);
}

std::string extra_fault(const CLI::App& command, const std::string& extra) {
  const std::string name = "runnel " + command.get_name();
  if (!extra.starts_with('-')) return name + ": " + runnel::quoted(extra) + " is one word too many";
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

}  // namespace

int run_command_line(int argc, char** argv, const Streams& streams) {
  CLI::App app("Works out what to set on a garden's watering timer: minutes, start times and days.",
               "runnel");
  app.require_subcommand(1);
  CommandLine line;
  const CLI::App* plan_command = add_plan(app, line);
  const CLI::App* replan_command = add_replan(app, line);
  const CLI::App* compare_command = add_compare(app, line);
  const CLI::App* et_command = add_et(app, line);
  const CLI::App* check_command = add_check(app, line);
  const CLI::App* plants_command = add_plants(app, line);
  const CLI::App* audit_command = add_audit(app, line);
  const CLI::App* log_command = add_log(app, line);
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
  if (replan_command->parsed()) return replan(line.replan, streams);
  if (plan_command->parsed()) {
    if (line.gardens.size() > 1) return plan_many(line.gardens, line.plan, streams);
    line.plan.garden = line.gardens.front();
    return plan(line.plan, streams);
  }
  if (compare_command->parsed()) return compare(line.compare, streams);
  if (et_command->parsed()) return et(line.et, streams);
  if (check_command->parsed()) return check(line.check, streams);
  if (plants_command->parsed()) return plants(line.plants, streams);
  if (audit_command->parsed()) return audit(line.audit, streams);
  if (log_command->parsed()) return log(line.log, streams);
  return wrong_usage;
}

}  // namespace runnel::cli

#include "command_line.hpp"
#include "option_checks.hpp"

namespace runnel::cli {
namespace {

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

}  // namespace

CLI::App* add_plan(CLI::App& app, CommandLine& line) {
  CLI::App* plan = app.add_subcommand("plan", "This week's programme for the timer");
  plan->add_option(
          "garden", line.gardens,
          "Garden file (default: garden.yaml in this folder); several are planned on one sheet")
      ->type_name("GARDEN");
  plan->add_option("--from", line.plan_from,
                   "First day to plan (default: the day after the last observed one)")
      ->check(is_date)
      ->type_name("DATE");
  plan->add_option("--until", line.plan_until,
                   "Last day of an absence: one programme that holds so long without a touch")
      ->check(is_date)
      ->type_name("DATE");
  plan->add_option("--risk", line.plan.risk,
                   "Share of futures that may go beyond a zone's limit (default 10%)")
      ->transform(is_risk)
      ->type_name("SHARE");
  plan->add_option("--explain", line.plan.explain,
                   "Show one zone's figures from weather to minutes")
      ->type_name("ZONE");
  plan->add_flag("--doubts", line.plan.doubts,
                 "Show what to measure first: each input in doubt, and the minutes it could change")
      ->excludes("--explain")
      ->excludes("--until");
  plan->add_option("--format", line.plan.format,
                   "text, csv, json, html (a sheet to print or for a phone) or ics (a calendar)")
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
      "Ends with 0: done; 1: a zone cannot be kept unharmed; 2: wrong usage;\n"
      "3: unusable input. Of several gardens, 3 says that some could not be planned:\n"
      "the others are, and their plans are written.\n\n"
      "Examples:\n"
      "  runnel plan garden.yaml --save week-27.yaml\n"
      "  runnel plan garden.yaml --after week-27.yaml --from 2027-07-12 --save week-28.yaml\n"
      "  runnel plan garden.yaml --after week-28.yaml --from 2027-07-19 --until 2027-08-01\n"
      "  runnel plan garden.yaml --format ics --alarm \"4 h\" > garden.ics\n"
      "  runnel plan garden.yaml my-garden/garden.yaml --save plans");
  return plan;
}

CLI::App* add_replan(CLI::App& app, CommandLine& line) {
  CLI::App* replan = app.add_subcommand(
      "replan", "Mid-week: what to change on the timer, run once by hand, or leave");
  replan
      ->add_option("garden", line.replan.garden,
                   "Garden file (default: garden.yaml in this folder)")
      ->type_name("GARDEN");
  replan->add_option("--after", line.replan.after, "The plan file in force")
      ->required()
      ->type_name("PLAN");
  replan
      ->add_option("--from", line.replan_from,
                   "First day to plan (default: the day after the last observed one)")
      ->check(is_date)
      ->type_name("DATE");
  replan
      ->add_option("--risk", line.replan.risk,
                   "Share of futures that may go beyond a zone's limit (default 10%)")
      ->transform(is_risk)
      ->type_name("SHARE");
  replan
      ->add_option("--format", line.replan.format,
                   "text, csv, json, html (a sheet to print or for a phone) or ics (a calendar)")
      ->check(CLI::IsMember({"text", "csv", "json", "html", "ics"}))
      ->type_name("FORM");
  add_calendar(*replan, line.replan);
  replan->add_option("--save", line.replan.save, "Write the new plan to this file as well")
      ->type_name("FILE");
  replan->add_flag("--replace", line.replan.replace, "Let --save write over an existing file");
  replan->footer(
      "Examples:\n"
      "  runnel replan garden.yaml --after week-27.yaml --from 2027-07-08\n"
      "  runnel replan garden.yaml --after week-27.yaml --from 2027-07-08 --save thursday.yaml");
  return replan;
}

CLI::App* add_compare(CLI::App& app, CommandLine& line) {
  CLI::App* compare =
      app.add_subcommand("compare", "Zones side by side: what each needs, day by day");
  compare
      ->add_option("garden", line.compare.garden,
                   "Garden file (default: garden.yaml in this folder)")
      ->type_name("GARDEN");
  compare
      ->add_option("--from", line.compare_from,
                   "First day (default: the day after the last observed one)")
      ->check(is_date)
      ->type_name("DATE");
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
  compare->footer(
      "Examples:\n"
      "  runnel compare garden.yaml\n"
      "  runnel compare garden.yaml --between lawn \"sunny bed\"");
  return compare;
}

}  // namespace runnel::cli

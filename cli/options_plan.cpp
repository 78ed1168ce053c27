#include "command_line.hpp"
#include "option_checks.hpp"
#include "shared_options.hpp"

namespace runnel::cli {

CLI::App* add_plan(CLI::App& app, CommandLine& line) {
  PlanOptions& options = line.plan;
  CLI::App* plan = app.add_subcommand("plan", "This week's programme for the timer");
  add_value(*plan, "garden", line.gardens,
            "Garden file (default: garden.yaml in this folder); several are planned on one sheet",
            "GARDEN");
  add_from(*plan, line.plan_from);
  add_value(*plan, "--until", line.plan_until,
            "Last day of an absence: one programme that holds so long without a touch", "DATE")
      ->check(is_date);
  add_risk(*plan, options);
  add_value(*plan, "--explain", options.explain, "Show one zone's figures from weather to minutes",
            "ZONE");
  plan->add_flag("--doubts", options.doubts,
                 "Show what to measure first: each input in doubt, and the minutes it could change")
      ->excludes("--explain")
      ->excludes("--until");
  add_format(*plan, options.format, {"text", "csv", "json", "html", "ics"},
             "text, csv, json, html (a sheet to print or for a phone) or ics (a calendar)");
  add_display(*plan, options.display);
  add_calendar(*plan, options);
  add_value(*plan, "--after", options.after,
            "Carry on from this plan file: what ran, and the weather since, say how dry each zone "
            "is; of several gardens, the folder with their plan files",
            "PLAN");
  add_save(*plan, options,
           "Write the plan to this file as well; of several gardens, a folder for a file of each, "
           "named as its garden file is, or as the folder of a garden.yaml");
  add_value(*plan, "--threads", options.threads,
            "Gardens planned at once (default: one for each processor)", "N")
      ->check(CLI::Range(1, 1024));
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
  PlanOptions& options = line.replan;
  CLI::App* replan = app.add_subcommand(
      "replan", "Mid-week: what to change on the timer, run once by hand, or leave");
  add_garden(*replan, options.garden);
  add_value(*replan, "--after", options.after, "The plan file in force", "PLAN")->required();
  add_from(*replan, line.replan_from);
  add_risk(*replan, options);
  add_format(*replan, options.format, {"text", "csv", "json", "html", "ics"},
             "text, csv, json, html (a sheet to print or for a phone) or ics (a calendar)");
  add_display(*replan, options.display);
  add_calendar(*replan, options);
  add_save(*replan, options, "Write the new plan to this file as well");
  replan->footer(
      "Examples:\n"
      "  runnel replan garden.yaml --after week-27.yaml --from 2027-07-08\n"
      "  runnel replan garden.yaml --after week-27.yaml --from 2027-07-08 --save thursday.yaml");
  return replan;
}

CLI::App* add_compare(CLI::App& app, CommandLine& line) {
  CompareOptions& options = line.compare;
  CLI::App* compare =
      app.add_subcommand("compare", "Zones side by side: what each needs, day by day");
  add_garden(*compare, options.garden);
  add_from(*compare, line.compare_from);
  add_value(*compare, "--between", options.between,
            "Why one zone uses more than another, factor by factor", "ZONE ZONE")
      ->expected(2);
  add_format(*compare, options.format, {"text", "csv", "json", "html"},
             "text, csv, json or html (a page to print or to read on a phone)");
  add_display(*compare, options.display);
  compare->footer(
      "Examples:\n"
      "  runnel compare garden.yaml\n"
      "  runnel compare garden.yaml --between lawn \"sunny bed\"");
  return compare;
}

}  // namespace runnel::cli

#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include "commands.hpp"

namespace runnel::cli {

/// Where the words of the command line go; dates as typed.
struct CommandLine {
  NewOptions start;
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
  std::string shell;  ///< of completion
};

// Each adds its command with all options; `line` must outlive the app.
CLI::App* add_new(CLI::App& app, CommandLine& line);
CLI::App* add_plan(CLI::App& app, CommandLine& line);
CLI::App* add_replan(CLI::App& app, CommandLine& line);
CLI::App* add_compare(CLI::App& app, CommandLine& line);
CLI::App* add_et(CLI::App& app, CommandLine& line);
CLI::App* add_check(CLI::App& app, CommandLine& line);
CLI::App* add_plants(CLI::App& app, CommandLine& line);
CLI::App* add_audit(CLI::App& app, CommandLine& line);
CLI::App* add_log(CLI::App& app, CommandLine& line);
CLI::App* add_completion(CLI::App& app, CommandLine& line);
CLI::App* add_manual(CLI::App& app);

}  // namespace runnel::cli

#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include "commands.hpp"

namespace runnel::cli {

// Options that several commands have, each with its words and checks in one place.

/// An option that takes a value, or with no dashes a word that stands by itself; in the help `type`
/// stands for the value.
template <class T>
CLI::Option* add_value(CLI::App& command, const std::string& name, T& into, const std::string& says,
                       const std::string& type) {
  return command.add_option(name, into, says)->type_name(type);
}

/// The garden file, by default that of this folder.
void add_garden(CLI::App& command, std::string& garden);
/// --from: the first day; read once the whole line is.
void add_from(CLI::App& command, std::string& date);
/// --format, one of `forms`. @param says what stands for which, in words
void add_format(CLI::App& command, std::string& format, const std::vector<std::string>& forms,
                const std::string& says);
/// --units and --clock, for what people read.
void add_display(CLI::App& command, Display& display);
/// --risk, --save and --replace of a plan. @param saves what --save says
void add_risk(CLI::App& command, PlanOptions& options);
void add_save(CLI::App& command, PlanOptions& options, const std::string& saves);
/// What goes into a calendar file.
void add_calendar(CLI::App& command, PlanOptions& options);

}  // namespace runnel::cli

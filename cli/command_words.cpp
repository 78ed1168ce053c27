#include "command_words.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <sstream>
#include <string_view>

namespace runnel::cli {
namespace {

/// CLI11 keeps the words of IsMember in its description alone: "{text,csv,json}".
std::vector<std::string> choices_of(const CLI::Option& option) {
  const std::string type = option.get_type_name();
  const std::size_t opens = type.find('{');
  const std::size_t closes = type.find('}', opens);
  if (opens == std::string::npos || closes == std::string::npos) return {};
  std::istringstream list(type.substr(opens + 1, closes - opens - 1));
  std::vector<std::string> choices;
  for (std::string word; std::getline(list, word, ',');) choices.push_back(word);
  return choices;
}

OptionWords words_of(const CLI::Option& option) {
  OptionWords words{.names = {},
                    .type = {},
                    .says = option.get_description(),
                    .choices = choices_of(option),
                    .required = option.get_required(),
                    .repeats = option.get_items_expected_max() > 2};
  for (const std::string& name : option.get_snames()) words.names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) words.names.push_back("--" + name);
  // A validator's own name follows after a colon.
  const std::string type = option.get_type_name();
  if (option.get_items_expected_max() > 0) words.type = type.substr(0, type.find(':'));
  return words;
}

std::vector<OptionWords> options_of(const CLI::App& app) {
  std::vector<OptionWords> all;
  for (const CLI::Option* option : app.get_options()) all.push_back(words_of(*option));
  return all;
}

}  // namespace

bool OptionWords::takes_file() const {
  constexpr std::array<std::string_view, 6> files{"GARDEN", "PLAN",    "FILE",
                                                  "FOLDER", "WEATHER", "CANS"};
  return std::find(files.begin(), files.end(), type) != files.end();
}

CommandWords command_words(const CLI::App& command) {
  return {.name = command.get_name(),
          .says = command.get_description(),
          .footer = command.get_footer(),
          .options = options_of(command)};
}

ProgramWords words_of(const CLI::App& app) {
  ProgramWords program{.name = app.get_name(),
                       .says = app.get_description(),
                       .footer = app.get_footer(),
                       .options = options_of(app),
                       .commands = {}};
  for (const CLI::App* command : app.get_subcommands(nullptr))
    program.commands.push_back(command_words(*command));
  return program;
}

}  // namespace runnel::cli

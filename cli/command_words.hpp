#pragma once

#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace runnel::cli {

/// One option, or with no names a word that stands by itself.
struct OptionWords {
  std::vector<std::string> names;    ///< "--from"; a help flag has "-h" as well
  std::string type;                  ///< "DATE"; empty: a flag
  std::string says;                  ///< what it is for
  std::vector<std::string> choices;  ///< the only words it takes; empty: others
  bool required = false;
  bool repeats = false;  ///< a word that stands by itself may come more than once
  [[nodiscard]] bool takes_file() const;
};

struct CommandWords {
  std::string name, says, footer;
  std::vector<OptionWords> options;
};

/// All that a person can type, from the definitions by which the command line is read: what the
/// manual and the shells' completion are made of.
struct ProgramWords {
  std::string name, says, footer;
  std::vector<OptionWords> options;
  std::vector<CommandWords> commands;
};
[[nodiscard]] ProgramWords words_of(const CLI::App& app);

[[nodiscard]] CommandWords command_words(const CLI::App& command);

/// What --help prints, at most 80 columns wide but for examples.
[[nodiscard]] std::string help_of(const ProgramWords& program);
[[nodiscard]] std::string help_of(const CommandWords& command, const std::string& program);

/// The program's page of the manual, for man(1): roff with the man macros.
[[nodiscard]] std::string manual_page(const ProgramWords& program);

/// Completion for a shell, to be read by it. @param shell bash, zsh or fish.
[[nodiscard]] std::string completion(const ProgramWords& program, const std::string& shell);

}  // namespace runnel::cli

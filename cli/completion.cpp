#include <algorithm>
#include <string_view>

#include "command_words.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

std::vector<std::string> command_names(const ProgramWords& program) {
  std::vector<std::string> names;
  for (const CommandWords& command : program.commands) names.push_back(command.name);
  return names;
}

std::vector<std::string> option_names(const std::vector<OptionWords>& options) {
  std::vector<std::string> names;
  for (const OptionWords& option : options)
    names.insert(names.end(), option.names.begin(), option.names.end());
  return names;
}

const OptionWords* word_by_itself(const CommandWords& command) {
  const auto found = std::find_if(command.options.begin(), command.options.end(),
                                  [](const OptionWords& option) { return option.names.empty(); });
  return found == command.options.end() ? nullptr : &*found;
}

std::string escaped(std::string_view text, std::string_view special) {
  std::string safe;
  for (const char c : text) {
    if (special.find(c) != std::string_view::npos) safe += '\\';
    safe += c;
  }
  return safe;
}

/// Between single quotes, as bash and zsh read them.
std::string quoted_for_sh(std::string_view text) {
  std::string safe = "'";
  for (const char c : text) {
    if (c == '\'')
      safe += "'\\''";
    else
      safe += c;
  }
  return safe + "'";
}

std::string bash_answer(const OptionWords& option) {
  if (!option.choices.empty()) return "words='" + joined(option.choices, " ") + "'";
  return option.takes_file() ? "files=yes" : "return";
}

std::string bash_command(const CommandWords& command) {
  std::string values;
  for (const OptionWords& option : command.options)
    if (!option.names.empty() && !option.type.empty())
      values += "        " + joined(option.names, "|") + ") " + bash_answer(option) + " ;;\n";
  std::string otherwise = "words='" + joined(option_names(command.options), " ") + "'";
  if (const OptionWords* word = word_by_itself(command)) {
    if (word->takes_file()) otherwise += "; files=yes";
    if (!word->choices.empty()) otherwise += "\" " + joined(word->choices, " ") + "\"";
  }
  return "    " + command.name + ")\n      case $before in\n" + values + "        *) " + otherwise +
         " ;;\n      esac\n      ;;\n";
}

std::string bash(const ProgramWords& program) {
  std::string text =
      "# bash completion of runnel, made by: runnel completion bash\n"
      "_runnel() {\n"
      "  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} words= files= "
      "path\n"
      "  # --format=csv comes as three words\n"
      "  if [[ $word == = ]]; then word=\n"
      "  elif [[ $before == = ]]; then before=${COMP_WORDS[COMP_CWORD-2]}; fi\n"
      "  local command=${COMP_WORDS[1]}\n"
      "  (( COMP_CWORD > 1 )) || command=\n"
      "  COMPREPLY=()\n"
      "  case $command in\n"
      "    '') words='" +
      joined(command_names(program), " ") + " " + joined(option_names(program.options), " ") +
      "' ;;\n";
  for (const CommandWords& command : program.commands) text += bash_command(command);
  return text +
         "  esac\n"
         "  [[ $words ]] && COMPREPLY=($(compgen -W \"$words\" -- \"$word\"))\n"
         "  if [[ $files && $word != -* ]]; then\n"
         "    compopt -o filenames 2>/dev/null\n"
         "    COMPREPLY=()\n"
         "    while IFS= read -r path; do COMPREPLY+=(\"$path\"); done < <(compgen -f -- "
         "\"$word\")\n"
         "  fi\n"
         "}\n"
         "complete -F _runnel runnel\n";
}

/// What _arguments wants after the option: ":DATE:" and how to complete it.
std::string zsh_answer(const OptionWords& option) {
  if (option.type.empty()) return {};
  // An option for two words says so in its type: "ZONE ZONE".
  const std::size_t space = option.type.find(' ');
  std::string answer = ":" + option.type.substr(0, space) + ":";
  if (!option.choices.empty()) answer += "(" + joined(option.choices, " ") + ")";
  if (option.takes_file()) answer += "_files";
  return space == std::string::npos ? answer : answer + answer;
}

std::string zsh_option(const OptionWords& option) {
  if (option.names.empty()) return quoted_for_sh((option.repeats ? "*" : "1") + zsh_answer(option));
  const std::string says = "[" + escaped(option.says, "[]:\\") + "]";
  std::string text;
  for (const std::string& name : option.names)
    text += (text.empty() ? "" : " ") + quoted_for_sh(name + says + zsh_answer(option));
  return text;
}

std::string zsh(const ProgramWords& program) {
  std::string text =
      "#compdef runnel\n"
      "# zsh completion of runnel, made by: runnel completion zsh\n"
      "_runnel() {\n"
      "  local -a commands\n"
      "  commands=(\n";
  for (const CommandWords& command : program.commands)
    text += "    " + quoted_for_sh(command.name + ":" + escaped(command.says, ":\\")) + "\n";
  text +=
      "  )\n"
      "  if (( CURRENT == 2 )); then\n"
      "    _describe command commands\n"
      "    return\n"
      "  fi\n"
      "  local command=$words[2]\n"
      "  shift words\n"
      "  (( CURRENT-- ))\n"
      "  case $command in\n";
  for (const CommandWords& command : program.commands) {
    text += "    " + command.name + ")\n      _arguments";
    for (const OptionWords& option : command.options) text += " \\\n        " + zsh_option(option);
    text += "\n      ;;\n";
  }
  return text +
         "  esac\n"
         "}\n"
         "if [[ $funcstack[1] == _runnel ]]; then _runnel \"$@\"; else compdef _runnel runnel; "
         "fi\n";
}

std::string quoted_for_fish(std::string_view text) { return "'" + escaped(text, "'\\") + "'"; }

std::string fish_answer(const OptionWords& option) {
  if (option.type.empty()) return {};
  if (!option.choices.empty()) return " -x -a " + quoted_for_fish(joined(option.choices, " "));
  return option.takes_file() ? " -r -F" : " -x";
}

std::string fish_option(const OptionWords& option, const std::string& when) {
  std::string text = "complete -c runnel -n " + when;
  if (option.names.empty()) {
    if (!option.choices.empty())
      return text + " -a " + quoted_for_fish(joined(option.choices, " ")) + "\n";
    return option.takes_file() ? text + " -F\n" : "";
  }
  for (const std::string& name : option.names)
    text += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
  return text + fish_answer(option) + " -d " + quoted_for_fish(option.says) + "\n";
}

std::string fish(const ProgramWords& program) {
  std::string text =
      "# fish completion of runnel, made by: runnel completion fish\n"
      "complete -c runnel -f\n";
  for (const OptionWords& option : program.options)
    text += fish_option(option, "__fish_use_subcommand");
  for (const CommandWords& command : program.commands)
    text += "complete -c runnel -n __fish_use_subcommand -a " + command.name + " -d " +
            quoted_for_fish(command.says) + "\n";
  for (const CommandWords& command : program.commands)
    for (const OptionWords& option : command.options)
      text += fish_option(option, "'__fish_seen_subcommand_from " + command.name + "'");
  return text;
}

}  // namespace

std::string completion(const ProgramWords& program, const std::string& shell) {
  if (shell == "zsh") return zsh(program);
  return shell == "fish" ? fish(program) : bash(program);
}

}  // namespace runnel::cli

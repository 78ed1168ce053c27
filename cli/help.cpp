#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "command_words.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

constexpr std::size_t says_from = 22;

/// "  --from DATE         First day to plan", the words wrapped beside the name.
std::string entry(const std::string& name, const std::string& says) {
  std::string text = "  " + name;
  bool beside = text.size() + 2 <= says_from;
  if (!beside) text += "\n";
  for (const std::string& line : wrapped(says, sheet_width - static_cast<int>(says_from))) {
    text += std::string(beside ? says_from - text.size() : says_from, ' ') + line + "\n";
    beside = false;
  }
  return text;
}

std::string signature(const OptionWords& option) {
  const std::string names = joined(option.names);
  const std::string type = option.type + (option.repeats && option.names.empty() ? " ..." : "");
  return names + (names.empty() || type.empty() ? "" : " ") + type;
}

std::string entries(const std::vector<OptionWords>& options) {
  std::string text;
  for (const OptionWords& option : options)
    text += entry(signature(option),
                  option.says + (option.required && !option.names.empty() ? " (needed)" : ""));
  return text;
}

}  // namespace

std::string help_of(const ProgramWords& program) {
  std::string text =
      "Usage: " + program.name + " COMMAND [options]\n\n" + paragraph("", program.says);
  text += "\nCommands:\n";
  for (const CommandWords& command : program.commands) text += entry(command.name, command.says);
  return text + "\nOptions:\n" + entries(program.options) + "\n" + program.footer + "\n";
}

std::string help_of(const CommandWords& command, const std::string& program) {
  std::string usage = "Usage: " + program + " " + command.name;
  for (const OptionWords& option : command.options)
    if (option.names.empty())
      usage += " " + (option.required ? signature(option) : "[" + signature(option) + "]");
  return usage + " [options]\n\n" + paragraph("", command.says + ".") + "\n" +
         entries(command.options) + "\n" + command.footer + "\n";
}

}  // namespace runnel::cli

#include <sstream>
#include <string_view>

#include "command_words.hpp"
#include "text_table.hpp"

namespace runnel::cli {
namespace {

/// Plain text as roff prints it: no line of it is taken for a request.
std::string roff(std::string_view text) {
  std::string safe;
  for (const char c : text) {
    if ((c == '.' || c == '\'') && (safe.empty() || safe.back() == '\n')) safe += "\\&";
    if (c == '\\') {
      safe += "\\e";
    } else if (c == '-') {
      safe += "\\-";
    } else if (c == '\'') {
      safe += "\\(aq";
    } else {
      safe += c;
    }
  }
  return safe;
}

/// "--from DATE", bold and italic.
std::string signature(const OptionWords& option) {
  std::string names;
  for (const std::string& name : option.names)
    names += (names.empty() ? "\\fB" : ", \\fB") + roff(name) + "\\fR";
  if (option.type.empty()) return names;
  return names + (names.empty() ? "" : " ") + "\\fI" + roff(option.type) + "\\fR";
}

std::string says(const OptionWords& option) {
  const std::string& text = option.says;
  if (option.choices.empty() || text.find(option.choices.front()) != std::string::npos) return text;
  return text + ": " + joined(option.choices);
}

std::string entries(const std::vector<OptionWords>& options) {
  std::string text;
  for (const OptionWords& option : options)
    text += ".TP\n" + signature(option) + "\n" + roff(says(option)) + "\n";
  return text;
}

/// What is indented stands as it is; the rest is filled.
std::string footer(const std::string& words) {
  std::istringstream lines(words);
  std::string text;
  bool as_it_is = false;
  bool fresh = true;
  for (std::string line; std::getline(lines, line);) {
    const bool example = line.starts_with("  ");
    if (example != as_it_is) text += example ? ".PP\n.nf\n.RS\n" : ".RE\n.fi\n";
    as_it_is = example;
    if (line.empty()) {
      fresh = true;
      continue;
    }
    if (fresh) text += ".PP\n";
    fresh = false;
    text += roff(example ? line.substr(2) : line) + "\n";
  }
  return text + (as_it_is ? ".RE\n.fi\n" : "");
}

std::string section(const CommandWords& command, const std::string& program) {
  std::string text = ".SS " + command.name + "\n.B " + program + " " + command.name + "\n";
  for (const OptionWords& option : command.options)
    if (option.names.empty())
      text += std::string(option.required ? "" : "[") + "\\fI" + roff(option.type) + "\\fR" +
              (option.repeats ? " ..." : "") + (option.required ? "" : "]") + "\n";
  text += "[options]\n.PP\n" + roff(command.says) + ".\n";
  return text + entries(command.options) + footer(command.footer);
}

}  // namespace

std::string manual_page(const ProgramWords& program) {
  // The day on which this page was last looked over: the program reads no clock.
  std::string text =
      ".TH RUNNEL 1 2026-11-26 \"runnel " RUNNEL_VERSION "\" \"User Commands\"\n.SH NAME\n" +
      program.name + " \\- what to set on a garden\\(aqs watering timer\n.SH SYNOPSIS\n.B " +
      program.name + "\n.I COMMAND\n[options]\n.SH DESCRIPTION\n" + roff(program.says) +
      "\n.PP\nResults go to standard output, doubts and errors to standard error.\n" +
      ".SH OPTIONS\n" + entries(program.options).substr(0) + ".SH COMMANDS\n";
  for (const CommandWords& command : program.commands) text += section(command, program.name);
  text +=
      ".SH EXIT STATUS\n"
      ".TP\n0\nDone.\n"
      ".TP\n1\nDone, but the plan cannot keep every zone unharmed.\n"
      ".TP\n2\nWrong usage.\n"
      ".TP\n3\nUnusable input; nothing was written for it.\n"
      ".SH CAUTION\n"
      "Watch each valve run once after setting it: a timer sees no leak and no blocked dripper.\n"
      "Local watering rules come first; a line on drinking water needs its backflow preventer.\n";
  return text;
}

}  // namespace runnel::cli

#include "yaml_faults.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "runnel/units/finding.hpp"
#include "runnel/units/plain_text.hpp"
#include "yaml_tree.hpp"

namespace runnel {
namespace {

struct Explained {
  std::string_view message;  // yaml-cpp's
  std::string_view says, mend;
};

/// yaml-cpp's words for the slips people make, in words that help. @return the message as it is for
/// others.
Explained explanation_of(std::string_view message) {
  static constexpr std::array explanations = {
      Explained{"illegal map value", "a colon that makes no \"key: value\" here",
                "is the line indented like its neighbours, with a blank after each colon? A text "
                "with \": \" needs quotes"},
      Explained{"end of map not found", "this does not continue the entries above",
                "write \"key: value\", indented like its neighbours"},
      Explained{"end of sequence not found", "this does not continue the list above",
                "begin each entry with \"- \", indented like its neighbours"},
      Explained{"end of map flow not found", "a \"{\" before this is not closed",
                "write \"}\" after its last entry"},
      Explained{"end of sequence flow not found", "a \"[\" before this is not closed",
                "write \"]\" after its last entry"},
      Explained{"illegal flow end", "a closing bracket without its opening one",
                "leave it out, or write the other"},
      Explained{"illegal EOF in scalar", "a quote is not closed", "write the closing quote"},
      Explained{"illegal block entry", "a list entry (\"- \") where none can stand",
                "begin it on a line of its own"},
      Explained{"unknown token", "a text cannot begin with this sign",
                "put the text between double quotes"},
      Explained{"the referenced anchor is not defined",
                "references to another part of the file (\"*\") are not read",
                "write the value out here"},
      Explained{"bad file", "the file nests too deep", "is a closing bracket missing?"},
  };
  for (const Explained& explanation : explanations) {
    if (message.starts_with(explanation.message)) return explanation;
  }
  return {.message = message, .says = message, .mend = {}};
}

/// 0-based column of a tab in the line's indentation; npos when there is none.
std::size_t tab_in_indentation(std::string_view line) {
  const std::string_view indentation =
      line.substr(0, std::min(line.find_first_not_of(" \t"), line.size()));
  return indentation.find('\t');
}

}  // namespace

YamlLines::YamlLines(std::string_view text) : text_(text), continued_(text.size() + 1) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    continued_[i + 1] = continued_[i] + (is_continuation(text[i]) ? 1 : 0);
    if (text[i] == '\n') starts_.push_back(i + 1);
  }
}

std::size_t YamlLines::offset(const YAML::Mark& mark) const {
  const auto index = static_cast<std::size_t>(mark.line);
  if (index >= starts_.size()) return text_.size();
  return std::min(starts_[index] + static_cast<std::size_t>(mark.column), text_.size());
}

std::string_view YamlLines::line(std::size_t index) const {
  if (index >= starts_.size()) return {};
  const std::size_t begin = starts_[index];
  return text_.substr(begin, text_.find('\n', begin) - begin);
}

TextPosition YamlLines::position(const YAML::Mark& mark) const {
  if (mark.is_null()) return {.line = 0, .column = 0};
  const std::size_t end = offset(mark);
  const std::size_t begin =
      std::min(end, starts_[std::min(static_cast<std::size_t>(mark.line), starts_.size() - 1)]);
  return {.line = mark.line + 1, .column = mark.column + 1 - (continued_[end] - continued_[begin])};
}

bool YamlLines::quote_stays_open(const YAML::Mark& mark) const {
  const std::size_t begin = offset(mark);
  if (begin >= text_.size()) return false;
  const char quote = text_[begin];
  if (quote != '"' && quote != '\'') return false;
  for (std::size_t i = begin + 1; i < text_.size(); ++i) {
    if (text_[i] == '\\' && quote == '"') {
      ++i;
    } else if (text_[i] == quote) {
      // Two single quotes stand for one inside.
      const bool doubled = quote == '\'' && i + 1 < text_.size() && text_[i + 1] == quote;
      if (!doubled) return false;
      ++i;
    }
  }
  return true;
}

Finding yaml_error(std::string_view name, TextPosition at, std::string says, std::string mend) {
  return {.kind = Finding::Kind::error,
          .at = {.file = std::string(name), .line = at.line, .column = at.column, .key = {}},
          .says = std::move(says),
          .mend = std::move(mend)};
}

Finding explained(const YAML::Exception& fault, const YamlLines& lines, std::string_view name) {
  const TextPosition at = lines.position(fault.mark);
  if (at.line > 0) {
    const std::size_t tab = tab_in_indentation(lines.line(static_cast<std::size_t>(at.line) - 1));
    if (tab != std::string_view::npos) {
      return yaml_error(name, {.line = at.line, .column = static_cast<int>(tab) + 1},
                        "a tab in the indentation", "indent with blanks");
    }
  }
  const Explained explanation = explanation_of(fault.msg);
  return yaml_error(name, at, "this is not YAML: " + std::string(explanation.says),
                    std::string(explanation.mend));
}

std::optional<Finding> unreadable_yaml(std::string_view text, std::string_view name) {
  if (text.size() > longest_yaml) {
    return yaml_error(name, {.line = 0, .column = 0},
                      "the file is larger than 1 MiB: no garden file is", "");
  }
  const std::size_t binary = first_binary_byte(text);
  if (binary < text.size()) {
    return yaml_error(name, position_of(text, binary), "this is no text in UTF-8",
                      "save the file as plain text, UTF-8");
  }
  const auto is_control = [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return (byte < 0x20U && c != '\t' && c != '\n' && c != '\r') || byte == 0x7FU;
  };
  const auto control = std::find_if(text.begin(), text.end(), is_control);
  if (control != text.end()) {
    return yaml_error(name, position_of(text, static_cast<std::size_t>(control - text.begin())),
                      "a control character that no text needs", "delete it");
  }
  return std::nullopt;
}

}  // namespace runnel

#include "runnel/units/finding.hpp"

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace runnel {
namespace {

std::string_view word_for(Finding::Kind kind) {
  switch (kind) {
    case Finding::Kind::error:
      return "error";
    case Finding::Kind::doubt:
      return "doubt";
    case Finding::Kind::remark:
      return "remark";
  }
  return "error";
}

std::string place_text(const Place& at) {
  std::string text = at.file;
  if (at.line <= 0) return text;
  // Without a file the bare number would not say what it counts.
  text += text.empty() ? "line " : ":";
  text += std::to_string(at.line);
  if (at.column > 0) text += ":" + std::to_string(at.column);
  return text;
}

std::string joined(const std::vector<Finding>& findings) {
  std::string text;
  for (const Finding& finding : findings) {
    if (!text.empty()) text += '\n';
    text += to_text(finding);
  }
  return text;
}

bool is_continuation(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

}  // namespace

std::string to_text(const Finding& finding) {
  std::string text = place_text(finding.at);
  if (!text.empty()) text += ": ";
  text += word_for(finding.kind);
  text += ": ";
  if (!finding.at.key.empty()) text += finding.at.key + ": ";
  text += finding.says;
  if (!finding.mend.empty()) text += " (" + finding.mend + ")";
  return text;
}

std::string quoted(std::string_view text) {
  constexpr std::size_t most_bytes = 60;
  const bool cut = text.size() > most_bytes;
  if (cut) {
    std::size_t end = most_bytes;
    while (end > 0 && is_continuation(text[end])) --end;
    text = text.substr(0, end);
  }
  std::string result = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    result += byte < 0x20U || byte == 0x7FU ? '?' : c;
  }
  result += cut ? "...\"" : "\"";
  return result;
}

bool has_error(const std::vector<Finding>& findings) {
  return std::any_of(findings.begin(), findings.end(),
                     [](const Finding& finding) { return finding.kind == Finding::Kind::error; });
}

InputError::InputError(std::vector<Finding> findings)
    : std::runtime_error(joined(findings)), findings_(std::move(findings)) {}

InputError::InputError(Finding finding) : InputError(std::vector<Finding>{std::move(finding)}) {}

}  // namespace runnel

#include "print.hpp"

#include <algorithm>
#include <ostream>
#include <string>
#include <string_view>

#include "text_table.hpp"

namespace runnel::cli {
namespace {

/// "garden.yaml:5:13: doubt:", which stays in one piece.
std::string place_and_kind(const Finding& finding) {
  Finding alone{.kind = finding.kind, .at = finding.at, .says = {}, .mend = {}};
  alone.at.key.clear();
  std::string text = to_text(alone);
  text.erase(text.find_last_not_of(' ') + 1);
  return text;
}

std::string in_lines(const Finding& finding) {
  constexpr std::string_view indent = "    ";
  std::string lines = printable(place_and_kind(finding));
  int used = display_width(lines);
  const std::string whole = printable(to_text(finding));
  std::string_view text = std::string_view(whole).substr(lines.size() + 1);
  while (!text.empty()) {
    const std::size_t blank = std::min(text.find(' '), text.size());
    const std::string_view word = text.substr(0, blank);
    text.remove_prefix(std::min(blank + 1, text.size()));
    const int width = display_width(word);
    if (used + 1 + width <= sheet_width) {
      lines += ' ';
      used += 1 + width;
    } else {
      lines.append("\n").append(indent);
      used = static_cast<int>(indent.size()) + width;
    }
    lines += word;
  }
  return lines + "\n";
}

}  // namespace

void print_findings(const std::vector<Finding>& findings, std::ostream& err) {
  for (const Finding& finding : findings) err << printable(to_text(finding)) << '\n';
}

void print_wrapped(const std::vector<Finding>& findings, std::ostream& out) {
  for (const Finding& finding : findings) out << in_lines(finding);
}

void print_doubts(const std::vector<Finding>& findings, std::ostream& err) {
  std::vector<Finding> doubts;
  for (const Finding& finding : findings)
    if (finding.kind != Finding::Kind::remark) doubts.push_back(finding);
  print_findings(doubts, err);
}

}  // namespace runnel::cli

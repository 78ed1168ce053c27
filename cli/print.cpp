#include "print.hpp"

#include <ostream>

#include "text_table.hpp"

namespace runnel::cli {

void print_findings(const std::vector<Finding>& findings, std::ostream& err) {
  for (const Finding& finding : findings) err << printable(to_text(finding)) << '\n';
}

void print_doubts(const std::vector<Finding>& findings, std::ostream& err) {
  std::vector<Finding> doubts;
  for (const Finding& finding : findings)
    if (finding.kind != Finding::Kind::remark) doubts.push_back(finding);
  print_findings(doubts, err);
}

}  // namespace runnel::cli

#include "print.hpp"

#include <ostream>

#include "text_table.hpp"

namespace runnel::cli {

void print_findings(const std::vector<Finding>& findings, std::ostream& err) {
  for (const Finding& finding : findings) err << printable(to_text(finding)) << '\n';
}

}  // namespace runnel::cli

#pragma once

#include <iosfwd>
#include <vector>

#include "runnel/units/finding.hpp"

namespace runnel::cli {

/// One line each; what a terminal could take for a command of its own is left out.
void print_findings(const std::vector<Finding>& findings, std::ostream& err);

/// The same in lines of 80 columns, those after the first of each indented: "garden.yaml:5:13:
/// doubt:" stays on the first, and no word is cut.
void print_wrapped(const std::vector<Finding>& findings, std::ostream& out);

/// The errors and doubts among them; remarks are for `check` to list.
void print_doubts(const std::vector<Finding>& findings, std::ostream& err);

}  // namespace runnel::cli

#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "columns.hpp"
#include "runnel/units/column.hpp"
#include "runnel/units/csv.hpp"
#include "runnel/units/finding.hpp"
#include "variables.hpp"

namespace runnel {

/// One column of the file, in the variable's own unit. [table rows]
struct FileColumn {
  Variable variable;
  int index;
  CsvCell header;
  std::string unit;  ///< of the file
  bool unit_given = false;
  bool unit_doubted = false;  ///< none given, and another is likely
  Column values;              ///< NaN where missing or faulty
};

/// Reads and checks one column: unit, numbers, the limits of the variable. Faults are told once a
/// kind.
[[nodiscard]] FileColumn read_values(const CsvTable& table, const ValueColumn& chosen, Step step,
                                     std::string_view file, std::vector<Finding>& findings);

/// Tmin above Tmax, and columns whose ordinary values are hardly of this world.
void check_together(const CsvTable& table, const std::vector<FileColumn>& columns, Step step,
                    std::string_view file, std::vector<Finding>& findings);

/// Doubts columns of which no unit is written beside temperatures in degF, and marks them.
void doubt_missing_units(std::vector<FileColumn>& columns, Step step, std::string_view file,
                         std::vector<Finding>& findings);

}  // namespace runnel
